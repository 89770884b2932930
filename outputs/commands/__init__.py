"""The commands behind the command line, one module each."""
