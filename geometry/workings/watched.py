"""What is read of a pane, written down: so that what was found stands wherever everything that was read is the same again.

Terms
-----
part
    A table of the job, the detail or a group of its values: something that is looked into. All else is a value.
watched
    A stand-in for a part. It hands on what the part holds and keeps everything that was asked of it.
field
    A value or table that job, pane, detail, sizes or curves hold, by its dotted name: "pane.frit", "sizes.landing". What is no field of
    them (a property, a method) may be made of any: it is "pane.*".
shared working
    What several checks ask for, worked out once: whoever asks for it has read what it read.
"""

from __future__ import annotations

from dataclasses import fields
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any, cast

from geometry.detail.parts import Curves, Detail
from geometry.job.fields import Table
from geometry.ledger.figure import Ledger, Pane, Result, RoughLedger
from geometry.sizing.sizes import Sizes
from geometry.workings.subject import Subject

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.ledger.figure import Sourced
    from geometry.workings.session_plan import Turn

    Working = Callable[[Any, Ledger], Any]

_PARTS = (Table, Detail, Curves, Sizes)
_OWN = frozenset(("_part", "_watch", "_whole"))


class _Watch:
    """Whether what is read is still written down."""

    on = True


class _Watched:
    """A part, watched: everything that was read stands among its own attributes, a part of the part as another stand-in."""

    def __init__(self, part: Any, watch: _Watch) -> None:
        self._part, self._watch, self._whole = part, watch, False

    def __getattr__(self, name: str) -> Any:
        value = getattr(self._part, name)
        if not self._watch.on:
            return value
        if callable(value):
            self._whole = True  # a method may read anything
            return value
        read = _Watched(value, self._watch) if isinstance(value, _PARTS) else value
        setattr(self, name, read)
        return read

    def __eq__(self, other: object) -> bool:
        self._whole = True
        return bool(self._part == other)

    __hash__ = None  # type: ignore[assignment] # a memory keyed by a stand-in would answer without reading

    def read(self, whole: str) -> Iterator[str]:
        """The fields that were read of this part, which is called ``whole``."""
        known = _fields_of(type(self._part))
        if self._whole:
            yield f"{whole}.*"
        for name, value in vars(self).items():
            if name in _OWN:
                continue
            if isinstance(value, _Watched) and not isinstance(value._part, Table):
                yield from value.read(name)
            else:
                yield f"{whole}.{name if name in known else '*'}"

    def same_in(self, part: Any) -> bool:
        """Whether all that was read of this part is the same in another."""
        if part is self._part:
            return True
        if type(part) is not type(self._part) or (self._whole and part != self._part):
            return False
        for name, read in vars(self).items():
            if name in _OWN:
                continue
            now = getattr(part, name)
            if not (read.same_in(now) if isinstance(read, _Watched) else read is now or _same(read, now)):
                return False
        return True


def _same(one: Any, other: Any) -> bool:
    return type(one) is type(other) and bool(one == other)


def _named(kind: Any) -> frozenset[str]:
    return frozenset(kind.model_fields) if issubclass(kind, Table) else frozenset(each.name for each in fields(kind))


_fields_of: Callable[[Any], frozenset[str]] = cache(_named)


def differences(one: Subject, other: Subject) -> frozenset[str]:
    """The fields in which two panes differ."""
    found: list[str] = []
    for whole, before, after in (
        ("job", one.job, other.job),
        ("pane", one.pane, other.pane),
        ("detail", one.detail, other.detail),
        ("sizes", one.sizes, other.sizes),
        ("curves", one.detail.curves, other.detail.curves),
    ):
        if before is after:
            continue
        found.append(f"{whole}.*")
        for name in _fields_of(type(before)):
            was, now = getattr(before, name), getattr(after, name)
            if was is not now and (name == "panes" or isinstance(was, _PARTS) or not _same(was, now)):
                found.append(f"{whole}.{name}")
        if isinstance(before, Table) and isinstance(after, Table):  # the same value may be given now
            found += [f"{whole}.{name}" for name in before.model_fields_set ^ after.model_fields_set]
    return frozenset(found)


class WatchedSubject(Subject):
    """A pane under check that knows what was read of it, until it is closed."""

    _subject: Subject
    _watch: _Watch
    _answers: dict[str, dict[tuple[str, float, str], Sourced]]  # by the keys that lie in the same table
    _workings: dict[int, WatchedSubject]  # what read for the shared workings that were asked for, by its identity
    _told: tuple[Subject | None, bool]  # the pane that it was compared with last, and whether all is the same there

    def __init__(self, subject: Subject) -> None:
        watch = _Watch()
        super().__init__(*(cast("Any", _Watched(part, watch)) for part in (subject.job, subject.pane, subject.detail)))
        vars(self).update(_subject=subject, _watch=watch, _answers={}, _workings={}, _told=(None, False))

    def another(self) -> WatchedSubject:
        """The same pane, watched anew."""
        return WatchedSubject(self._subject)

    def watches(self, subject: object) -> bool:
        """Whether this is the pane that is watched."""
        return subject is self._subject

    def shares(self, other: WatchedSubject) -> None:
        """Count what another one reads of the pane as read by this one, too."""
        if self._watch.on and other is not self:
            self._workings[id(other)] = other

    def close(self) -> None:
        """What is read from now on is not written down."""
        self._watch.on = False

    def asked(self, key: str, *, scale: float = 1.0, unit: str = "") -> Sourced:
        """As the pane itself answers."""
        found = self._subject.asked(key, scale=scale, unit=unit)
        if self._watch.on:
            first, dot, _ = key.partition(".")
            self._answers.setdefault(f"{first}.*" if dot else key, {})[key, scale, unit] = found
        return found

    @property
    def turn(self) -> Turn | None:
        """As the pane itself has it: the work of the other panes does not change, its own is read beside it by whoever asks for its clock."""
        return self._subject.turn

    @property
    def bonded_on(self) -> Sourced:
        """As the pane itself has it; sessions do not change."""
        self.asked("sheet.date")
        return self._subject.bonded_on

    @cached_property
    def read(self) -> frozenset[str]:
        """Every field that was read."""
        found: set[str] = set()
        for whole, part in (("job", self.job), ("pane", self.pane), ("detail", self.detail)):
            found.update(cast("Any", part).read(whole))
        for key in (key for answers in self._answers.values() for key, _, _ in answers):
            first = key.partition(".")[0]
            found.add(f"pane.{first}" if first in _fields_of(type(self._subject.pane)) else f"job.{first}")
        return frozenset(found).union(*(other.read for other in self._workings.values()))

    def same_in(self, other: Subject, differing: frozenset[str]) -> bool:
        """Whether all that was read is the same in another pane: whoever reads no more would find the same there.

        ``differing`` are the fields in which the two differ, see :func:`differences`.
        """
        if self._told[0] is not other:
            vars(self).update(_told=(other, self._same_in(other, differing)))
        return self._told[1]

    def _same_in(self, other: Subject, differing: frozenset[str]) -> bool:
        hit = self.read & differing
        if not hit:
            return True
        if any(not name.endswith("*") and not name.startswith(("pane.", "job.")) for name in hit):
            return False  # a value of the detail; of a table it may be another key that differs
        for keys, answers in self._answers.items():
            if other.table_of(keys) is self._subject.table_of(keys):
                continue
            if any(other.asked(key, scale=scale, unit=unit) != answer for (key, scale, unit), answer in answers.items()):
                return False
        watched = ((self.job, other.job), (self.pane, other.pane), (self.detail, other.detail))
        return all(cast("Any", part).same_in(now) for part, now in watched) and all(
            working.same_in(other, differing) for working in self._workings.values()
        )


class SharingLedger(Ledger):
    """The ledger of a pane under check, in which what several checks ask for is worked out once."""

    def __init__(self) -> None:
        super().__init__()
        self._shared: dict[Working, tuple[Any, WatchedSubject]] = {}  # what each working gave, and what it read

    def once(self, working: Callable[[Pane, Ledger], Result], pane: Pane) -> Result:
        """What a working gives for a pane: the first time it is worked out, then it is known."""
        if working not in self._shared:
            if not isinstance(pane, WatchedSubject):
                return super().once(working, pane)
            own = pane.another()
            self._shared[working] = working(cast("Any", own), self), own
        found, own = self._shared[working]
        if isinstance(pane, WatchedSubject):
            pane.shares(own)
        elif not own.watches(pane):
            return super().once(working, pane)
        return cast("Result", found)

    def close(self) -> None:
        """What the workings read from now on is not written down."""
        for _, own in self._shared.values():
            own.close()

    def stands(self, working: Working, changed: Subject, differing: frozenset[str]) -> bool:
        """Whether a working is known and would give the same for a changed pane: see :meth:`WatchedSubject.same_in`."""
        return working in self._shared and self._shared[working][1].same_in(changed, differing)

    def given_by(self, working: Callable[[Pane, Ledger], Result]) -> Result:
        """What a working that is known gave."""
        return cast("Result", self._shared[working][0])


class TrialLedger(RoughLedger):
    """The ledger of a changed pane that is only tried: a working that the change does not touch is known from before it."""

    def __init__(self, before: SharingLedger, changed: Subject, differing: frozenset[str]) -> None:
        super().__init__()
        self._before, self._changed, self._differing = before, changed, differing

    def once(self, working: Callable[[Pane, Ledger], Result], pane: Pane) -> Result:
        """What a working gives for a pane, worked out only where the change is seen, and once."""
        if pane is self._changed and self._before.stands(working, self._changed, self._differing):
            return self._before.given_by(working)
        return super().once(working, pane)


__all__ = ["SharingLedger", "TrialLedger", "WatchedSubject", "differences"]
