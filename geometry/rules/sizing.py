"""Sizes that were left out, worked out by the rules, each with one sentence that says what governs.

Terms
-----
sized
    A size and its reason. ``outside`` is set where the rules ask for more than the trade usually makes: the value stands,
    unclipped.
candidate
    What one rule asks for; the largest governs, the next is named so that the reader sees how near it came.

The order in which a detail is worked out: bond width, bond thickness, notch, set-back, joint width, landing, recess depth, frit,
spacers, chocks, backfill, backer. All lengths mm unless a docstring says otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from geometry.rules import bead, bond, chocks, frit, joint, section

NOZZLE_SERIES = (10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0)
"""Bond widths the nozzles are cut for, mm; common practice."""


@dataclass(frozen=True, slots=True)
class Sized:
    """A size (mm unless said otherwise), why it is so, and whether it lies outside what the trade usually makes."""

    value: float
    reason: str
    outside: bool = False


def bond_width(
    *,
    outward_pressure: float,
    inscribed_radius: float,
    design_tension: float = 0.14,
    permanent_load: float = 0.0,
    permanent_stress: float = 0.007,
    bead_length: float = 0.0,
    area: float = 0.0,
    round_pane: bool = False,
    least: float = 10.0,
    series: Sequence[float] = NOZZLE_SERIES,
) -> Sized:
    """Bond width from outward pressure (kPa), permanent load (N) and the least width, rounded up to the nozzle series.

    ``permanent_load`` is 0 for a chocked pane without pull-off (see ``bond.permanent_load``); it needs ``bead_length``.
    ``area`` (mm²) with ``bead_length`` adds the even pull, which governs round panes; ``round_pane`` halves the pull at the edge
    of a circle. Above the series the width is rounded
    up to a whole millimetre and marked as outside.
    """
    candidates = [
        (
            "outward pressure",
            bond.width_for_pressure(
                outward_pressure=outward_pressure,
                inscribed_radius=inscribed_radius / 2 if round_pane else inscribed_radius,
                design_tension=design_tension,
            ),
        )
    ]
    if area > 0 and bead_length > 0:
        mean = bond.width_for_mean_pressure(
            outward_pressure=outward_pressure, area=area, bead_length=bead_length, design_tension=design_tension
        )
        candidates.append(("outward pressure, even all round", mean))
    if permanent_load > 0:
        width = bond.width_for_permanent_load(
            permanent_load=permanent_load, permanent_stress=permanent_stress, bead_length=bead_length
        )
        candidates.append(("the permanent load", width))
    candidates.append(("the least bond width", least))
    wanted = max(width for _, width in candidates)
    for step in sorted(series):
        if step >= wanted - 1e-9:
            return _governed(candidates, step)
    found = _governed(candidates, _up(wanted, 1.0))
    remark = f"{found.reason}; over the widest nozzle of {_mm(max(series, default=0.0))}, one for the engineer"
    return Sized(found.value, remark, outside=True)


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
    most: float = 10.0,
    step: float = 0.5,
) -> Sized:
    """Bond thickness, rounded up to ``step``; above ``most`` it is marked as outside.

    ``movement`` is the largest differential movement of any point of the bead, mm. ``bow`` is that of the pane, mm; left out
    it is ``bow_per_metre`` (mm/m) over the longest side. Panes up to ``small_side`` take the lesser least thickness; that limit
    is this project's own default.
    """
    sag = bow_per_metre * longest_side / 1000 if bow is None else bow
    small = longest_side <= small_side
    candidates = [
        ("the least thickness of a small pane", least_small) if small else ("the least thickness", least_general),
        ("heat movement", bond.thickness_for_movement(movement=movement, shear_strain=shear_strain)),
        ("a third of the bond width", bond.thickness_for_proportion(bond_width=bond_width)),
        (
            "bow and flatness",
            bond.thickness_for_flatness(bow=sag, spacer_tolerance=spacer_tolerance, landing_flatness=landing_flatness),
        ),
        ("the length of the pane", bond.thickness_for_length(longest_side=longest_side)),
    ]
    found = _governed(candidates, _up(max(size for _, size in candidates), step))
    if found.value > most:
        return Sized(found.value, f"{found.reason}; over {_mm(most)} it sags and cures badly in one pass", outside=True)
    return found


def joint_width(
    *,
    opening: float,
    closing: float,
    tolerance: float,
    movement_class: float = 0.25,
    least: float = 6.0,
    least_left: float = 3.0,
    most: float = 15.0,
    step: float = 1.0,
) -> Sized:
    """Joint width from the largest opening and closing (mm, moisture swell included) and the tolerance of one side."""
    moved = joint.joint_width_for_movement(
        movement=max(opening, closing), movement_class=movement_class, tolerance=tolerance, least=0.0
    )
    candidates = [
        ("movement and tolerance", moved),
        (f"{_mm(least_left)} left at the worst tolerance", least_left + tolerance),
        ("room for nozzle and tool", least),
    ]
    found = _governed(candidates, _up(max(size for _, size in candidates), step))
    if found.value > most:
        return Sized(found.value, f"{found.reason}; over the {_mm(most)} a joint usually has", outside=True)
    return found


def backfill_depth(*, joint_width: float, glass_thickness: float | None = None, edge_left: float = 2.0) -> Sized:
    """Backfill depth from the joint width; on thin glass it stops ``edge_left`` short of the bond face, marked as outside."""
    depth = joint.backfill_depth(joint_width=joint_width)
    shallow = depth
    if glass_thickness is not None:
        shallow = joint.backfill_depth(joint_width=joint_width, glass_thickness=glass_thickness, edge_left=edge_left)
    if shallow < depth:
        return Sized(shallow, f"{_mm(shallow)}: thin glass; the joint width would need {_number(depth)}", outside=True)
    if depth == joint_width:
        return Sized(depth, f"{_mm(depth)}: as deep as the joint is wide")
    if depth > joint_width:
        return Sized(depth, f"{_mm(depth)}: the least backfill depth; the joint is {_number(joint_width)} wide")
    return Sized(depth, f"{_mm(depth)}: a wide joint is filled about half as deep as wide")


def set_back(
    *,
    spacer_width: float = 5.0,
    frit_start: float = 1.0,
    overspill: float = 1.0,
    beside_spacer: float = 2.0,
    inside_frit_start: float = 3.0,
    beyond_overspill: float = 1.0,
    step: float = 1.0,
) -> Sized:
    """From the glass edge to the bead: room for the spacers, for the print to begin and for the overspill."""
    candidates = [
        ("the spacers stand outside the bead", spacer_width + beside_spacer),
        ("the clear rim before the frit", frit_start + inside_frit_start),
        ("the overspill", overspill + beyond_overspill),
    ]
    return _governed(candidates, _up(max(size for _, size in candidates), step))


def landing(
    *,
    joint_width: float,
    set_back: float,
    bond_width: float,
    overspill: float = 1.0,
    beyond_overspill: float = 2.0,
    least_margin: float = 5.0,
    tolerance: float = 1.0,
    step: float = 1.0,
) -> Sized:
    """Landing that carries joint, set-back, bead and an inner margin, ``tolerance`` of the landing itself added."""
    margin = max(least_margin, overspill + beyond_overspill)
    value = _up(joint_width + set_back + bond_width + margin + tolerance, step)
    inside = value - joint_width - set_back - bond_width
    return Sized(
        value,
        f"{_mm(value)}: joint {_number(joint_width)}, set-back {_number(set_back)}, bond {_number(bond_width)} "
        f"and {_number(inside)} inside the bead",
    )


def recess_depth(*, bond_thickness: float, glass_thickness: float, proud: float = 0.0) -> Sized:
    """Recess depth for a pane flush with the skin, or proud (positive) or sunk (negative)."""
    value = section.recess_depth(bond_thickness=bond_thickness, glass_thickness=glass_thickness, proud=proud)
    lie = "flush" if proud == 0 else f"{_number(abs(proud))} {'proud' if proud > 0 else 'sunk'}"
    return Sized(value, f"{_mm(value)}: bond {_number(bond_thickness)} and glass {_number(glass_thickness)}, {lie}")


def frit_width(
    *,
    set_back: float,
    bond_width: float,
    overspill: float = 1.0,
    print_depth: float = 0.0,
    print_tolerance: float = 2.0,
    fade: float = 0.0,
    landing: float | None = None,
    joint_width: float | None = None,
    bond_thickness: float | None = None,
    step: float = 1.0,
) -> Sized:
    """Frit width from the glass edge, fade included. Give landing, joint width and bond thickness to hide the landing as well."""
    solid = [
        ("twice the bond and the print tolerance", frit.frit_for_twice_the_bond(bond_width=bond_width) + print_tolerance),
        (
            "cover of the bead and the print tolerance",
            frit.frit_for_cover(set_back=set_back, bond_width=bond_width, overspill=overspill, print_depth=print_depth)
            + print_tolerance,
        ),
    ]
    tail = f" with {_number(fade)} of fade" if fade else ""
    candidates = [(name + tail, size + fade) for name, size in solid]
    if landing is not None and joint_width is not None and bond_thickness is not None:
        hidden = frit.frit_to_hide_landing(landing=landing, joint_width=joint_width, bond_thickness=bond_thickness)
        candidates.append(("hiding the landing", hidden))
    return _governed(candidates, _up(max(size for _, size in candidates), step))


def notch_width(*, bond_width: float) -> Sized:
    """Width of the V notch, unrounded."""
    value = section.notch_width(bond_width=bond_width)
    return Sized(value, f"{_mm(value)}: two thirds of the bond width of {_number(bond_width)}")


def notch_height(*, bond_thickness: float) -> Sized:
    """Height of the V notch, unrounded."""
    value = section.notch_height(bond_thickness=bond_thickness)
    return Sized(value, f"{_mm(value)}: three times the bond thickness of {_number(bond_thickness)}")


def spacer_thickness(*, bond_thickness: float, squeeze: float = 0.0) -> Sized:
    """Free height of the spacers; ``squeeze`` is the share they give under the press, 0 when it is not known."""
    value = section.spacer_height(bond_thickness=bond_thickness, squeeze=squeeze)
    if squeeze == 0:
        return Sized(value, f"{_mm(value)}: the bond thickness")
    return Sized(value, f"{_mm(value)}: bond thickness {_number(bond_thickness)}, squeezed by {_number(100 * squeeze)} %")


def spacer_width(*, usual: float = 5.0) -> Sized:
    """Width of the spacers, square to the glass edge; common practice 5 to 8 mm."""
    return Sized(usual, f"{_mm(usual)}: usual width")


def spacer_length(*, usual: float = 25.0) -> Sized:
    """Length of the spacers along the edge; common practice 15 to 30 mm."""
    return Sized(usual, f"{_mm(usual)}: usual length")


def spacer_pitch(*, usual: float = 450.0) -> Sized:
    """Largest distance between spacers along an edge; common practice 300 to 600 mm."""
    return Sized(usual, f"{_mm(usual)}: usual largest spacing")


def chock_length(*, area: float, per_square_metre: float = 27.0, least: float = 50.0) -> Sized:
    """Length of one chock for a pane of ``area`` mm²."""
    by_area = per_square_metre * area * 1e-6
    value = _up(chocks.chock_length(area=area, per_square_metre=per_square_metre, least=least), 1.0)
    return _governed(
        [(f"{_number(per_square_metre)} mm for each m² of glass", by_area), ("the least chock length", least)], value
    )


def chock_height(*, joint_width: float, least: float = 3.0) -> Sized:
    """Height of a chock: the sill joint at its place; under ``least`` it is marked as outside."""
    if joint_width < least:
        return Sized(joint_width, f"{_mm(joint_width)}: the sill joint; under the least of {_mm(least)}", outside=True)
    return Sized(joint_width, f"{_mm(joint_width)}: the sill joint")


def chock_backfill_over(
    *,
    backfill_depth: float,
    plies: Sequence[float],
    interlayers: Sequence[float] = (),
    least: float = 3.0,
) -> Sized:
    """Backfill depth over a chock: reduced from the joint's until the glass bears well enough, not under ``least``.

    Plies from the outside inwards. Marked as outside where even the least backfill leaves too little bearing: the chocks are
    then temporary.
    """
    glass = sum(plies) + sum(interlayers)
    needed = chocks.bearing_depth_needed(plies=plies, interlayers=interlayers)
    room = math.floor(glass - needed + 1e-9)
    value = max(least, min(backfill_depth, float(room)))
    bearing = chocks.bearing_depth(glass_thickness=glass, backfill_over=value)
    if bearing < needed - 1e-9:
        return Sized(
            value,
            f"{_mm(value)}: bears {_number(bearing)} and {_number(needed)} is wanted, the chocks are temporary",
            outside=True,
        )
    if value < backfill_depth:
        return Sized(
            value,
            f"{_mm(value)}: less than the backfill of {_number(backfill_depth)}, so that the glass bears {_number(bearing)}",
        )
    return Sized(value, f"{_mm(value)}: the glass bears {_number(bearing)}, {_number(needed)} is wanted")


def chock_depth(*, bond_thickness: float, glass_thickness: float, backfill_over: float) -> Sized:
    """Depth of a chock from the landing outwards."""
    value = chocks.chock_depth(bond_thickness=bond_thickness, glass_thickness=glass_thickness, backfill_over=backfill_over)
    return Sized(
        value,
        f"{_mm(value)}: bond {_number(bond_thickness)} and glass {_number(glass_thickness)}, "
        f"less {_number(backfill_over)} of backfill over it",
    )


def backer_diameter(*, joint_width: float, oversize: float = 1.25) -> Sized:
    """Diameter of the round backer, unrounded."""
    value = joint.backer_diameter(joint_width=joint_width, oversize=oversize)
    return Sized(value, f"{_mm(value)}: {_number(oversize, 2)} times the joint width of {_number(joint_width)}")


def bead_corner_radius(*, bond_width: float, least: float = 12.0) -> Sized:
    """Least radius of the bead's centre line in a corner."""
    candidates = [("the bond width", bond_width), ("the least a hand gun turns", least)]
    return _governed(candidates, bead.least_corner_radius(bond_width=bond_width, least=least))


def frit_corner_radius(*, bead_corner_radius: float, frit_width: float, bead_centre: float, least: float = 5.0) -> Sized:
    """Radius of the frit's inner edge in a corner."""
    value = frit.frit_corner_radius(
        bead_corner_radius=bead_corner_radius, frit_width=frit_width, bead_centre=bead_centre, least=least
    )
    parallel = bead_corner_radius - (frit_width - bead_centre)
    if parallel >= least:
        return Sized(value, f"{_mm(value)}: parallel to the bead")
    return Sized(value, f"{_mm(value)}: the least a print shows cleanly; parallel to the bead it would be {_number(parallel)}")


def _governed(candidates: Sequence[tuple[str, float]], value: float) -> Sized:
    """The sentence for a value: the first of the largest candidates governs, the next one down is named with its figure."""
    ranked = sorted(candidates, key=lambda candidate: -candidate[1])
    name, need = ranked[0]
    exact = "" if abs(need - value) < 0.05 else f" ({_number(need)})"
    reason = f"{_mm(value)}: {name}{exact}"
    if len(ranked) > 1:
        reason += f"; {ranked[1][0]} would need {_number(ranked[1][1])}"
    return Sized(value, reason)


def _up(value: float, step: float) -> float:
    """Round up to a step; what lies within a millionth of a step counts as on it."""
    return math.ceil(value / step - 1e-6) * step


def _number(value: float, places: int = 1) -> str:
    return f"{round(value, places) + 0.0:.{places}f}".rstrip("0").rstrip(".") if places else f"{value:.0f}"


def _mm(value: float) -> str:
    return f"{_number(value)} mm"
