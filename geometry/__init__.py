"""What the detail is: millimetres, newtons, degrees. Knows no paper and writes no file."""
