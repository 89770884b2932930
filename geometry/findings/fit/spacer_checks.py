"""The spacer blocks held against one another, against their edge and against what still stands upright."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.fit.bead_remedies import down
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side
from geometry.rules.calculation import Status
from geometry.rules.rounding import mm, up
from geometry.workings.spacer_room import least_end_room, nearest_spacers

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"


STANDS = Constraint(
    "spacer block large enough to stand",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.spacer_width_least",
)
CLEAR = Constraint(
    "spacer blocks clear of one another",
    side=Side.AT_LEAST,
    unit="mm",
    source="geometry of the plan; the room is this project's own default",
    status=Status.DERIVED,
    limit_key="limits.spacer_gap",
)
ON_STRAIGHT = Constraint(
    "spacer block within the straight of its edge",
    side=Side.AT_LEAST,
    unit="mm",
    source="geometry of the plan",
    status=Status.DERIVED,
)


def findings(subject: Subject, _: Ledger) -> Iterator[Finding]:
    """Every finding about the spacer blocks; their place beside the bead is a matter of the section."""
    yield _stands(subject)
    if (near := nearest_spacers(subject.detail)) is not None:
        yield _clear(subject, near.clear, near.marks)
    if (end := least_end_room(subject.detail)) is not None:
        room, mark, edge, straight = end
        yield _on_straight(subject, room, mark, edge, straight)


def _shorter(subject: Subject, by: float) -> tuple[Remedy, ...]:
    """Spacers shorter by a size, as long as they still stand; none where nothing would be left of them."""
    length = down(subject.sizes.spacer_length.value - by, 1.0)
    if length < subject.limit("spacer_width_least").value or length <= 0:
        return ()
    return (Remedy(f"cut the spacers to {mm(length)} of length", (Change("spacers.length", length),)),)


def _stands(subject: Subject) -> Finding:
    sizes, least = subject.sizes, subject.limit("spacer_width_least")
    small = min(sizes.spacer_length, sizes.spacer_width, key=lambda size: size.value)
    enough = up(least.value, 0.5)
    narrow = [key for key, size in (("width", sizes.spacer_width), ("length", sizes.spacer_length)) if size.value < least.value]
    return STANDS.judged(
        value=small.value,
        limit=least.value,
        says=f"the blocks are {mm(sizes.spacer_length.value)} long and {mm(sizes.spacer_width.value)} wide",
        remedies=(
            Remedy(
                f"take spacers of {' and '.join(f'{mm(enough)} {key}' for key in narrow)}",
                tuple(Change(f"spacers.{key}", enough) for key in narrow),
            ),
        ),
        defaults=defaults_of(small, least),
    )


def _clear(subject: Subject, clear: float, marks: tuple[str, str]) -> Finding:
    least, length, pitch = subject.limit("spacer_gap"), subject.sizes.spacer_length, subject.sizes.spacer_pitch
    one, other = marks
    short = max(0.0, least.value - clear)
    stand = "overlap" if clear < -1e-9 else "touch" if clear < 1e-9 else f"stand {mm(clear)} apart"
    says = f"{one} and {other} overlap by {mm(-clear)}" if clear < -1e-9 else f"{one} and {other} {stand}"
    wider = up(pitch.value + 2 * short, 5.0)
    return CLEAR.judged(
        value=clear,
        limit=least.value,
        where=f"{one}, {other}",
        at=next(spacer.centre for spacer in subject.detail.spacers if spacer.mark == one),
        part=one,
        says=says,
        remedies=lambda: (
            *_shorter(subject, short),
            Remedy(f"set the spacers out at a pitch of {mm(wider)}", (Change("spacers.pitch", wider),)),
        ),
        defaults=defaults_of(least, length, pitch),
    )


def _on_straight(subject: Subject, room: float, mark: str, edge: str, straight: float) -> Finding:
    length = subject.sizes.spacer_length
    beyond = f"reaches {mm(-room)} beyond the straight" if room < 0 else f"ends {mm(room)} inside the straight"
    nearer = subject.asked("spacers.from_corner", unit="mm")
    farther = up(nearer.value - room, 1.0)
    return ON_STRAIGHT.judged(
        value=room,
        limit=0.0,
        where=edge,
        at=next(spacer.centre for spacer in subject.detail.spacers if spacer.mark == mark),
        part=mark,
        says=f"{mark} of {mm(length.value)} {beyond} of {mm(straight)} on {edge}",
        remedies=lambda: (
            *_shorter(subject, max(0.0, -2 * room)),
            Remedy(f"set the first spacer {mm(farther)} inside the corner", (Change("spacers.from_corner", farther),)),
        ),
        defaults=defaults_of(length, nearer),
    )


__all__ = ["findings"]
