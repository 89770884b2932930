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
from collections.abc import Sequence
from dataclasses import dataclass

from geometry.rules.fit import section
from geometry.rules.holding import bond
from geometry.rules.rounding import mm, number, up
from geometry.sizing.governing import Candidate, Sized, governed, largest

NOZZLE_SERIES = (10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0)
"""Bond widths the nozzles are cut for, mm; common practice."""

TOUCH = 1e-9
LEAST_WIDTH = "the least bond width"
THICKNESS_STEP = 0.5


@dataclass(frozen=True, slots=True)
class BeadLimits:
    """What a bead is held against; each may be set by the office. mm unless said otherwise, common practice unless said otherwise."""

    series: tuple[float, ...] = NOZZLE_SERIES
    width_least: float = 10.0
    width_to_thickness: float = 3.0  # from memory of ETAG 002
    width_over_thickness: float = 1.0  # from memory of ETAG 002
    thickness_least: float = 5.0
    thickness_least_small: float = 3.0
    small_side: float = 500.0  # longest side up to which a pane is small; this project's own default
    thickness_most: float = 10.0
    left_anywhere: float = 2.0
    slenderness: float = 1.9  # height of the fresh bead for 1 mm of its width
    height_most: float = 22.0
    contact_over_gap: float = 2.0
    nozzle_bore: float = 20.0  # this project's own default
    nozzle_wall: float = 2.0  # bore beyond the notch
    thickness_per_metre: float = 1.0  # of the longest side, mm/m
    thickness_base: float = 3.0
    bow_share: float = 0.5  # of the bow, not pressed out by hand
    thickness_step: float = THICKNESS_STEP  # to which the thickness is rounded up
    notch_times: float = 3.0  # height of the notch for 1 mm of bond thickness


def width_needs(
    *,
    outward_pressure: float | None,
    inscribed_radius: float,
    design_tension: float = 0.14,
    permanent_load: float = 0.0,
    permanent_stress: float = 0.007,
    bead_length: float = 0.0,
    area: float = 0.0,
    round_pane: bool = False,
    least: float = 10.0,
    wet_share: float = 1.0,
) -> list[Candidate]:
    """What asks for bond width. ``wet_share`` is the wet width at the widest gap as a share of the bond width.

    The pressure (kPa; None: none is given) pulls on the wet width; the permanent load (N) is a mean over the whole bead, wide
    and tight places together, so it counts on the bond width itself. The rest as in ``bond_width``.
    """
    found: list[Candidate] = []
    if outward_pressure is not None:
        worst = "" if wet_share > 1 - TOUCH else " at the widest gap"
        edge = bond.width_for_pressure(
            outward_pressure=outward_pressure,
            inscribed_radius=inscribed_radius / 2 if round_pane else inscribed_radius,
            design_tension=design_tension,
        )
        found.append((f"outward pressure{worst}", edge / wet_share))
        if area > 0 and bead_length > 0:
            mean = bond.width_for_mean_pressure(
                outward_pressure=outward_pressure, area=area, bead_length=bead_length, design_tension=design_tension
            )
            found.append((f"outward pressure, even all round{worst}", mean / wet_share))
    if permanent_load > 0 and bead_length > 0:
        lasting = bond.width_for_permanent_load(
            permanent_load=permanent_load, permanent_stress=permanent_stress, bead_length=bead_length
        )
        found.append(("the permanent load", lasting))
    found.append((LEAST_WIDTH, least))
    return found


def told_width(candidates: Sequence[Candidate], value: float, *, pressure_given: bool) -> Sized:
    """The sentence of a bond width. A pressure that is not given is not zero: the sentence says so."""
    found = governed(candidates, value)
    if pressure_given:
        return found
    name, need = max(candidates, key=lambda candidate: candidate[1])
    stands = name == LEAST_WIDTH or need <= dict(candidates)[LEAST_WIDTH] + TOUCH
    return found.remarked("no outward pressure is given" + (", so the least width stands" if stands else ""))


def bond_width(
    *,
    outward_pressure: float | None,
    inscribed_radius: float,
    design_tension: float = 0.14,
    permanent_load: float = 0.0,
    permanent_stress: float = 0.007,
    bead_length: float = 0.0,
    area: float = 0.0,
    round_pane: bool = False,
    least: float = 10.0,
    series: Sequence[float] = NOZZLE_SERIES,
    wet_share: float = 1.0,
) -> Sized:
    """Bond width from outward pressure (kPa), permanent load (N) and the least width, rounded up to the nozzle series.

    ``permanent_load`` is 0 for a chocked pane without pull-off (see ``bond.permanent_load``); it needs ``bead_length``.
    ``area`` (mm²) with ``bead_length`` adds the even pull, which governs round panes; ``round_pane`` halves the pull at the edge
    of a circle. A pressure of None is not zero: the reason says that none is given and the least width stands. Above the series
    the width is rounded up to a whole millimetre and marked as outside.
    """
    candidates = width_needs(
        outward_pressure=outward_pressure,
        inscribed_radius=inscribed_radius,
        design_tension=design_tension,
        permanent_load=permanent_load,
        permanent_stress=permanent_stress,
        bead_length=bead_length,
        area=area,
        round_pane=round_pane,
        least=least,
        wet_share=wet_share,
    )
    wanted = largest(candidates)
    for step in sorted(series):
        if step >= wanted - TOUCH:
            return told_width(candidates, step, pressure_given=outward_pressure is not None)
    found = told_width(candidates, up(wanted), pressure_given=outward_pressure is not None)
    return found.remarked(over_the_series(series), outside=True)


def bond_thickness(
    *,
    bond_width: float,
    longest_side: float,
    movement: float = 0.0,
    bow: float | None = None,
    bow_per_metre: float = 1.5,
    spacer_tolerance: float = 0.5,
    landing_flatness: float = 1.0,
    shear_strain: float = 0.5,
    small_side: float = 500.0,
    least_small: float = 3.0,
    least_general: float = 5.0,
    least_anywhere: float = 2.0,
    widest: float = 3.0,
    most: float = 10.0,
    per_metre: float = 1.0,
    base: float = 3.0,
    bow_share: float = 0.5,
    step: float = THICKNESS_STEP,
    more: Sequence[Candidate] = (),
) -> Sized:
    """Bond thickness, rounded up to ``step``; above ``most`` it is marked as outside.

    ``movement`` is the largest differential movement of any point of the bead, mm; its shear strain is held at the tightest
    place, so the spacer tolerance is added. ``bow`` is that of the pane, mm; left out it is ``bow_per_metre`` (mm/m) over the
    longest side. Panes up to ``small_side`` take the lesser least thickness. ``more`` are further needs of the caller.
    """
    sag = bow_per_metre * longest_side / 1000 if bow is None else bow
    small = longest_side <= small_side
    proportion = "a third of the bond width" if widest == 3 else f"the bond width / {number(widest)}"
    heat = bond.thickness_for_movement(movement=movement, shear_strain=shear_strain)
    candidates = [
        ("the least thickness of a small pane", least_small) if small else ("the least thickness", least_general),
        ("heat movement", heat + spacer_tolerance if movement > 0 else 0.0),
        (proportion, bond.thickness_for_proportion(bond_width=bond_width, widest=widest)),
        (
            "bow and flatness",
            bond.thickness_for_flatness(
                bow=sag,
                spacer_tolerance=spacer_tolerance,
                landing_flatness=landing_flatness,
                bow_share=bow_share,
                least_anywhere=least_anywhere,
            ),
        ),
        ("the length of the pane", bond.thickness_for_length(longest_side=longest_side, per_metre=per_metre, base=base)),
        *more,
    ]
    found = governed(candidates, up(largest(candidates), step))
    if found.value > most + TOUCH:
        return found.remarked(f"over {mm(most)} it sags and cures badly in one pass", outside=True)
    return found


def least_notch_height(*, widest_gap: float, limits: BeadLimits) -> float:
    """Height from which the bead is wet in full at the widest gap: twice the gap."""
    return max(2 * widest_gap, widest_gap + limits.contact_over_gap)


def notch(
    *,
    bond_width: float,
    bond_thickness: float,
    widest_gap: float,
    limits: BeadLimits | None = None,
    width: float | None = None,
    height: float | None = None,
) -> tuple[Sized, Sized]:
    """Width and height of the V notch, mm, whose bead has the pressed section.

    Three bond thicknesses high and two thirds of the bond width wide where that is wet in full at the widest gap and stands up;
    else the nearest height that does, in half millimetres, with the width that keeps the section. Where none does, the height
    that is wet stands and is marked as outside. A ``width`` or ``height`` that is given is kept and the other one follows.
    """
    held = BeadLimits() if limits is None else limits
    pressed = 2 * bond_width * bond_thickness
    if width is not None or height is not None:
        if height is None and width is not None:
            tall = section.notch_height_for(bond_width=bond_width, bond_thickness=bond_thickness, notch_width=width)
        else:
            tall = float(height or 0)
        wide = pressed / tall if width is None else width
        same = "the section of the pressed bead"
        return Sized(wide, f"{mm(wide)}: {same}"), Sized(tall, f"{mm(tall)}: {same}")
    wet = least_notch_height(widest_gap=widest_gap, limits=held)
    bored = pressed / max(held.nozzle_bore - held.nozzle_wall, 1.0)  # lower, and the base is wider than the nozzle's bore
    least = max(wet, bored)
    most = min(held.height_most, math.sqrt(held.slenderness * pressed))
    times = held.notch_times
    usual = section.notch_height(bond_thickness=bond_thickness, times=times)
    counted = "three" if times == 3 else number(times, 2)
    instead = f"{counted} bond thicknesses would be {number(usual)}"
    why = f"wet at the widest gap of {number(widest_gap)}" if wet >= bored else f"a base that fits a bore of {held.nozzle_bore:g}"
    if wet > most + TOUCH:
        tall = wet
        reason = (
            f"wet at the widest gap of {number(widest_gap)}; over the {number(most)} that stands up: two beads or a flatter pane"
        )
    elif bored > most + TOUCH:
        tall = most
        reason = f"the most that stands up; its base wants a nozzle with a bore of {number(pressed / tall + held.nozzle_wall)}"
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
