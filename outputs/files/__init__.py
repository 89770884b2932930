"""Writers: one finished sheet to one file, whole or not at all."""
