"""How the detail is shown: sheets, files, the command line. Knows no rule of the trade."""

__all__ = ["command_line", "commands", "drawing", "files", "record", "sheet", "sheets", "version"]
