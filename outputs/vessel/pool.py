"""The panes of an issue given out to several processes: each draws one at a time and hands it back; the first process alone writes.

Terms
-----
worker
    A process that draws panes. It is started anew, not split off, so that it holds nothing of the first one; it writes no file. It takes no
    notice of a request to stop: the first process is asked, and ends it. Where the first one is gone, it leaves.

The memory of a run does not grow with the number of its panes: a worker gets its next pane when the one before is taken from it, and
whoever draws lets go of what is kept of a pane when it is drawn.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.vessel.one_pane import Asked, Broken, Result, pane_drawn

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import SpawnProcess

    from geometry.job import Job

_STOPS = ("SIGINT", "SIGTERM", "SIGHUP")


def cores() -> int:
    """How many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0)) or 1
    return os.cpu_count() or 1


def panes_drawn(job: Job, indices: Sequence[int], asked: Asked, *, workers: int) -> Iterator[tuple[int, Result]]:
    """Every pane of the job at the indices, drawn: its index and what became of it, in the order in which they are done.

    One worker, or one pane, is this process itself. However the iterator ends, no worker is left.
    """
    if min(workers, len(indices)) <= 1:
        for count, index in enumerate(indices):
            result = pane_drawn(job, job.panes[index], asked)
            _let_go_of_pane(first=count == 0)
            yield index, result
            del result
        return
    pool = _Pool(pickle.dumps((job, asked)))
    try:
        yield from pool.each(indices, min(workers, len(indices)))
    finally:
        pool.end()


@dataclass
class _Worker:
    process: SpawnProcess
    line: Connection
    index: int  # of the pane that it draws


class _Pool:
    """The workers of one run."""

    def __init__(self, task: bytes) -> None:
        self._task = task
        self._workers: list[_Worker] = []

    def each(self, indices: Sequence[int], count: int) -> Iterator[tuple[int, Result]]:
        """Every pane with what became of it."""
        from multiprocessing.connection import wait

        waiting = deque(indices)
        for _ in range(count):
            self._start(waiting.popleft())
        while self._workers:
            lines = {id(each.line): each for each in self._workers}
            for line in wait([each.line for each in self._workers]):
                worker = lines[id(line)]
                index, result = worker.index, self._taken(worker)
                if worker in self._workers and waiting:
                    worker.index = waiting.popleft()
                    worker.line.send_bytes(pickle.dumps(worker.index))
                elif worker in self._workers:
                    self._let_go(worker)
                elif waiting:
                    self._start(waiting.popleft())
                yield index, result

    def _start(self, index: int) -> None:
        from multiprocessing import get_context

        context = get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(target=_work, args=(theirs,), name=f"fritline-{index}", daemon=True)
        with _stops_held():
            process.start()
            self._workers.append(_Worker(process, ours, index))
        theirs.close()
        with suppress(OSError):  # it is gone already: the next look at its line tells
            ours.send_bytes(self._task)
            ours.send_bytes(pickle.dumps(index))

    def _taken(self, worker: _Worker) -> Result:
        """What a worker hands back; of one that ended by itself, that it did."""
        try:
            result: Result = pickle.loads(worker.line.recv_bytes())
        except (EOFError, OSError):
            self._let_go(worker)
            code = worker.process.exitcode
            killed = code is not None and code == -getattr(signal, "SIGKILL", 9)
            if killed:
                return Broken(
                    "MemoryError", "the process that drew it was killed, as a system does that has no memory left", memory=True
                )
            return Broken("EOFError", f"the process that drew it ended with exit code {code}")
        return result

    def _let_go(self, worker: _Worker) -> None:
        self._workers.remove(worker)
        worker.line.close()  # it sees the end of its work
        worker.process.join()

    def end(self) -> None:
        """End every worker: they hold nothing that could be left half done."""
        for worker in self._workers:
            with suppress(OSError, ValueError):
                worker.process.kill()
        for worker in self._workers:
            worker.process.join()
            worker.line.close()
        self._workers.clear()


@contextmanager
def _stops_held() -> Iterator[None]:
    """Requests to stop wait meanwhile; a process that is started here goes on holding them."""
    mask = getattr(signal, "pthread_sigmask", None)
    if mask is None:  # Windows
        yield
        return
    held = {getattr(signal, name) for name in _STOPS}
    before = mask(signal.SIG_BLOCK, held)
    try:
        yield
    finally:
        mask(signal.SIG_SETMASK, before)


def _work(line: Connection) -> None:
    """Draw what is asked for until the line ends."""
    _leave_with_the_first()
    try:
        job, asked = pickle.loads(line.recv_bytes())
        first = True
        while True:
            index = pickle.loads(line.recv_bytes())
            result = pane_drawn(job, job.panes[index], asked)
            line.send_bytes(pickle.dumps(result))
            del result
            _let_go_of_pane(first=first)
            first = False
    except (EOFError, OSError, KeyboardInterrupt):
        pass  # no more to do, or the first process is gone
    sys.stdout.flush()
    os._exit(0)  # nothing to tidy: what libraries do at the end of a process takes time


def _let_go_of_pane(*, first: bool) -> None:
    """Make room for the next pane; after the first one everything that a pane needs is imported."""
    from outputs.commands.memory import forget_pane, spare_imports

    forget_pane()
    if first:
        spare_imports()


def _leave_with_the_first() -> None:
    """End this process as soon as the first one is gone, in the middle of a pane too."""
    from multiprocessing import parent_process
    from multiprocessing.connection import wait

    first = parent_process()
    if first is None:
        return

    def watch() -> None:
        wait([first.sentinel])
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


__all__ = ["cores", "panes_drawn"]
