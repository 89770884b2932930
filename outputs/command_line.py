"""The command line: ``fritline draw JOB`` and ``fritline check JOB``.

Terms
-----
stop
    A request to end, by the stop key or by the system: temporary files are cleared away and the exit code is 130.
fault
    What was not foreseen: one line, the details in a file of their own, exit code 3; never a traceback.
short memory
    The system gives no more memory: exit code 3 with words, wherever it is noticed, in a library of C too.

Nothing but what Python has loaded already is imported before a stop can be met; the commands stand in ``outputs.commands.line``.
"""

from __future__ import annotations

import os
import signal
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import Any

_SHORT = "not enough memory: the system gives this program no more; no file was left half-written"


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one command and leave with its exit code."""
    stops = _Stops()
    try:
        code = stops.code_of(arguments)
    except MemoryError:
        code = short_of_memory()
    finally:
        stops.leaving = True
        if arguments is not None:  # another program goes on after this run
            stops.restore()
    sys.exit(code)


class _Stops:
    """Requests to stop: the first one ends the work, a later one does not disturb the clearing away."""

    def __init__(self) -> None:
        self.met = self.leaving = False
        self._before: dict[int, Any] = {}

    def _meet(self, _number: int, _frame: object) -> None:
        first, self.met = not self.met, True
        if first and not self.leaving:
            sys.unraisablehook = lambda _what: None  # met where nothing can be raised: the run is told of it at its end
            raise KeyboardInterrupt

    def _listen(self) -> None:
        for name in ("SIGINT", "SIGTERM", "SIGHUP"):
            request = getattr(signal, name, None)
            if request is None or signal.getsignal(request) is signal.SIG_IGN:  # started with it ignored: it stays so
                continue
            try:
                self._before[request] = signal.signal(request, self._meet)
            except ValueError:
                return  # not in the main thread: Python allows no handler there

    def restore(self) -> None:
        """Hand the requests back to whom they went before."""
        sys.unraisablehook = sys.__unraisablehook__
        for request, handler in self._before.items():
            signal.signal(request, handler)

    def code_of(self, arguments: Sequence[str] | None) -> int:
        """The exit code of a run."""
        try:
            self._listen()
            code = _run(arguments)
        except KeyboardInterrupt:
            self.met = True
            code = 0
        except Exception as error:
            # a library may answer a stop in the middle of its import with an error of its own
            code = 0 if self.met else _told(error)
        self.leaving = True
        return _stopped() if self.met else code


def _run(arguments: Sequence[str] | None) -> int:
    """The command itself."""
    _open_streams()
    place = _in_the_way("geometry")
    if place:
        from outputs.commands.exit_codes import WRONG
        from outputs.launcher import in_the_way

        sentence = in_the_way("geometry", place)
        _say(lambda: print(sentence, file=sys.stderr))
        return WRONG
    # one thread: sums are added in one order on every computer, and no memory goes to threads that have nothing to do
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from outputs.commands.exit_codes import DONE
    from outputs.commands.line import commands

    code = commands.main(args=None if arguments is None else list(arguments), prog_name="fritline", standalone_mode=False)
    return code if isinstance(code, int) else DONE


def _in_the_way(name: str) -> str:
    """Where Python would find a package of ours that is not ours; empty where it is the one beside this package."""
    from importlib.util import find_spec

    spec = find_spec(name)
    places = (
        [os.path.realpath(place) for place in (spec.submodule_search_locations or [spec.origin or ""])] if spec else ["nowhere"]
    )
    ours = os.path.join(os.path.dirname(os.path.dirname(os.path.realpath(__file__))), name)
    return "" if places[0] == ours else places[0]


def _open_streams() -> None:
    """Standard streams that were closed lead nowhere, so that no file takes their place; a sign a stream lacks is no fault."""
    if sys.stdin is None or sys.stdout is None or sys.stderr is None:
        while (descriptor := os.open(os.devnull, os.O_RDWR)) <= 2:
            pass
        os.close(descriptor)
        sys.stdout = sys.stdout or os.fdopen(os.dup(1), "w", encoding="utf-8")
        sys.stderr = sys.stderr or os.fdopen(os.dup(2), "w", encoding="utf-8")
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that lacks a sign shows a question mark


def _stopped() -> int:
    from outputs.commands.exit_codes import STOPPED

    _say(lambda: print("stopped; no file was left half-written", file=sys.stderr))
    return STOPPED


def short_of_memory() -> int:
    """Say that the memory does not suffice, with as little memory as that takes; the exit code of a fault."""
    try:
        os.write(2, f"fritline: {_SHORT}\n".encode("ascii"))
    except OSError:
        return 3  # where it cannot be said, the exit code has to tell
    return 3


def _told(error: Exception) -> int:
    """Say what went wrong; the exit code."""
    from outputs.commands.memory import memory_is_short

    if memory_is_short(error):
        return short_of_memory()
    import click

    from outputs.commands.exit_codes import FAULT

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


__all__ = ["main", "short_of_memory"]
