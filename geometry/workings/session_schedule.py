"""Who does what when: the panes of a session laid over a crew and its guns, minute by minute.

Terms
-----
block
    Steps of a chain that one person does without a pause: nothing between them says how long the first may wait for the next.
placing
    Bead, lift, align and press: one follows the other without a pause, the open time runs.
longest wait
    From the end of a wipe to the end of its priming, and from the end of priming to the last press. Where none is given, the wait is no
    longer than the pane's own plan asks for: a step waits only where somebody said how long it may.
list scheduling
    The panes in their given order, each as early as the people and guns that the panes before it leave free allow; what would wait too
    long for a later step is begun later.

Times are minutes from the start of the session, as in ``rules.day.time_plan``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from geometry.rules.day.time_plan import Step, StepKind, on_clock
from geometry.workings.quantities import whole_sum

SLACK = 1e-6  # min
_ROUNDS = 2000
"""Rounds in which a pane finds its place; after them it begins when all before it are done, which always keeps its waits."""


@dataclass(frozen=True, slots=True)
class PaneWork:
    """What one pane asks of crew and guns: its plan alone, and its longest waits.

    ``ready`` are the steps of frame and glass as they run alone, ``together`` climate check, wait for the clock, bead, lift, align and
    press; ``clock_step`` and ``begins`` (minutes after midnight) say when a bead may start. ``lifting`` people lift, ``hands`` do all else
    that is done together; ``wipe_longest`` and ``primer_longest`` by frame and glass, None where none is given.
    """

    code: str
    ready: tuple[Step, ...]
    together: tuple[Step, ...]
    clock_step: float
    begins: float
    guns: int = 1
    hands: int = 2
    lifting: int = 2
    wipe_longest: tuple[float | None, float | None] = (None, None)
    primer_longest: tuple[float | None, float | None] = (None, None)

    @property
    def people(self) -> int:
        """The most people that it takes at the same time."""
        return max(self.hands, self.lifting)

    def taken_by(self, step: Step) -> int:
        """How many people a step takes."""
        if step.flash:
            return 0
        if step.chain != "both":
            return 1
        return self.lifting if step.kind is StepKind.LIFT else self.hands


@dataclass(frozen=True, slots=True)
class Block:
    """Steps that one person does without a pause; ``flash`` is what they have to wait for afterwards, min."""

    chain: Literal["frame", "glass"]
    steps: tuple[Step, ...]
    flash: tuple[Step, ...]

    @property
    def length(self) -> float:
        """Minutes of work."""
        return self.steps[-1].end - self.steps[0].start

    @property
    def waits(self) -> float:
        """Minutes of flash-off after it."""
        return math.fsum(step.length for step in self.flash)

    def at(self, start: float) -> tuple[Step, ...]:
        """Its steps, begun at that minute."""
        moved = start - self.steps[0].start
        return tuple(replace(step, start=step.start + moved) for step in (*self.steps, *self.flash))


class Free:
    """People and guns that are still free, minute by minute."""

    def __init__(self, people: int, guns: int) -> None:
        self._most = (people, guns)
        self._taken: list[tuple[float, float, int, int]] = []  # from, to, people, guns

    def take(self, start: float, end: float, people: int, guns: int = 0) -> None:
        """Somebody is busy from then to then."""
        if end > start + SLACK and (people or guns):
            self._taken.append((start, end, people, guns))

    def copy(self) -> Free:
        """The same once more."""
        other = Free(*self._most)
        other._taken = list(self._taken)
        return other

    @property
    def until(self) -> float:
        """When all that is taken so far is done."""
        return max((end for _, end, _, _ in self._taken), default=0.0)

    def earliest(self, after: float, wanted: Sequence[tuple[float, float, int, int]]) -> float:
        """The first minute from ``after`` on at which all of ``wanted`` finds people and guns: (offset, length, people, guns) each."""
        now = after
        while True:
            later = max(
                (self._clear(now + offset, length, people, guns) - offset for offset, length, people, guns in wanted), default=now
            )
            if later <= now + SLACK:
                return now
            now = later

    def _clear(self, start: float, length: float, people: int, guns: int) -> float:
        """``start``, or the end of what stands in the way of it first."""
        end = start + length
        over = [each for each in self._taken if each[0] < end - SLACK and each[1] > start + SLACK]
        if length <= SLACK or not over:
            return start
        for moment in (start, *(each[0] for each in over if each[0] > start)):
            now = [each for each in over if each[0] <= moment + SLACK and each[1] > moment + SLACK]
            if (
                people + whole_sum(each[2] for each in now) > self._most[0]
                or guns + whole_sum(each[3] for each in now) > self._most[1]
            ):
                return min(each[1] for each in now)
        return start


def scheduled(panes: Sequence[PaneWork], *, people: int, guns: int) -> tuple[tuple[Step, ...] | None, ...]:
    """The steps of each pane by the clock of the session; None for a pane that takes more people or guns than there are.

    The place of a pane hangs on those before it alone.
    """
    works = tuple(panes)
    return tuple(_laid(works[: place + 1], people, guns)[0] for place in range(len(works)))


def last_scheduled(panes: Sequence[PaneWork], *, people: int, guns: int) -> tuple[Step, ...] | None:
    """The steps of the last pane alone, as :func:`scheduled` has them."""
    return _laid(tuple(panes), people, guns)[0]


@lru_cache(maxsize=256)
def _laid(panes: tuple[PaneWork, ...], people: int, guns: int) -> tuple[tuple[Step, ...] | None, Free]:
    """The steps of the last of some panes, and what is free after it: the panes before it are laid once."""
    before = _laid(panes[:-1], people, guns)[1] if len(panes) > 1 else Free(people, guns)
    pane = panes[-1]
    if pane.people > people or pane.guns > guns:
        return None, before
    steps, free = _placed(pane, before), before.copy()
    for step in steps:
        free.take(step.start, step.end, pane.taken_by(step), pane.guns if step.kind is StepKind.BEAD else 0)
    return steps, free


def blocks_of(pane: PaneWork) -> tuple[Block, ...]:
    """The work of both chains in blocks, in the order in which they begin when the pane is alone.

    The goods-in check is a block of its own: nothing is on the glass yet.
    """
    found: list[Block] = []
    for chain in ("frame", "glass"):
        work: list[Step] = []
        flash: list[Step] = []
        for step in (each for each in pane.ready if each.chain == chain):
            if work and not step.flash and (flash or work[-1].kind is StepKind.GOODS_IN):
                found.append(Block(chain, tuple(work), tuple(flash)))
                work, flash = [], []
            (flash if step.flash else work).append(step)
        found.append(Block(chain, tuple(work), tuple(flash)))
    return tuple(sorted(found, key=lambda block: block.steps[0].start))


def _placed(pane: PaneWork, free: Free) -> tuple[Step, ...]:
    """The pane as early as it goes; what would wait too long is begun later, until nothing does."""
    blocks = blocks_of(pane)
    least = [0.0] * len(blocks)
    for _ in range(_ROUNDS):
        steps = _forward(pane, blocks, least, free)
        late = list(_too_long(pane, blocks, steps))
        if not late:
            return steps
        for block, by in late:
            start = next(each.start for each in steps if each.chain == block.chain and each.kind is block.steps[0].kind)
            place = blocks.index(block)
            least[place] = max(least[place], start + by)
    step = pane.clock_step or 1.0
    whole = math.ceil(free.until / step) * step  # as if alone, when all before it are done, on the same mark of the clock
    return tuple(replace(step, start=step.start + whole) for step in (*pane.ready, *pane.together))


def _forward(pane: PaneWork, blocks: Sequence[Block], least: Sequence[float], free: Free) -> tuple[Step, ...]:
    """Every block as early as its chain, its least start and the crew allow, then what is done together."""
    done: list[Step] = []
    own, ends = free.copy(), {"frame": 0.0, "glass": 0.0}
    for block, at_least in zip(blocks, least, strict=True):
        start = own.earliest(max(ends[block.chain], at_least), [(0.0, block.length, 1, 0)])
        own.take(start, start + block.length, 1)
        done += block.at(start)
        ends[block.chain] = start + block.length + block.waits
    return (*done, *_together(pane, max(ends.values()), own))


def _together(pane: PaneWork, ready: float, free: Free) -> tuple[Step, ...]:
    """Climate check, bead on the clock, lift, align, press, from when both faces are ready."""
    check = pane.together[0]
    placing = [step for step in pane.together[1:] if step.kind is not StepKind.WAIT_FOR_CLOCK]
    first = placing[0].start
    wanted = [
        (step.start - first, step.length, pane.taken_by(step), pane.guns if step.kind is StepKind.BEAD else 0) for step in placing
    ]
    now = ready
    while True:
        start = free.earliest(now, [(0.0, check.length, pane.hands, 0)])
        bead = on_clock(start + check.length, begins=pane.begins, step=pane.clock_step)
        at = free.earliest(bead, wanted)
        if at <= bead + SLACK:
            break
        at = on_clock(at, begins=pane.begins, step=pane.clock_step)
        now = max(start, at - check.length - max(0.0, pane.clock_step - 1.0))  # no more than a step of the clock before the bead
    steps = [replace(check, start=start)]
    wait = bead - start - check.length
    if wait > 1e-9:
        steps.append(Step("both", StepKind.WAIT_FOR_CLOCK, "until the bead begins", start + check.length, wait, flash=True))
    return (*steps, *(replace(step, start=step.start - first + bead) for step in placing))


def longest_of(pane: PaneWork) -> dict[tuple[str, str], float]:
    """How long each face may wait, by ("wipe" or "primer", face): as given, never less than its own plan asks for."""
    own = waits_of((*pane.ready, *pane.together))
    given = {
        (what, face): longest[place]
        for what, longest in (("wipe", pane.wipe_longest), ("primer", pane.primer_longest))
        for place, face in enumerate(("frame", "glass"))
    }
    return {key: max(own[key], given[key] or 0.0) for key in own}


def waits_of(steps: Iterable[Step]) -> dict[tuple[str, str], float]:
    """How long each face waits in a plan: wiped until primed, primed until the last press."""
    ends = {(step.chain, step.kind): step.end for step in steps}
    found = {}
    for face in ("frame", "glass"):
        primed = ends[face, StepKind.PRIME]
        found["wipe", face] = primed - ends[face, StepKind.WIPE]
        found["primer", face] = ends["both", StepKind.PRESS] - primed
    return found


def _too_long(pane: PaneWork, blocks: Sequence[Block], steps: Sequence[Step]) -> Iterable[tuple[Block, float]]:
    """The blocks after which a face waits too long, and by how many minutes."""
    longest = longest_of(pane)
    for (what, face), wait in waits_of(steps).items():
        by = wait - longest[what, face]
        if by > SLACK:
            kind = StepKind.WIPE if what == "wipe" else StepKind.PRIME
            yield next(block for block in blocks if block.chain == face and any(step.kind is kind for step in block.steps)), by


__all__ = ["Block", "Free", "PaneWork", "blocks_of", "last_scheduled", "longest_of", "scheduled", "waits_of"]
