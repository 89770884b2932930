"""The commands behind the command line, one module each."""

__all__ = ["exit_codes", "findings_print", "first_job", "line", "memory", "shared"]
