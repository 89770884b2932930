"""The fields of one pane's bonding record: what is written down at the boat, in which unit, and between which limits of this pane.

Terms
-----
field
    One box of the paper form and one entry of the file: a dotted id such as ``gap.3``, words, a kind, a unit.
least, greatest
    The pane's own limits for a reading, as form, card and pane sheet print them. A reading on a limit keeps it.
world
    Between what a reading can lie at all: a gap of 850 mm is a slip of the pen, not a finding.
needed
    A field without which the record is not complete. Left empty it is "not recorded", which is never a pass.
as begun
    A step's time is the one at which it begins, as on the fitter's card: a wipe ends where its flash-off begins. Only the last press is
    told when it is done.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from geometry.detail.build import DetailError, build_detail
from geometry.job.made import FARTHEST, READ
from geometry.outline import bounding_box, corners, over_the_arcs
from geometry.rules.day.time_plan import StepKind
from geometry.sizing.tolerances import PaneTolerances
from geometry.workings.frit_places import frit_places
from geometry.workings.gap_limits import TOLD, down_to, nearest_to, told_about

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.outline import Corner, Point
    from geometry.rules.day.time_plan import Step
    from geometry.workings.subject import Subject

__all__ = [
    "LAST_PRESS", "NOT_USED", "PHOTOS", "PRODUCTS", "SEALANT", "TEAR_RESULTS", "FieldGroup", "FieldKind", "RecordField", "face_words",
    "ordered_detail", "record_fields", "step_id",
]  # fmt: skip


class FieldKind(StrEnum):
    """What may stand in a field: a line of text, a date ``2026-05-04``, a time of day ``09:47``, a number, one of some words, yes or no."""

    TEXT = "text"
    DATE = "date"
    CLOCK = "clock"
    NUMBER = "number"
    CHOICE = "choice"
    YES_NO = "yes/no"


class FieldGroup(StrEnum):
    """What belongs together on form and page, in this order."""

    DAY = "day"
    LOTS = "lots"
    GOODS_IN = "goods in"
    FRIT = "frit"
    CLIMATE = "climate"
    TIMES = "times"
    GAPS = "gaps"
    TEAR_TEST = "tear test"
    PHOTOS = "photographs"
    NAMES = "names"


@dataclass(frozen=True, slots=True)
class RecordField:
    """One field. ``least`` and ``most`` are the pane's limits in ``unit``, ``wanted`` what is drawn, None where there is none.

    ``world`` bounds what can be read at all; ``choices`` are the words allowed, the first the one that passes; ``place`` is where it is
    read, mm from the pane's origin; ``step`` the step whose time it is; ``sign`` the letter or number of its place on card or pane sheet;
    ``short`` what is left of its words under a heading that tells the rest.
    """

    id: str
    words: str
    kind: FieldKind
    group: FieldGroup
    unit: str = ""
    least: float | None = None
    most: float | None = None
    wanted: float | None = None
    world: tuple[float, float] | None = None
    choices: tuple[str, ...] = ()
    needed: bool = True
    place: Point | None = None
    step: str = ""
    sign: str = ""
    short: str = ""


PRODUCTS = (
    ("adhesive", "adhesive"),
    ("activator", "activator"),
    ("cleaner", "cleaner"),
    ("primer_frame", "primer on the landing"),
    ("primer_glass", "primer on the glass"),
    ("sealant", "sealant of the backfill"),
)
"""What is used up and has a lot: the first part of its ids, and in words."""
SEALANT = "sealant"
NOT_USED = "not used"
"""Written for the lot of a product that was left out: then it needs no name and no expiry, and it is told as a deviation."""
READ_TIMES = ("before the work", "at the first bead", "at the last press")
LAST_PRESS = "last_press"
"""Id of the one time that is told when it is done."""
TEAR_RESULTS = ("cohesive", "partly adhesive", "adhesive", "not cured")
"""How the test bead tears: in itself, partly off the surface, off the surface; or it was still soft."""
PHOTOS = ("primed landing", "primed glass", "bead before the lift", "pane pressed home", "further", "further")
_NEEDED_PHOTOS = 4

_AIR = (-45.0, 60.0)
"""°C for which the formula of the vapour pressure holds: WMO No. 8, Annex 4.B."""
_SURFACE = (-45.0, 100.0)
_HUMIDITY = (0.5, 100.0)
_GAP, _FLUSH, _FRIT = (0.0, 100.0), (-50.0, 50.0), (0.0, 1000.0)
_SECTION = (0.0, 200.0)


def step_id(step: Step) -> str:
    """The id of a step of the plan: chain and kind, ``frame_wipe_flash``."""
    return f"{step.chain}_{step.kind.name.lower()}"


def record_fields(check: PaneCheck) -> tuple[RecordField, ...]:
    """Every field of one pane's record, in the order of the form. Raises ``ValueError`` for a check without its plan of the day."""
    if check.time_plan is None:
        raise ValueError("the bonding record needs the plan of the day of its pane")
    ordered = ordered_detail(check.subject)
    return (
        *_day(check.subject.pane.quantity),
        *_lots(),
        *_goods_in(check.subject, ordered),
        *_frit(check.subject, ordered),
        *_climate(check.subject),
        *_times(check.time_plan.steps),
        *_gaps(check),
        *_tear_test(),
        *_photos(),
        *_names(),
    )


def _day(quantity: int) -> Iterator[RecordField]:
    """The days; of several panes of one code which of them it is."""
    if quantity > 1:
        yield RecordField(
            "piece.number",
            f"which of the {quantity} panes of this code",
            FieldKind.NUMBER,
            FieldGroup.DAY,
            world=(1.0, float(quantity)),
        )
    yield RecordField("bonding.date", "day of bonding", FieldKind.DATE, FieldGroup.DAY)
    yield RecordField("backfill.date", "day of the backfill", FieldKind.DATE, FieldGroup.DAY)


def _lots() -> Iterator[RecordField]:
    for name, words in PRODUCTS:
        yield RecordField(f"{name}.product", f"{words}: name on the pack", FieldKind.TEXT, FieldGroup.LOTS)
        yield RecordField(f"{name}.lot", f"{words}: lot", FieldKind.TEXT, FieldGroup.LOTS)
        yield RecordField(f"{name}.expiry", f"{words}: use by", FieldKind.DATE, FieldGroup.LOTS)


# Goods in.


def ordered_detail(subject: Subject) -> Detail:
    """The detail of the pane as ordered, which the supplier's sheet shows; of a pane that has none as ordered, its own."""
    if subject.detail.placed is None:
        return subject.detail
    try:
        return build_detail(subject.job, subject.pane.model_copy(update={"made": None}))
    except DetailError:
        return subject.detail


def _goods_in(subject: Subject, detail: Detail) -> Iterator[RecordField]:
    """Sizes of the pane as ordered, thickness, bow, step of the plies; face of the print, edges and mark by eye."""
    pane = subject.pane
    box = bounding_box(detail.curves.glass)
    tolerances = PaneTolerances(pane, longest=max(box.width, box.height))
    off = tolerances.pane().value or READ  # a size typed as it was measured is read again within what two readings agree
    for name, words, size in _sizes(detail):
        yield _measured(name, words, size, off, world=((1 - FARTHEST) * size, (1 + FARTHEST) * size))
    thick = pane.glass.thickness
    yield _measured("thickness", "thickness", thick, tolerances.glass_thickness().value, world=_SECTION)
    most = down_to(pane.bow * max(box.width, box.height) / 1000.0, TOLD)
    yield RecordField(
        "goods_in.bow", "bow, longest side", FieldKind.NUMBER, FieldGroup.GOODS_IN, "mm", most=most, world=(0.0, 100.0)
    )
    if len(pane.glass.plies) > 1:
        step = round(tolerances.ply_step().value, 2)
        yield RecordField(
            "goods_in.ply_step", "step of the plies", FieldKind.NUMBER, FieldGroup.GOODS_IN, "mm", most=step, world=(0.0, 50.0)
        )
    faces = tuple(str(number) for number in range(1, 2 * len(pane.glass.plies) + 1))
    right = face_words(subject)
    yield RecordField(
        "goods_in.printed_face",
        f"printed face ({right})",
        FieldKind.CHOICE,
        FieldGroup.GOODS_IN,
        choices=(right, *(face for face in faces if face != right)),
    )
    for name, words in (("edges", "edges free of chips, arris all round"), ("marking", "mark, side up and outer face marked")):
        yield RecordField(f"goods_in.{name}", words, FieldKind.YES_NO, FieldGroup.GOODS_IN)


def face_words(subject: Subject) -> str:
    """The number of the face that is to carry the print, counted from outside."""
    glass = subject.pane.glass
    return str(glass.printed_face or glass.bond_face)


def _sizes(detail: Detail) -> Iterator[tuple[str, str, float]]:
    """What is measured of the outline: the four sides of a rectangle and its diagonals, else width and height over all."""
    glass = detail.curves.glass
    box, sharp = bounding_box(glass), corners(glass)
    if not _rectangle(sharp):
        yield "width", "width over all", box.width
        yield "height", "height over all", box.height
        return
    yield from (
        ("width_bottom", "width, bottom", box.width),
        ("width_top", "width, top", box.width),
        ("height_left", "height, left", box.height),
        ("height_right", "height, right", box.height),
    )
    yield "diagonal_rising", "diagonal, lower left to upper right", _diagonal(sharp, rising=True)
    yield "diagonal_falling", "diagonal, upper left to lower right", _diagonal(sharp, rising=False)


def _rectangle(sharp: tuple[Corner, ...]) -> bool:
    upright = all(abs(abs(corner.bisector.x) - math.sqrt(0.5)) < 1e-6 for corner in sharp)
    return len(sharp) == 4 and upright and all(abs(corner.interior_angle - 90.0) < 1e-6 for corner in sharp)


def _diagonal(sharp: tuple[Corner, ...], *, rising: bool) -> float:
    """Over the arcs of the two corners that it joins, mm."""
    first, last = (corner.rounding for corner in sharp if (corner.bisector.x * corner.bisector.y > 0) is rising)
    return over_the_arcs(first, last)


def _measured(name: str, words: str, size: float, tolerance: float, *, world: tuple[float, float]) -> RecordField:
    """A size of the glass with its tolerance, told to a tenth, no limit looser than it is."""
    least, most = _between(size, tolerance)
    return RecordField(
        f"goods_in.{name}",
        words,
        FieldKind.NUMBER,
        FieldGroup.GOODS_IN,
        "mm",
        least=least,
        most=most,
        wanted=round(size, 2),
        world=world,
    )


def _between(size: float, tolerance: float) -> tuple[float, float]:
    """Least and most in tenths, neither looser than it is, and none below nought."""
    least, most = told_about(size, tolerance)
    return max(0.0, least), most


# The print, the climate, the clock.


def _frit(subject: Subject, detail: Detail) -> Iterator[RecordField]:
    """Widths of the print at the places of the pane sheet, with the least and greatest that stand there."""
    box = bounding_box(detail.curves.glass)
    off = PaneTolerances(subject.pane, longest=max(box.width, box.height)).print().value
    for place in frit_places(detail.curves):
        least, most = _between(place.width, off)
        yield RecordField(
            f"frit.{place.number}",
            f"width of the print, place {place.number}",
            FieldKind.NUMBER,
            FieldGroup.FRIT,
            "mm",
            least=least,
            most=most,
            wanted=round(place.width, 2),
            world=_FRIT,
            place=place.point,
            sign=str(place.number),
        )


def _climate(subject: Subject) -> Iterator[RecordField]:
    """Three readings; the surfaces' least above the dew point follows from air and humidity and stands in no field."""
    limits = subject.pane.limits
    cold, warm = limits.bonding_coldest, limits.bonding_warmest
    for number, when in enumerate(READ_TIMES, start=1):
        name, said = f"climate.{number}", f"climate {when}"
        yield RecordField(f"{name}.time", f"{said}: read at", FieldKind.CLOCK, FieldGroup.CLIMATE, sign=str(number))
        yield _warmth(f"{name}.air", f"{said}: air", cold, warm, _AIR, number)
        yield RecordField(
            f"{name}.humidity",
            f"{said}: humidity",
            FieldKind.NUMBER,
            FieldGroup.CLIMATE,
            "%",
            most=limits.humidity_most,
            world=_HUMIDITY,
            sign=str(number),
        )
        yield _warmth(f"{name}.frame", f"{said}: frame", cold, warm, _SURFACE, number)
        yield _warmth(f"{name}.glass", f"{said}: glass", cold, warm, _SURFACE, number)


def _warmth(name: str, words: str, cold: float, warm: float, world: tuple[float, float], number: int) -> RecordField:
    return RecordField(
        name, words, FieldKind.NUMBER, FieldGroup.CLIMATE, "°C", least=cold, most=warm, world=world, sign=str(number)
    )


def _times(steps: tuple[Step, ...]) -> Iterator[RecordField]:
    for step in steps:
        if step.kind is StepKind.WAIT_FOR_CLOCK:
            continue
        name = step_id(step)
        said = step.what if step.chain == "both" else f"{step.chain}: {step.what}"
        yield RecordField(f"step.{name}.at", f"{said}, begun", FieldKind.CLOCK, FieldGroup.TIMES, step=name, short=step.what)
    yield RecordField(f"step.{LAST_PRESS}.at", "last press, done", FieldKind.CLOCK, FieldGroup.TIMES, step=LAST_PRESS)


# At the frame, and afterwards.


def _gaps(check: PaneCheck) -> Iterator[RecordField]:
    """Gap and flush face at the eight places of the fitter's card, with its limits."""
    stations = tuple(enumerate(check.fitting.gaps, start=1))
    for number, each in stations:
        yield RecordField(
            f"gap.{number}",
            f"gap at {each.letter}",
            FieldKind.NUMBER,
            FieldGroup.GAPS,
            "mm",
            least=each.gap_least,
            most=each.gap_most,
            wanted=nearest_to(each.gap, TOLD) if each.gap > 0 else None,
            world=_GAP,
            place=each.place,
            sign=each.letter,
        )
    for number, each in stations:
        yield RecordField(
            f"flush.{number}",
            f"flush at {each.letter}, + proud, - sunk",
            FieldKind.NUMBER,
            FieldGroup.GAPS,
            "mm",
            least=each.flush_least,
            most=each.flush_most,
            wanted=nearest_to(each.flush, TOLD),
            world=_FLUSH,
            place=each.place,
            sign=each.letter,
        )


def _tear_test() -> Iterator[RecordField]:
    yield RecordField("tear_test.date", "tear test: day", FieldKind.DATE, FieldGroup.TEAR_TEST)
    yield RecordField("tear_test.result", "tear test: how it tore", FieldKind.CHOICE, FieldGroup.TEAR_TEST, choices=TEAR_RESULTS)
    yield RecordField("tear_test.photo", "tear test: photograph no.", FieldKind.TEXT, FieldGroup.TEAR_TEST)


def _photos() -> Iterator[RecordField]:
    for number, words in enumerate(PHOTOS, start=1):
        yield RecordField(
            f"photo.{number}",
            f"photograph no., {words}",
            FieldKind.TEXT,
            FieldGroup.PHOTOS,
            needed=number <= _NEEDED_PHOTOS,
            short=words,
        )


def _names() -> Iterator[RecordField]:
    yield RecordField("name.bonded", "bonded by", FieldKind.TEXT, FieldGroup.NAMES)
    yield RecordField("name.checked", "checked by", FieldKind.TEXT, FieldGroup.NAMES)
    yield RecordField("signature.name", "signed by", FieldKind.TEXT, FieldGroup.NAMES)
    yield RecordField("signature.date", "signed on", FieldKind.DATE, FieldGroup.NAMES)
    yield RecordField("notes", "notes", FieldKind.TEXT, FieldGroup.NAMES, needed=False)
