"""Sums of the section that several findings stand on: tolerances, gaps, squeeze-out, and the joint as it is drawn round the pane.

Terms
-----
joint as drawn
    The joint width where recess and pane are drawn. Where the recess follows the pane it is the same on all straights; a recess
    with an outline of its own, a survey, has its least and its largest somewhere.
place
    A figure with where it was found: "all round", an edge ("e3"), a corner ("V2"), or a spot in the pane's coordinates.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from geometry.ledger.figure import Figure, Ledger, Sourced, plain, worked_once
from geometry.ledger.size import Origin
from geometry.outline import (
    Outline,
    Point,
    bounding_box,
    distance_between,
    distance_from,
    point_in,
    segments,
)
from geometry.outline.between import narrowest_and_widest
from geometry.rules import tolerance as tolerance_rules
from geometry.rules.fit import section
from geometry.rules.rounding import number
from geometry.sizing.tolerances import PaneTolerances

if TYPE_CHECKING:
    from geometry.ledger.size import Size
    from geometry.workings.subject import Subject

ALL_ROUND = "all round"


class Local(NamedTuple):
    """A figure, mm, and where it was found; ``at`` and ``part`` are the place and the edge it lies on, none where it holds all round."""

    value: float
    where: str
    at: Point | None = None
    part: str = ""


def tolerance(subject: Subject, name: str) -> Sourced:
    """A tolerance, plus and minus, mm, by its key in the table ``tolerances``; a default of the register is marked as one.

    Of a pane whose thickness was read nothing is left of the tolerance on it.
    """
    if name == "glass_thickness" and thickness_read(subject) is not None:
        return Sourced(0.0, Origin.GIVEN, "made.thickness", "mm")
    return ordered_tolerance(subject, name)


def ordered_tolerance(subject: Subject, name: str) -> Sourced:
    """A tolerance, plus and minus, mm, to which the pane is ordered, whatever was read on the one that came."""
    stated = getattr(PaneTolerances(subject.pane, longest=longest_side(subject)), name)()
    key = f"tolerances.{name}_standard" if stated.by else f"tolerances.{name}"
    return Sourced(stated.value, Origin.GIVEN if stated.given else Origin.DEFAULT, key, "mm")


def sides_of_box(subject: Subject) -> tuple[float, float]:
    """Short and long side of the pane's upright box, mm."""
    box = bounding_box(subject.detail.curves.glass)
    short_side, long_side = sorted((box.width, box.height))
    return short_side, long_side


def longest_side(subject: Subject) -> float:
    """Longest side of the pane's upright box, mm."""
    return sides_of_box(subject)[1]


def thickness_read(subject: Subject) -> Sourced | None:
    """Thickness of the pane as made, mm; None where none was read."""
    made = subject.pane.made
    if made is None or made.thickness is None:
        return None
    return Sourced(float(made.thickness), Origin.GIVEN, "made.thickness", "mm")


def bow_read(subject: Subject) -> Sourced | None:
    """Bow of the pane as made over its longest side, mm; None where none was read."""
    made = subject.pane.made
    return None if made is None or made.bow is None else Sourced(float(made.bow), Origin.GIVEN, "made.bow", "mm")


def by_bow(subject: Subject) -> str:
    """What a finding says of the bow that it takes: nothing where it is the one allowed on the order."""
    read = bow_read(subject)
    return "" if read is None else f"; bow as made, {number(read.value, 2)} mm"


@worked_once
def proud_of(subject: Subject, ledger: Ledger) -> Size | Figure:
    """How far the glass stands proud of the skin (negative: sunk), mm: as drawn, with the thickness that was read where one was."""
    read = thickness_read(subject)
    if read is None:
        return subject.sizes.proud
    sizes = subject.sizes
    return ledger.work(
        "proud with the thickness as made",
        section.proud,
        bond_thickness=sizes.bond_thickness,
        glass_thickness=read,
        recess_depth=sizes.recess_depth,
    )


def bow_over_pane(subject: Subject) -> Sourced:
    """Bow of the glass over its longest side, mm: as it was read, else as it is allowed."""
    return bow_read(subject) or allowed_bow(subject)


def allowed_bow(subject: Subject) -> Sourced:
    """Bow over the longest side, mm, that the order allows."""
    bow = subject.asked("bow")
    return Sourced(section.bow_over_length(bow=bow.value, length=longest_side(subject)), bow.origin, bow.key, "mm")


@worked_once
def bow_of_pane(subject: Subject, ledger: Ledger) -> Figure | Sourced:
    """Bow of the glass over its longest side, mm: as it was read, else as a figure of its own."""
    return bow_read(subject) or ledger.work(
        "bow of the pane over its longest side",
        section.bow_over_length,
        bow=subject.asked("bow", unit="mm/m"),
        length=longest_side(subject),
    )


@worked_once
def bead_area(subject: Subject, ledger: Ledger) -> Figure:
    """Section of the uncured bead, mm²."""
    sizes = subject.sizes
    return ledger.work(
        "section of the uncured bead",
        section.uncured_bead_area,
        notch_width=sizes.notch_width,
        notch_height=sizes.notch_height,
    )


@worked_once
def taken_at_tightest(subject: Subject, ledger: Ledger) -> dict[str, Any]:
    """What spacers, landing and pane may take off the bond thickness between two spacers, mm, by the names of the rule's parameters."""
    bow = ledger.work(
        "bow of the pane between two spacers",
        section.bow_between_spacers,
        bow=bow_of_pane(subject, ledger),
        pitch=subject.asked("spacers.pitch", unit="mm"),
        length=longest_side(subject),
        bow_share=subject.limit("bow_share", scale=0.01),
    )
    return {
        "spacer_tolerance": tolerance(subject, "bond_thickness"),
        "landing_flatness": tolerance(subject, "flatness"),
        "bow_between_spacers": bow,
    }


@worked_once
def tightest_gap(subject: Subject, ledger: Ledger) -> Figure:
    """Tightest place between glass and landing, mm: what the bead flows through, and the bond that is left."""
    return ledger.work(
        "least bond gap",
        section.tightest_gap,
        bond_thickness=subject.sizes.bond_thickness,
        **taken_at_tightest(subject, ledger),
    )


@worked_once
def largest_gap(subject: Subject, ledger: Ledger) -> Figure:
    """Widest place between glass and landing, mm, with the pane's bow over its longest side."""
    return ledger.work(
        "largest bond gap",
        section.largest_gap,
        bond_thickness=subject.sizes.bond_thickness,
        spacer_tolerance=tolerance(subject, "bond_thickness"),
        landing_flatness=tolerance(subject, "flatness"),
        bow=bow_of_pane(subject, ledger),
        bow_share=subject.limit("bow_share", scale=0.01),
    )


@worked_once
def contact_at_widest(subject: Subject, ledger: Ledger) -> Figure:
    """Width that the bead wets at the widest gap, mm; 0 where it wets nothing there."""
    return ledger.work(
        "contact width at the widest gap",
        section.contact_width,
        gap=largest_gap(subject, ledger),
        notch_width=subject.sizes.notch_width,
        notch_height=subject.sizes.notch_height,
    )


@worked_once
def squeeze_out(subject: Subject, ledger: Ledger) -> Figure:
    """What the bead flows beyond its width, each side, mm, at the tightest place."""
    return ledger.work(
        "squeeze-out",
        section.squeeze_out,
        bead_area=bead_area(subject, ledger),
        least_gap=tightest_gap(subject, ledger),
        bond_width=subject.sizes.bond_width,
    )


def squeeze_out_of(subject: Subject, *, bond_width: float) -> float:
    """Squeeze-out, mm, of a bead of another width laid with a notch of its own section: the figure behind a remedy."""
    area = bond_width * subject.sizes.bond_thickness.value
    return section.squeeze_out(bead_area=area, least_gap=tightest_gap(subject, Ledger()).value, bond_width=bond_width)


@worked_once
def flush_tolerance_of(subject: Subject, ledger: Ledger) -> Figure:
    """How far proud or sunk may stray either way, mm, at the worst tolerances."""
    return ledger.work(
        "tolerance of the flush face",
        tolerance_rules.flush_tolerance,
        spacer=tolerance(subject, "bond_thickness"),
        glass_thickness=tolerance(subject, "glass_thickness"),
        recess_depth=tolerance(subject, "recess_depth"),
        paint=subject.asked("tolerances.paint", unit="mm"),
    )


def joints_as_drawn(subject: Subject) -> tuple[Local, Local]:
    """The least and the largest joint as drawn, corners apart."""
    width = plain(subject.sizes.joint_width)
    if not subject.surveyed:
        return Local(width, ALL_ROUND), Local(width, ALL_ROUND)
    return _joints(subject.detail.curves.glass, subject.detail.curves.recess)


def joint_input(subject: Subject, local: Local) -> Any:
    """The joint of a place as an input of a figure: the size where it is that of the job, else the bare figure."""
    return subject.sizes.joint_width if local.where == ALL_ROUND else local.value


def _joints(glass: Outline, recess: Outline) -> tuple[Local, Local]:
    least, largest = narrowest_and_widest(glass, recess)
    return Local(least.value, least.part, least.at, least.part), Local(largest.value, largest.part, largest.at, largest.part)


def drawn_width(subject: Subject) -> Local:
    """Least width of the frit, fade included, mm from the glass edge, and where it is."""
    if subject.pane.frit_outline is None:
        return Local(subject.sizes.frit_width.value, ALL_ROUND)
    return _least_between(subject.detail.curves.glass, subject.detail.curves.frit_inner)


@lru_cache(maxsize=64)
def _least_between(glass: Outline, inner: Outline) -> Local:
    """Exact least distance between glass edge and print, and its place; 0 where the edge of the print leaves the glass."""
    parts = segments(inner)
    ends = [distance_from(glass, part.start) for part in parts]
    nearest = min(range(len(parts)), key=lambda index: round(ends[index], 6))
    # The narrowest vertex bounds the search; the narrowest place lies on it or on a segment beside it.
    beside = (parts[nearest - 1], parts[nearest])
    spots = [part.point_at(step / 16) for part in beside for step in range(17)]
    narrow = min(spots, key=lambda place: round(distance_from(glass, place), 6))
    least = distance_between(glass, inner, within=ends[nearest] + 1e-6)
    return Local(least if point_in(glass, parts[nearest].start) else 0.0, spot(narrow), narrow)


def spot(place: Point) -> str:
    """A place of the plan in words: from the origin, seen from outside."""
    return f"X {number(place.x, 0)}, Y {number(place.y, 0)}"


__all__ = [
    "ALL_ROUND",
    "Local",
    "allowed_bow",
    "bead_area",
    "bow_of_pane",
    "bow_over_pane",
    "bow_read",
    "by_bow",
    "contact_at_widest",
    "drawn_width",
    "flush_tolerance_of",
    "joint_input",
    "joints_as_drawn",
    "largest_gap",
    "longest_side",
    "ordered_tolerance",
    "proud_of",
    "sides_of_box",
    "spot",
    "squeeze_out",
    "squeeze_out_of",
    "taken_at_tightest",
    "thickness_read",
    "tightest_gap",
    "tolerance",
]
