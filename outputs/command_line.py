"""The command line: ``fritline draw JOB`` and ``fritline check JOB``.

Terms
-----
stop
    A request to end, by the stop key or by the system: temporary files are cleared away and the exit code is 130.
fault
    What was not foreseen: one line, the details in a file of their own, exit code 3; never a traceback.

Nothing but the standard library is imported before a stop can be met; the commands stand in ``outputs.commands.line``.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable, Sequence

from outputs.commands.exit_codes import DONE, FAULT, STOPPED


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one command and leave with its exit code."""
    stops: list[int] = []

    def stop(number: int, _frame: object) -> None:
        stops.append(number)
        raise KeyboardInterrupt

    if threading.current_thread() is threading.main_thread():  # elsewhere Python allows no handler
        for request in (signal.SIGINT, signal.SIGTERM):
            if signal.getsignal(request) is not signal.SIG_IGN:  # started with it ignored: it stays so
                signal.signal(request, stop)
    try:
        _open_streams()
        from outputs.commands.line import commands

        code = commands.main(args=None if arguments is None else list(arguments), prog_name="fritline", standalone_mode=False)
    except KeyboardInterrupt:
        code = _stopped()
    except Exception as error:
        # a library may answer a stop in the middle of its import with an error of its own
        code = _stopped() if stops else _told(error)
    sys.exit(code if isinstance(code, int) else DONE)


def _open_streams() -> None:
    """Standard streams that were closed lead nowhere, so that no file takes their place; a sign a stream lacks is no fault."""
    if sys.stdout is None or sys.stderr is None:
        while (descriptor := os.open(os.devnull, os.O_RDWR)) <= 2:
            pass
        os.close(descriptor)
        sys.stdout = sys.stdout or os.fdopen(os.dup(1), "w", encoding="utf-8")
        sys.stderr = sys.stderr or os.fdopen(os.dup(2), "w", encoding="utf-8")
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that lacks a sign shows a question mark


def _stopped() -> int:
    _say(lambda: print("stopped; no file was left half-written", file=sys.stderr))
    return STOPPED


def _told(error: Exception) -> int:
    """Say what went wrong; the exit code."""
    import click

    if isinstance(error, click.Abort):
        return _stopped()
    if isinstance(error, click.ClickException):
        _say(error.show)
        return error.exit_code
    sentence = _fault(error)
    _say(lambda: print(sentence, file=sys.stderr))
    return FAULT


def _say(show: Callable[[], object]) -> None:
    """Say something on the standard error; where it cannot be said, the exit code has to tell."""
    try:
        show()
        sys.stderr.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stderr.fileno())  # so that leaving does not flush in vain again


def _fault(error: Exception) -> str:
    import tempfile
    import traceback

    details = "".join(traceback.format_exception(error))
    kind = type(error).__name__
    try:
        with tempfile.NamedTemporaryFile("w", prefix="fritline-fault-", suffix=".txt", delete=False, encoding="utf-8") as stream:
            stream.write(details)
            where = f"the details are in {stream.name}"
    except OSError:
        where = "the details could not be saved"
    return f"fritline: this is a fault of the program, not of your job file ({kind}); {where}"


if __name__ == "__main__":
    main()
