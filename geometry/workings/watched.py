"""What is read of a pane, written down: so that what was found stands wherever everything that was read is the same again.

Terms
-----
part
    A table of the job, the detail or a group of its values: something that is looked into. All else is a value.
watched
    A stand-in for a part. It hands on what the part holds and keeps everything that was asked of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from geometry.detail.parts import Curves, Detail
from geometry.job.fields import Table
from geometry.sizing.sizes import Sizes
from geometry.workings.subject import Subject

if TYPE_CHECKING:
    from geometry.ledger.figure import Sourced

_PARTS = (Table, Detail, Curves, Sizes)


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

    def same_in(self, part: Any) -> bool:
        """Whether all that was read of this part is the same in another."""
        if part is self._part:
            return True
        if type(part) is not type(self._part) or (self._whole and part != self._part):
            return False
        for name, read in vars(self).items():
            if name in ("_part", "_watch", "_whole"):
                continue
            now = getattr(part, name)
            if not (read.same_in(now) if isinstance(read, _Watched) else read is now or _same(read, now)):
                return False
        return True


def _same(one: Any, other: Any) -> bool:
    return type(one) is type(other) and bool(one == other)


class WatchedSubject(Subject):
    """A pane under check that knows what was read of it, until it is closed."""

    _subject: Subject
    _watch: _Watch
    _answers: dict[str, dict[tuple[str, float, str], Sourced]]  # by the keys that lie in the same table

    def __init__(self, subject: Subject) -> None:
        watch = _Watch()
        super().__init__(*(cast("Any", _Watched(part, watch)) for part in (subject.job, subject.pane, subject.detail)))
        vars(self).update(_subject=subject, _watch=watch, _answers={})

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

    def same_in(self, other: Subject) -> bool:
        """Whether all that was read is the same in another pane: whoever reads no more would find the same there."""
        for keys, answers in self._answers.items():
            if other.table_of(keys) is self._subject.table_of(keys):
                continue
            if any(other.asked(key, scale=scale, unit=unit) != answer for (key, scale, unit), answer in answers.items()):
                return False
        watched = ((self.job, other.job), (self.pane, other.pane), (self.detail, other.detail))
        return all(cast("Any", part).same_in(now) for part, now in watched)


__all__ = ["WatchedSubject"]
