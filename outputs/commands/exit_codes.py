"""The exit codes of every command.

Terms
-----
exit code
    0 done, nothing fails; 1 done, and something fails; 2 the input is wrong or the result cannot be written, nothing was written;
    3 a fault of the program itself; 130 stopped by the user.
"""

from __future__ import annotations

DONE, FAILS, WRONG, FAULT, STOPPED = 0, 1, 2, 3, 130


__all__ = ["DONE", "FAILS", "FAULT", "STOPPED", "WRONG"]
