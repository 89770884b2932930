"""How the detail is shown: sheets, files, the command line. Knows no rule of the trade."""
