"""What asks for bond width, bond thickness and notch, each rule by itself; ``geometry.sizing.bead_fitting`` brings them together.

Terms
-----
widest gap
    Bond thickness with the tolerance of the spacers, the hollow of the landing and half of the pane's bow on top.
wet width
    What the bead touches on the landing at the widest gap. The bead's section is constant, so the wet width falls as the gap grows.

All lengths mm unless a docstring says otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.rules.fit import section
from geometry.rules.holding import bond
from geometry.rules.rounding import mm, number, up
from geometry.sizing.governing import Candidate, Sized, governed, largest

if TYPE_CHECKING:
    from geometry.job.limits import Limits

__all__ = [
    "LEAST_WIDTH",
    "TOUCH",
    "BeadTask",
    "bond_thickness",
    "least_notch_height",
    "notch",
    "over_the_series",
    "told_width",
    "width_needs",
]

TOUCH = 1e-9
LEAST_WIDTH = "the least bond width"


@dataclass(frozen=True, slots=True)
class BeadTask:
    """All a bead is worked out from. ``given_*`` are kept as they are; pressures kPa, loads N, stresses MPa, areas mm².

    ``set_back(squeeze_out, bond_width)`` gives the set-back that goes with a bead, ``bead_length(bead_centre, bond_width)`` the length of
    the bead on its centre line, 0 where it has no room.
    """

    outward_pressure: float | None
    inscribed_radius: float
    area: float
    longest_side: float
    set_back: Callable[[float, float], Sized]
    bead_length: Callable[[float, float], float]
    round_pane: bool
    permanent_load: float
    design_tension: float
    permanent_stress: float
    movement: float
    shear_strain: float
    bow: float
    bow_between_spacers: float
    spacer_tolerance: float
    landing_flatness: float
    limits: Limits
    given_width: float | None = None
    given_thickness: float | None = None
    given_notch_width: float | None = None
    given_notch_height: float | None = None


def width_needs(task: BeadTask, *, bead_length: float, wet_share: float = 1.0) -> list[Candidate]:
    """What asks for bond width. ``wet_share`` is the wet width at the widest gap as a share of the bond width.

    The pressure (None: none is given, which is not zero) pulls on the wet width; a round pane pulls its edge half as hard. The
    permanent load is a mean over the whole bead, wide and tight places together, so it counts on the bond width itself.
    """
    found: list[Candidate] = []
    if task.outward_pressure is not None:
        worst = "" if wet_share > 1 - TOUCH else " at the widest gap"
        edge = bond.width_for_pressure(
            outward_pressure=task.outward_pressure,
            inscribed_radius=task.inscribed_radius / 2 if task.round_pane else task.inscribed_radius,
            design_tension=task.design_tension,
        )
        found.append((f"outward pressure{worst}", edge / wet_share))
        if task.area > 0 and bead_length > 0:
            mean = bond.width_for_mean_pressure(
                outward_pressure=task.outward_pressure,
                area=task.area,
                bead_length=bead_length,
                design_tension=task.design_tension,
            )
            found.append((f"outward pressure, even all round{worst}", mean / wet_share))
    if task.permanent_load > 0 and bead_length > 0:
        lasting = bond.width_for_permanent_load(
            permanent_load=task.permanent_load, permanent_stress=task.permanent_stress, bead_length=bead_length
        )
        found.append(("the permanent load", lasting))
    found.append((LEAST_WIDTH, task.limits.bond_width_least))
    return found


def told_width(candidates: Sequence[Candidate], value: float, *, pressure_given: bool) -> Sized:
    """The sentence of a bond width. A pressure that is not given is not zero: the sentence says so."""
    found = governed(candidates, value)
    if pressure_given:
        return found
    name, need = max(candidates, key=lambda candidate: candidate[1])
    stands = name == LEAST_WIDTH or need <= dict(candidates)[LEAST_WIDTH] + TOUCH
    return found.remarked("no outward pressure is given" + (", so the least width stands" if stands else ""))


def bond_thickness(task: BeadTask, *, bond_width: float, more: Sequence[Candidate] = ()) -> Sized:
    """Bond thickness, rounded up to the step of the limits; above their most it is marked as outside.

    The shear strain of the movement is held at the tightest place, so the spacer tolerance is added. Small panes take the lesser
    least thickness. ``more`` are further needs of the caller.
    """
    limits = task.limits
    small, widest = task.longest_side <= limits.small_pane, limits.bond_width_to_thickness
    proportion = "a third of the bond width" if widest == 3 else f"the bond width / {number(widest)}"
    heat = bond.thickness_for_movement(movement=task.movement, shear_strain=task.shear_strain)
    candidates = [
        ("the least thickness of a small pane", limits.bond_thickness_least_small)
        if small
        else ("the least thickness", limits.bond_thickness_least),
        ("heat movement", heat + task.spacer_tolerance if task.movement > 0 else 0.0),
        (proportion, bond.thickness_for_proportion(bond_width=bond_width, widest=widest)),
        (
            "bow and flatness",
            bond.thickness_for_flatness(
                bow_between_spacers=task.bow_between_spacers,
                spacer_tolerance=task.spacer_tolerance,
                landing_flatness=task.landing_flatness,
                least_anywhere=limits.bond_thickness_anywhere,
            ),
        ),
        (
            "the length of the pane",
            bond.thickness_for_length(
                longest_side=task.longest_side, per_metre=limits.bond_thickness_per_metre, base=limits.bond_thickness_base
            ),
        ),
        *more,
    ]
    step, most = limits.bond_thickness_step, limits.bond_thickness_most
    found = governed(candidates, up(largest(candidates), step))
    if found.value > most + TOUCH:
        return found.remarked(f"over {mm(most)} it sags and cures badly in one pass", outside=True)
    return found


def least_notch_height(*, widest_gap: float, limits: Limits) -> float:
    """Height from which the bead is wet in full at the widest gap: twice the gap."""
    return max(2 * widest_gap, widest_gap + limits.contact_over_gap)


def notch(
    *,
    bond_width: float,
    bond_thickness: float,
    widest_gap: float,
    limits: Limits,
    width: float | None = None,
    height: float | None = None,
) -> tuple[Sized, Sized]:
    """Width and height of the V notch, mm, whose bead has the pressed section.

    Three bond thicknesses high and two thirds of the bond width wide where that is wet in full at the widest gap and stands up;
    else the nearest height that does, in half millimetres, with the width that keeps the section. Where none does, the height
    that is wet stands and is marked as outside. A ``width`` or ``height`` that is given is kept and the other one follows.
    """
    pressed = 2 * bond_width * bond_thickness
    if width is not None or height is not None:
        if height is None and width is not None:
            tall = section.notch_height_for(bond_width=bond_width, bond_thickness=bond_thickness, notch_width=width)
        else:
            tall = float(height or 0)
        wide = pressed / tall if width is None else width
        same = "the section of the pressed bead"
        return Sized(wide, f"{mm(wide)}: {same}"), Sized(tall, f"{mm(tall)}: {same}")
    wet = least_notch_height(widest_gap=widest_gap, limits=limits)
    bored = pressed / max(limits.nozzle_bore - limits.nozzle_wall, 1.0)  # lower, and the base is wider than the nozzle's bore
    least = max(wet, bored)
    most = min(limits.notch_height_most, math.sqrt(limits.notch_slenderness * pressed))
    times = limits.notch_height_to_thickness
    usual = section.notch_height(bond_thickness=bond_thickness, times=times)
    counted = "three" if times == 3 else number(times, 2)
    instead = f"{counted} bond thicknesses would be {number(usual)}"
    why = (
        f"wet at the widest gap of {number(widest_gap)}" if wet >= bored else f"a base that fits a bore of {limits.nozzle_bore:g}"
    )
    if wet > most + TOUCH:
        tall = wet
        reason = (
            f"wet at the widest gap of {number(widest_gap)}; over the {number(most)} that stands up: two beads or a flatter pane"
        )
    elif bored > most + TOUCH:
        tall = most
        reason = f"the most that stands up; its base wants a nozzle with a bore of {number(pressed / tall + limits.nozzle_wall)}"
    elif usual < least - TOUCH:
        tall = up(least, 0.5) if up(least, 0.5) <= most else least
        reason = f"{why} ({number(least)}); {instead}"
    elif usual > most + TOUCH:
        down = math.floor(most * 2 + 1e-6) / 2
        tall = down if down >= least else most
        reason = f"the most that stands up ({number(most)}); {instead}"
    else:
        wide = section.notch_width(bond_width=bond_width, times=times)
        part = "two thirds of the bond width" if times == 3 else f"{number(2 / times, 2)} times the bond width"
        return (
            Sized(wide, f"{mm(wide)}: {part} of {number(bond_width)}"),
            Sized(usual, f"{mm(usual)}: {counted} times the bond thickness of {number(bond_thickness)}"),
        )
    wide, outside = pressed / tall, least > most + TOUCH
    return (
        Sized(wide, f"{mm(wide)}: the section of the pressed bead at a height of {number(tall, 2)}", outside),
        Sized(tall, f"{mm(tall)}: {reason}", outside),
    )


def over_the_series(series: Sequence[float]) -> str:
    """What is said of a bond wider than every nozzle."""
    return f"over the widest nozzle of {mm(max(series, default=0.0))}, one for the engineer"
