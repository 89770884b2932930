"""The bead worked out: bond width, bond thickness, notch and set-back, which hang on one another.

Terms
-----
trial
    A bead of one width with the least thickness, notch and set-back that go with it, and what each rule asks of its width.

Why there is a loop: the outward pressure asks for a wet width; the wet width follows from bond width, bond thickness and gap;
the thickness follows from the width (at most three times as wide as thick); the notch follows from both and bounds both;
the length of the bead follows from its centre line, so from width and set-back. The loop is explicit and small: the widths of the
nozzle series one by one, each with its least thickness, until one passes; then thicker bonds at the widest nozzle; then whole
millimetres above the series by halving the interval, marked as outside.

All lengths mm unless a docstring says otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from geometry.rules.fit import section
from geometry.rules.rounding import number, up
from geometry.sizing.bead_sizes import (
    TOUCH,
    BeadTask,
    bond_thickness,
    least_notch_height,
    notch,
    over_the_series,
    told_width,
    width_needs,
)
from geometry.sizing.governing import Candidate, Sized, largest

__all__ = ["MOST_ROUNDS", "MOST_WIDTH", "Bead", "fit_bead"]

MOST_ROUNDS = 20
MOST_WIDTH = 1e6
"""No width above it is tried, mm."""


@dataclass(frozen=True, slots=True)
class Bead:
    """A bead worked out. ``widest_gap`` and ``squeeze_out`` are those of the worst tolerances, ``needs`` what asks for its width."""

    width: Sized
    thickness: Sized
    notch_width: Sized
    notch_height: Sized
    set_back: Sized
    widest_gap: float
    squeeze_out: float
    needs: tuple[Candidate, ...]

    @property
    def wide_enough(self) -> bool:
        """Whether every rule that asks for width is content."""
        return largest(self.needs) <= self.width.value + TOUCH


def fit_bead(task: BeadTask) -> Bead:
    """The narrowest bead of the series that passes every check with the worst tolerances; see the head of this module."""
    limits = task.limits
    series = (task.given_width,) if task.given_width is not None else tuple(sorted(limits.bond_widths))
    found = None
    for width in series:
        found = _trial(task, width)
        if found.wide_enough:
            return _told(task, found)
    widest = found if found is not None else _trial(task, limits.bond_width_least)
    thicker = None if task.given_thickness is not None else _thicker(task, widest)
    if thicker is not None:
        return _told(task, thicker)
    if task.given_width is not None:
        if task.given_thickness is None and not _only_outside(widest):
            short = f"no thickness makes the given width of {number(task.given_width)} enough: {_asks(widest.needs)}"
            widest = replace(widest, thickness=widest.thickness.remarked(short, outside=True))
        return widest
    return _above(task, widest)


def _trial(task: BeadTask, width: float, *, more: Sequence[Candidate] = ()) -> Bead:
    """The bead of one width with the least thickness that goes with it."""
    limits = task.limits
    given = task.given_thickness
    thickness = bond_thickness(task, bond_width=width, more=more) if given is None else Sized(given, "given")
    gap = section.largest_gap(
        bond_thickness=thickness.value,
        spacer_tolerance=task.spacer_tolerance,
        landing_flatness=task.landing_flatness,
        bow=task.bow,
        bow_share=limits.bow_share / 100,
    )
    wide, tall = notch(
        bond_width=width,
        bond_thickness=thickness.value,
        widest_gap=gap,
        limits=limits,
        width=task.given_notch_width,
        height=task.given_notch_height,
    )
    laid = section.uncured_bead_area(notch_width=wide.value, notch_height=tall.value)
    tightest = section.tightest_gap(
        bond_thickness=thickness.value,
        spacer_tolerance=task.spacer_tolerance,
        landing_flatness=task.landing_flatness,
        bow_between_spacers=task.bow_between_spacers,
    )
    squeeze_out = section.squeeze_out(bead_area=laid, least_gap=tightest, bond_width=width)
    set_back = task.set_back(squeeze_out, width)
    centre = section.bead_centre(set_back=set_back.value, bond_width=width)
    needs = width_needs(
        task,
        bead_length=task.bead_length(centre, width),
        wet_share=_wet_share(task, width, thickness.value, gap, wide.value, tall.value),
    )
    times = limits.bond_width_over_thickness
    plain = "as wide as thick" if times == 1 else f"{number(times)} times as wide as thick"
    needs.append((plain, times * thickness.value))
    needs += _needs_of_the_notch(task, thickness.value, gap)
    return Bead(Sized(width, "given"), thickness, wide, tall, set_back, gap, squeeze_out, tuple(needs))


def _wet_share(task: BeadTask, width: float, thickness: float, gap: float, wide: float, tall: float) -> float:
    """Wet width at the widest gap over the bond width."""
    if task.given_notch_width is not None and task.given_notch_height is not None:
        return thickness / gap  # a notch that is given in full is checked elsewhere: no bond width would mend it
    wet = section.contact_width(gap=gap, notch_width=wide, notch_height=tall)
    return max(wet / width, 0.01)


def _needs_of_the_notch(task: BeadTask, thickness: float, gap: float) -> list[Candidate]:
    """Bond width from which an uncured bead stands up and still wets the widest gap."""
    limits = task.limits
    if task.given_notch_width is not None and task.given_notch_height is not None:
        return []
    least = least_notch_height(widest_gap=gap, limits=limits)
    if task.given_notch_width is not None:
        return [("an uncured bead that wets the widest gap", least * task.given_notch_width / (2 * thickness))]
    tall = least if task.given_notch_height is None else task.given_notch_height
    if tall > limits.notch_height_most + TOUCH:
        return []  # a wider bead would not mend it: the notch itself is marked
    return [("an uncured bead that stands up and wets the widest gap", tall**2 / (2 * limits.notch_slenderness * thickness))]


def _thicker(task: BeadTask, widest: Bead) -> Bead | None:
    """The least thicker bond at the widest nozzle that brings the tension down, or None."""
    thickness = widest.thickness.value
    step = task.limits.bond_thickness_step
    while thickness + step <= task.limits.bond_thickness_most + TOUCH:
        thickness += step
        trial = _trial(task, widest.width.value, more=(("the wet width at the widest gap", thickness),))
        if trial.notch_height.outside:
            return None
        if trial.wide_enough:
            return trial
    return None


def _above(task: BeadTask, widest: Bead) -> Bead:
    """Whole millimetres above the series, marked as outside: one for the engineer.

    The need falls as the width grows (the bond gets thicker and the gap weighs less), but for the length of the bead, which falls
    a little with its centre line: so what a width asks for is tried until it is enough, at most ``MOST_ROUNDS`` times, and
    halving the interval finds the least that is.
    """
    low = math.floor(widest.width.value + TOUCH)
    found, high = widest, low
    for _ in range(MOST_ROUNDS):
        high = max(high + 1, int(up(min(largest(found.needs), MOST_WIDTH))))
        found = _trial(task, float(high))
        if found.wide_enough or high >= MOST_WIDTH:
            break
    while found.wide_enough and high - low > 1:
        middle = (low + high) // 2
        trial = _trial(task, float(middle))
        if trial.wide_enough:
            high, found = middle, trial
        else:
            low = middle
    told = _told(task, found)
    return replace(told, width=told.width.remarked(over_the_series(task.limits.bond_widths), outside=True))


def _told(task: BeadTask, bead: Bead) -> Bead:
    """The bead with the sentence of its width."""
    width = told_width(bead.needs, bead.width.value, pressure_given=task.outward_pressure is not None)
    proportion = task.limits.bond_width_to_thickness * bead.thickness.value
    if width.value > proportion + TOUCH:
        remark = f"over {number(proportion)}, {number(task.limits.bond_width_to_thickness)} times the given thickness"
        width = width.remarked(remark, outside=True)
    return replace(bead, width=width)


def _only_outside(bead: Bead) -> bool:
    return bead.thickness.outside


def _asks(needs: Sequence[Candidate]) -> str:
    name, need = max(needs, key=lambda candidate: candidate[1])
    return f"{name} needs {number(need)}"
