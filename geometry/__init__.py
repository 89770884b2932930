"""What the detail is: millimetres, newtons, degrees. Knows no paper and writes no file."""

__all__ = ["detail", "findings", "job", "ledger", "outline", "plate", "rules", "sizing", "workings"]
