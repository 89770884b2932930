"""The pane under check: job, pane and detail together, and the way every check asks for a value with its pedigree."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any

from geometry.job.session import session_of
from geometry.ledger.figure import Sourced
from geometry.ledger.size import Origin
from geometry.rules.materials import PROPERTIES
from geometry.sizing.sizer import Sizer

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane
    from geometry.sizing.sizes import Sizes
    from geometry.workings.session_plan import Turn

_ORIGIN = {"given": Origin.GIVEN, "default": Origin.DEFAULT, "worked out": Origin.WORKED_OUT, "left out": Origin.DEFAULT}


@cache
def _of_pane() -> frozenset[str]:
    from geometry.job import Pane

    return frozenset(Pane.model_fields)


@dataclass(frozen=True)
class Subject:
    """One pane with its job and its detail. Every check reads from here and nowhere else.

    ``before`` is the pane before a change: what did not change is answered as it was.
    """

    job: Job
    pane: Pane
    detail: Detail
    before: Subject | None = field(default=None, repr=False, compare=False)

    @property
    def sizes(self) -> Sizes:
        """Sizes of the section."""
        return self.detail.sizes

    @property
    def flat(self) -> bool:
        """Whether the pane is a deck light: it lies on its landing."""
        return self.pane.rake >= self.pane.limits.deck_light_rake

    @property
    def surveyed(self) -> bool:
        """Whether the joint is what lies between two measured outlines: a recess with an outline of its own, or a pane as it was made."""
        return self.pane.recess_outline is not None or self.detail.placed is not None

    @property
    def sizer(self) -> Sizer:
        """Tolerances and movements by the same rules that sized the detail."""
        return Sizer(self.job, self.pane, self.detail.curves.glass)

    def asked(self, key: str, *, scale: float = 1.0, unit: str = "") -> Sourced:
        """The value at a dotted key of the pane, or of the job where the pane has no such table, marked with its origin.

        ``scale`` turns a share in % into a number (0.01). Raises ``KeyError`` for no such key.
        """
        known = self._asked.get((key, scale, unit))
        if known is not None:
            return known
        if self.before is not None and key.partition(".")[0] in self._as_before:
            found = self._asked[key, scale, unit] = self.before.asked(key, scale=scale, unit=unit)
            return found
        holder: Any = self._holder(key)
        value: Any = holder
        for step in key.split("."):
            value = getattr(value, step)
        if isinstance(value, float) and scale != 1.0:
            value = value * scale
        found = self._asked[key, scale, unit] = Sourced(value, _ORIGIN[holder.source_of(key)], key, unit)
        return found

    @cached_property
    def _asked(self) -> dict[tuple[str, float, str], Sourced]:
        """What was asked for already: a job does not change while it is checked."""
        return {}

    @cached_property
    def _as_before(self) -> frozenset[str]:
        """The tables and keys of pane and vessel that are the same, and stand in the file or not, as before the change."""
        found: set[str] = set()
        for now, then in ((self.job, self.before.job), (self.pane, self.before.pane)) if self.before is not None else ():
            others = now.model_fields_set ^ then.model_fields_set
            names = type(now).model_fields
            found.difference_update(names)  # a key of both is the pane's
            found.update(name for name in names if getattr(now, name) is getattr(then, name) and name not in others)
        return frozenset(found)

    def _holder(self, key: str) -> Job | Pane:
        return self.pane if key.partition(".")[0] in _of_pane() else self.job

    def table_of(self, key: str) -> Any:
        """The table of pane or job in which the value at a dotted key lies: while it is the same one, so is the value."""
        first, _, rest = key.partition(".")
        return getattr(self._holder(key), first) if rest else self._holder(key)

    def given_by(self, key: str) -> str:
        """The place in the office's defaults that gave the value at a dotted key; "" where it came from elsewhere."""
        return self._holder(key).given_by(key)

    @property
    def office_values(self) -> dict[str, str]:
        """Every value of the pane and its vessel that the office's defaults gave, with its place."""
        of_vessel = {
            key: place for key, place in self.job.office_places.items() if key.split(".")[0] not in type(self.pane).model_fields
        }
        return {**of_vessel, **self.pane.office_places}

    @property
    def greater_pressure(self) -> Sourced | None:
        """The greater of the pressures that the job gives, kPa; None where it gives none."""
        both = [self.asked(f"pressure.{way}", unit="kPa") for way in ("outward", "inward")]
        return max((each for each in both if each.value is not None), key=lambda each: float(each.value), default=None)

    @cached_property
    def turn(self) -> Turn | None:
        """The pane's place in its bonding session; None where no session names it."""
        from geometry.workings.session_plan import turn_of

        return turn_of(self)

    @property
    def bonded_on(self) -> Sourced:
        """The day of the bonding: that of the pane's session, else the date of the sheet; None as its value where neither is given."""
        session = session_of(self.job, self.pane)
        if session is None or session.date is None:
            return self.asked("sheet.date")
        return Sourced(session.date, Origin.GIVEN, "session.date")

    def limit(self, name: str, *, scale: float = 1.0) -> Sourced:
        """A limit of the table ``limits``."""
        return self.asked(f"limits.{name}", scale=scale)

    def glass(self, name: str, *, register: str, unit: str = "") -> Sourced:
        """A figure of the glass of the table ``materials.glass``; left out: the entry of that name in the register of materials.

        Raises ``KeyError`` for no such key or entry.
        """
        own = self.asked(f"materials.glass.{name}", unit=unit)
        return own if own.value is not None else Sourced(PROPERTIES[register].value, Origin.DEFAULT, own.key, unit)


__all__ = ["Subject"]
