"""One finding: what was checked, the value, its limit, the margin, the verdict and what to do.

Terms
-----
finding
    One constraint held against one pane. Its name is a sentence of the trade that says what must hold.
verdict
    pass; look (a person decides); fail; not checked (something that only the user can know was not given).
margin
    How far the value is on the good side of its limit, in the value's unit; negative: on the bad side.
remedy
    What to do, in one line with a number in it, and the changes of the job file that do it. A remedy is proven: with its
    changes made, the finding passes. A remedy that no key of the job file stands for has no changes and says so by that.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import Enum
from typing import TYPE_CHECKING, Any

from geometry.rules.calculation import Status

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.ledger.figure import Figure

__all__ = ["TOUCH", "WRONG", "Change", "Constraint", "Finding", "Remedy", "Side", "Verdict", "outcome_of", "worst"]


class Verdict(Enum):
    """How a finding comes out."""

    PASS = "pass"
    LOOK = "look"
    FAIL = "fail"
    NOT_CHECKED = "not checked"


WRONG = (Verdict.FAIL, Verdict.LOOK)
"""What somebody has to see to, the worse first."""


class Side(Enum):
    """On which side of the limit the value must lie."""

    AT_LEAST = "at least"
    AT_MOST = "at most"


@dataclass(frozen=True, slots=True)
class Change:
    """A key of the pane (or of a shared table that no pane has) and the value that should stand there."""

    key: str
    value: Any


@dataclass(frozen=True, slots=True)
class Remedy:
    """``sentence`` in the imperative, with a number in it: "widen the frit to 34 mm".

    ``then`` names the findings that pass today and fail once the changes are made: the price of the remedy.
    """

    sentence: str
    changes: tuple[Change, ...] = ()
    then: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.sentence} (then see: {'; '.join(self.then)})" if self.then else self.sentence


@dataclass(frozen=True, slots=True)
class Finding:
    """One constraint held against one pane.

    ``value`` and ``limit`` are in ``unit``; both are None where it was not checked. ``look_limit`` is a second, stricter limit
    below (or above) which a person should look. ``figure`` is the sum behind the value. ``defaults`` are the keys whose default
    values went in.
    """

    name: str
    verdict: Verdict
    source: str
    status: Status
    value: float | None = None
    limit: float | None = None
    side: Side = Side.AT_LEAST
    unit: str = "mm"
    where: str = ""
    at: tuple[float, float] | None = (
        None  # the one place of the pane that it speaks of, X and Y, mm; None: all round, or no place
    )
    part: str = ""  # what stands or lies there: corner "V3", edge "e2" or "round", chock "K1", spacer "S4"
    says: str = ""  # one clause that puts the outcome in words
    remedies: tuple[Remedy, ...] = ()
    ways: Callable[[], Iterable[Remedy]] | None = field(default=None, repr=False, compare=False)  # remedies yet to be thought of
    figure: Figure | None = None
    defaults: tuple[str, ...] = ()
    missing: str = ""  # what was not given, where that is why it was not checked
    decides: bool = False  # not checked, and without it nobody knows whether the pane holds
    counted: str = ""  # what the value counts, where it is a number of things and has no unit

    @property
    def margin(self) -> float | None:
        """How far on the good side, in ``unit``; negative on the bad side."""
        if self.value is None or self.limit is None:
            return None
        return self.value - self.limit if self.side is Side.AT_LEAST else self.limit - self.value

    def with_remedies(self) -> Finding:
        """The finding with its remedies thought of."""
        return self if self.ways is None else replace(self, remedies=tuple(self.ways()), ways=None)

    def but_says(self, told: str) -> Finding:
        """The same finding with what is known all the same: a figure that nobody gave a limit for."""
        return replace(self, says=f"{self.says}; {told}", missing=f"{self.missing}; {told}")

    @property
    def remedy(self) -> str:
        """The first remedy's sentence with the others after "or", "" where there is none."""
        return ", or ".join(str(remedy) for remedy in self.remedies)


TOUCH = 1e-9  # a value this near its limit meets it: the last bits of a sum decide nothing


@dataclass(frozen=True, slots=True)
class Constraint:
    """What must hold of a pane: its name, on which side of the limit, in which unit, from which source.

    ``limit_key`` is the key of the job file that holds the limit, "" where the limit is worked out. ``short`` is the verdict beyond
    the limit; ``counted`` names the things where the value is a number of them and has no unit.
    """

    name: str
    side: Side = Side.AT_LEAST
    unit: str = "mm"
    source: str = ""
    status: Status = Status.GIVEN
    limit_key: str = ""
    short: Verdict = Verdict.FAIL
    counted: str = ""

    def but(self, **other: Any) -> Constraint:
        """The same constraint where a pane's own case decides its side, source, status or verdict beyond the limit."""
        return replace(self, **other)

    def judged(
        self,
        *,
        value: float,
        limit: float,
        look: float | None = None,
        where: str = "",
        at: tuple[float, float] | None = None,
        part: str = "",
        says: str = "",
        remedies: Iterable[Remedy] | Callable[[], Iterable[Remedy]] = (),
        figure: Figure | None = None,
        defaults: tuple[str, ...] = (),
    ) -> Finding:
        """A finding by its figures; beyond ``look`` (a stricter limit) it is LOOK.

        ``at`` is the one place of which the finding speaks, X and Y, mm, and ``part`` what stands there; none where it holds all round.
        Where only the look limit is passed, that one is the finding's limit. Remedies are kept only where the finding does not pass;
        given as a function they are thought of only where somebody asks (``Finding.with_remedies``).

        >>> found = Constraint("joint left").judged(value=2.0, limit=3.0)
        >>> found.verdict.value, found.margin
        ('fail', -1.0)
        """

        def beyond(bound: float) -> bool:
            slack = TOUCH * max(1.0, abs(bound))
            return value < bound - slack if self.side is Side.AT_LEAST else value > bound + slack

        verdict, shown = Verdict.PASS, limit if look is None else look
        if beyond(limit):
            verdict, shown = self.short, limit
        elif look is not None and beyond(look):
            verdict = Verdict.LOOK
        return Finding(
            name=self.name,
            verdict=verdict,
            source=self.source,
            status=self.status,
            value=value,
            limit=shown,
            side=self.side,
            unit=self.unit,
            where=where,
            at=None if at is None else (float(at[0]), float(at[1])),
            part=part,
            says=says,
            remedies=() if verdict is Verdict.PASS or callable(remedies) else tuple(remedies),
            ways=remedies if verdict is not Verdict.PASS and callable(remedies) else None,
            figure=figure,
            defaults=tuple(dict.fromkeys((*(figure.defaults if figure else ()), *defaults))),
            counted=self.counted,
        )

    def not_checked(self, *, what: str, decides: bool = False) -> Finding:
        """A finding that could not be made because something only the user can know is missing.

        ``decides``: whether the pane holds hangs on it, so that the pane does not pass without it.

        >>> Constraint("bond tension").not_checked(what="outward pressure").says
        'not checked: no outward pressure given'
        """
        missing = f"no {what} given"
        return Finding(
            name=self.name,
            verdict=Verdict.NOT_CHECKED,
            source=self.source,
            status=self.status,
            unit=self.unit,
            says=f"not checked: {missing}",
            missing=missing,
            decides=decides,
        )


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """What panes come to together: fail before not checked before look before pass."""
    found = set(verdicts)
    return next((each for each in (Verdict.FAIL, Verdict.NOT_CHECKED, Verdict.LOOK) if each in found), Verdict.PASS)


def outcome_of(findings: Iterable[Finding]) -> Verdict:
    """What a pane comes to: fail where anything fails; not checked where a finding that decides could not be made; look; else pass.

    Silence is never a pass: a pane of which nobody said what pulls at it has not been checked, however well it fits.
    """
    return worst(each.verdict for each in findings if each.verdict is not Verdict.NOT_CHECKED or each.decides)
