"""The joint all round: what is left of it at the worst tolerances, and the strain of the sealant in it.

Terms
-----
joint left
    The joint as drawn less what recess, pane and placing may take off one side of it. A recess with an outline of its own is
    measured all round, as it was surveyed and with the pane as it is drawn: only tolerances that the job file gives come off.
side, corner
    Sides are judged: straight edges, and the whole of a round outline. In a rounded corner the sealant opens along the diagonal
    and more than at the sides, but not every tolerance is at its worst in both directions at once: over the class there, a
    person looks.
"""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING, Any

from geometry.findings.checks import found_by
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import corners, distance_between
from geometry.rules.calculation import Status
from geometry.rules.holding import joint
from geometry.rules.rounding import mm, number, up
from geometry.workings.movement import JointMovement, movement_of, side_tolerance
from geometry.workings.section_sums import ALL_ROUND, Local, tolerance
from geometry.workings.stacks import joint_contributions, taken_in_words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.movement import CaseMovement, Movement
    from geometry.workings.subject import Subject

WITHIN_CLASS = "movement class of ISO 11600; joint by the method of ASTM C1472, from memory"

Place = tuple["CaseMovement", JointMovement]


LEFT = Constraint(
    "joint left at the worst tolerances",
    side=Side.AT_LEAST,
    unit="mm",
    source="common practice, no source",
    status=Status.COMMON_PRACTICE,
    limit_key="limits.joint_least",
)
WIDEST = Constraint(
    "joint not too wide at the worst tolerances",
    side=Side.AT_MOST,
    unit="mm",
    source="common practice, no source",
    status=Status.COMMON_PRACTICE,
    limit_key="limits.joint_most",
)
STRAIN = Constraint(
    "sealant strain within its movement class",
    side=Side.AT_MOST,
    unit="%",
    source=WITHIN_CLASS,
    status=Status.FROM_MEMORY,
    limit_key="sealant.movement_class",
)
CORNER_STRAIN = Constraint(
    "sealant strain in the rounded corners within its movement class",
    side=Side.AT_MOST,
    unit="%",
    source="rigid pane against the stretching frame; the joint's tolerance is that of one side",
    status=Status.DERIVED,
    short=Verdict.LOOK,
    limit_key="sealant.movement_class",
)


STEP = Constraint(
    "tolerance of the pane covers the step of its plies",
    side=Side.AT_LEAST,
    unit="mm",
    source="EN ISO 12543-5: the step is part of the size; its limits from memory",
    status=Status.FROM_MEMORY,
    short=Verdict.LOOK,
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


def _of_the_joint(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    movement = movement_of(subject, ledger)
    return (
        _left(subject, ledger, movement),
        _widest(subject, ledger, movement),
        side_strain(subject, ledger, movement),
        *corner_strain(subject, ledger, movement),
    )


def _left(subject: Subject, ledger: Ledger, movement: Movement) -> Finding:
    tolerance, limit = side_tolerance(subject, ledger), subject.limit("joint_least")
    taken = 0.0 if tolerance is None else float(tolerance.value)
    least, drawn = _least_drawn(subject, movement, taken)
    left = ledger.work(
        "least joint",
        joint.least_width,
        joint_width=subject.sizes.joint_width if drawn is None else drawn,
        tolerance=0.0 if tolerance is None else tolerance,
    )
    width = subject.sizes.joint_width.value if drawn is None else drawn
    if tolerance is None:
        says = f"{mm(left.value)} to the recess as surveyed; the job gives no tolerance to take off it"
    else:
        says = f"{mm(width)} as {'drawn' if drawn is None else 'surveyed'} less {mm(taken)} of tolerance leaves {mm(left.value)}"
        if left.value < limit.value <= width:  # by the tolerances alone
            says += f": {taken_in_words(joint_contributions(subject))}"
    return LEFT.judged(
        value=left.value,
        limit=limit.value,
        where=least.where,
        at=least.at,
        part=least.part,
        says=says,
        remedies=lambda: _wider(subject, lambda _: limit.value, movement, ledger),
        figure=left,
        defaults=(limit.key,) if limit.origin.value == "default" else (),
    )


def _least_drawn(subject: Subject, movement: Movement, taken: float) -> tuple[Local, float | None]:
    """Where the joint is least and how wide it is drawn there; None where the recess follows the pane: the joint of the job."""
    if not subject.surveyed:
        return Local(subject.sizes.joint_width.value, ALL_ROUND), None
    least = min(movement.cases[0].joints, key=lambda each: round(each.left, 9))
    drawn = least.left + taken
    if not subject.detail.glass_cuts_recess:  # exact between the places as well
        drawn = min(drawn, distance_between(subject.detail.curves.glass, subject.detail.curves.recess))
    return Local(drawn, _spot(least), least.point, least.edge), drawn


def _widest(subject: Subject, ledger: Ledger, movement: Movement) -> Finding:
    tolerance, limit = side_tolerance(subject, ledger), subject.limit("joint_most")
    width, drawn = subject.sizes.joint_width.value, None
    wide = Local(width, ALL_ROUND)
    if subject.surveyed:
        taken = 0.0 if tolerance is None else float(tolerance.value)
        place = max((each for each in movement.cases[0].joints if not each.corner), key=lambda each: round(each.left, 9))
        drawn = width = place.left + taken
        wide = Local(width, _spot(place), place.point, place.edge)
    widest = ledger.work(
        "widest joint",
        joint.widest_width,
        joint_width=subject.sizes.joint_width if drawn is None else drawn,
        tolerance=0.0 if tolerance is None else tolerance,
    )
    narrow = math.floor((limit.value - (widest.value - width)) / 0.5 + 1e-9) * 0.5
    remedies = []
    if drawn is None and narrow > 0:
        remedies.append(Remedy(f"narrow the joint to {mm(narrow)}", _joint_changes(subject, narrow)))
    elif drawn is not None:
        remedies.append(Remedy(f"build up the recess at {wide.where} by {mm(up(widest.value - limit.value, 0.5))}"))
    return WIDEST.judged(
        value=widest.value,
        limit=limit.value,
        where=wide.where,
        at=wide.at,
        part=wide.part,
        says=f"{mm(widest.value)} to fill where recess and pane are worst",
        remedies=tuple(remedies),
        figure=widest,
        defaults=(limit.key,) if limit.origin.value == "default" else (),
    )


def side_strain(subject: Subject, ledger: Ledger, movement: Movement, must: Constraint = STRAIN, how: str = "") -> Finding:
    """The sealant of the sides in a movement; ``how`` tells it from another one among the figures."""
    case, place = _worst(movement, corner=False)
    limit = subject.asked("sealant.movement_class", unit="%")
    look = subject.limit("sealant_look")
    allowed = limit.value * look.value / 100
    where = f"{_spot(place) if subject.surveyed else place.edge}, {case.name}"
    remedies = partial(_strain_remedies, subject, ledger, movement, allowed / 100)
    if place.left <= 0.0:  # no width to relate a movement to: the joint itself is held against what the movement needs
        opening, along = _moved(ledger, case, place, how)
        needed = ledger.work(
            f"joint to be left for the movement{how}",
            joint.least_width_for,
            opening=opening,
            movement_along=along,
            movement_class=limit.value / 100,
        )
        return must.but(side=Side.AT_LEAST, unit="mm", limit_key="").judged(
            value=place.left,
            limit=needed.value,
            where=where,
            at=place.point,
            part=place.edge,
            says=f"no joint is left at the worst tolerances; the movement needs {mm(needed.value)}",
            remedies=remedies,
            figure=needed,
            defaults=case.defaults,
        )
    figure = _strain_figure(ledger, "strain of the sealant", how, case, place)
    return must.judged(
        value=100 * figure.value,
        limit=limit.value,
        look=allowed,
        where=where,
        at=place.point,
        part=place.edge,
        says=_strain_says(subject, case, place),
        remedies=remedies,
        figure=figure,
        defaults=(*case.defaults, *defaults_of(limit, look)),
    )


def corner_strain(
    subject: Subject, ledger: Ledger, movement: Movement, must: Constraint = CORNER_STRAIN, how: str = ""
) -> tuple[Finding, ...]:
    """The rounded corners; none on a pane without, nor where the corner's joint itself is gone: that is another finding."""
    if not any(place.corner and place.left > 0.0 for place in movement.cases[0].joints):
        return ()
    case, place = _worst(movement, corner=True)
    limit = subject.asked("sealant.movement_class", unit="%")
    figure = _strain_figure(ledger, "strain of the sealant in a corner", how, case, place)
    return (
        must.judged(
            value=100 * figure.value,
            limit=limit.value,
            where=f"{place.edge}, {case.name}",
            at=place.point,
            part=place.edge,
            says=_strain_says(subject, case, place),
            remedies=lambda: _corner_remedies(subject, movement, limit.value / 100),
            figure=figure,
            defaults=case.defaults,
        ),
    )


def _worst(movement: Movement, *, corner: bool) -> Place:
    """The place of the sides, or of the rounded corners, where the sealant is strained most, and in which case."""
    places = [
        (case, place)
        for case in movement.all_cases()
        for place in case.joints
        if place.corner is corner and (not corner or place.left > 0.0)
    ]
    closed = [each for each in places if each[1].left <= 0.0]
    if closed:  # the place that lacks most, over its own movement
        return max(closed, key=lambda each: round(abs(each[1].opening) - each[1].left, 9))
    most = max([abs(place.strain) for _, place in places]) - 1e-8
    return max((each for each in places if abs(each[1].strain) >= most), key=lambda each: round(abs(each[1].strain), 9))


def _moved(ledger: Ledger, case: CaseMovement, place: JointMovement, how: str) -> tuple[Figure, Figure]:
    """From the movement of the bead to that of the joint: how far it opens at a place, and how far the glass moves along it."""
    inputs: dict[str, Any] = {
        "shift": case.shear.shift,
        "turn": case.shear.turn,
        "arm": tuple(place.arm),
        "outward": tuple(place.outward),
        "differential_strain": case.differential_strain,
    }
    if case.racking:
        inputs["racking"] = case.racking
    swell = {"swell": place.swell} if place.swell else {}
    where = f"{_spot(place)}, {case.name}"
    return (
        ledger.work(f"opening of the joint{how}", joint.opening_at, where=where, **inputs, **swell),
        ledger.work(f"movement along the joint{how}", joint.movement_along_at, where=where, **inputs),
    )


def _strain_figure(ledger: Ledger, what: str, how: str, case: CaseMovement, place: JointMovement) -> Figure:
    opening, along = _moved(ledger, case, place, how)
    return ledger.work(
        f"{what}{how}",
        joint.greatest_strain,
        opening=opening,
        movement_along=along,
        least_width=place.left,
    )


def _strain_says(subject: Subject, case: CaseMovement, place: JointMovement) -> str:
    way = "opens" if place.opening >= 0 else "closes"
    how = " with the swell of the stile" if subject.pane.timber is not None and place.opening < 0 else ""
    stands = "lifted off its chocks" if case.lifted else "on its chocks" if case.other is not None else ""
    moved = f"the joint {way} by {number(abs(place.opening), 2)} mm{how} and shifts {number(place.along, 2)} mm along"
    return f"{moved}, {mm(place.left)} of it being left" + (f", the pane {stands}" if stands else "")


def _spot(place: JointMovement) -> str:
    return f"{place.edge}, X {number(place.point.x, 0)}, Y {number(place.point.y, 0)}"


# Remedies.


def _strain_remedies(subject: Subject, ledger: Ledger, movement: Movement, allowed: float) -> tuple[Remedy, ...]:
    """A wider joint, a better sealant or, in a recess as surveyed, a smaller pane."""
    remedies = list(_wider(subject, lambda place: _least_for(place, allowed), movement, ledger))
    best, sides = 100 * joint.MOVEMENT_CLASSES[-1], _sides(movement)
    share = best / 100 * subject.limit("sealant_look").value / 100
    least = max(_least_for(place, share) for place in sides)
    if subject.job.sealant.movement_class < best and least <= min(place.left for place in sides):
        remedies.insert(0, Remedy(f"take a sealant of class {number(best)}", (Change("sealant.movement_class", best),)))
    return tuple(remedies)


def _corner_remedies(subject: Subject, movement: Movement, allowed: float) -> tuple[Remedy, ...]:
    """A joint as wide as the corner that lacks most asks for; in a recess as surveyed a smaller pane."""
    rounded = [each for case in movement.all_cases() for each in case.joints if each.corner and each.left > 0.0]
    short = {each: _least_for(each, allowed) - each.left for each in rounded}
    tightest = max(rounded, key=lambda each: round(short[each], 9))
    missing = up(short[tightest], 0.5)
    if subject.surveyed:
        return _for_a_survey(subject, tightest, missing) if missing > 0 else ()
    wider = subject.sizes.joint_width.value + missing
    return (Remedy(f"widen the joint to {mm(wider)}", _joint_changes(subject, wider)),)


def _sides(movement: Movement) -> list[JointMovement]:
    return [place for case in movement.all_cases() for place in case.joints if not place.corner]


def _least_for(place: JointMovement, allowed: float) -> float:
    """Joint to be left at a place, mm, so that its sealant is not strained over a share."""
    return joint.least_width_for(opening=place.opening, movement_along=place.along, movement_class=allowed)


def _wider(subject: Subject, needed: Callable[[JointMovement], float], movement: Movement, ledger: Ledger) -> tuple[Remedy, ...]:
    """What leaves the joint that is ``needed`` at every side: a pane made closer, a wider joint; in a survey a smaller pane."""
    every = _sides(movement)
    if subject.surveyed:
        worst = max(every, key=lambda place: round(needed(place) - place.left, 9))
        return _for_a_survey(subject, worst, up(needed(worst) - worst.left, 0.5))
    tolerance = side_tolerance(subject, ledger)
    assert tolerance is not None  # only a survey goes without
    left, drawn = max(needed(place) for place in every), subject.sizes.joint_width.value
    sizer, remedies = subject.sizer, []
    closer = joint.pane_tolerance_for(
        joint_width=drawn, joint_left=left, recess=sizer.recess_tolerance(), placing=sizer.placing().value
    )
    closer = math.floor(closer / 0.5 + 1e-9) * 0.5
    if subject.limit("pane_tolerance_closest").value <= closer < sizer.pane_tolerance():
        remedies.append(Remedy(f"order the pane to ± {mm(closer)}", (Change("tolerances.pane", closer),)))
    wider = up(left + tolerance.value, 0.5)
    remedies.append(Remedy(f"widen the joint to {mm(wider)}", _joint_changes(subject, wider)))
    return tuple(remedies)


def _joint_changes(subject: Subject, width: float) -> tuple[Change, ...]:
    """Another joint width, with the landing and the radii of the recess that follow it, where the job gives them."""
    more = width - subject.sizes.joint_width.value
    changes = [Change("joint.width", width)]
    recess = subject.pane.recess
    if recess.landing is not None:
        changes.append(Change("recess.landing", recess.landing + more))
    if isinstance(recess.radius, tuple):
        sharp = corners(subject.detail.curves.glass)
        grow = (
            [more if corner.convex else -more for corner in sharp]
            if len(sharp) == len(recess.radius)
            else [more] * len(recess.radius)
        )
        radii = [max(0.0, radius + each) for radius, each in zip(recess.radius, grow, strict=True)]
        changes.append(Change("recess.radius", radii))
    elif recess.radius is not None:
        changes.append(Change("recess.radius", max(0.0, recess.radius + more)))
    return tuple(changes)


def _for_a_survey(subject: Subject, worst: JointMovement, short: float) -> tuple[Remedy, ...]:
    off = Remedy(f"take {mm(short)} off the recess at {_spot(worst)}, and wherever less than {mm(worst.left + short)} is left")
    smaller = _smaller_pane(subject, short)
    return (off,) if smaller is None else (smaller, off)


def _smaller_pane(subject: Subject, by: float) -> Remedy | None:
    """The pane re-ordered smaller all round by ``by`` mm, in its place in the recess; None for a form that cannot be."""
    form, sharp = subject.pane.outline, corners(subject.detail.curves.glass)
    words = f"order the pane anew, {mm(2 * by)} smaller each way"
    if subject.pane.outline_worked_out:
        return None
    if form.circle is not None:
        return Remedy(words, (Change("outline", {"circle": form.circle - 2 * by}),)) if form.circle > 2 * by else None
    if form.corner_count == 0 or len(sharp) != form.corner_count:
        return None
    left, bottom = subject.pane.origin
    places: list[list[float]] = []
    for corner in sharp:
        # the bisector points into the glass at every corner, also at a re-entrant one
        along = by / math.sin(math.radians(corner.interior_angle) / 2)
        x, y = corner.theoretical.x + along * corner.bisector.x, corner.theoretical.y + along * corner.bisector.y
        places.append([round(x + left, 6), round(y + bottom, 6)])
    outline: dict[str, Any] = {"polygon": places}
    if form.radius is not None:
        outline["radius"] = _radii(form.radius)
    return Remedy(words, (Change("outline", outline),))


def _radii(radius: float | Sequence[float]) -> Any:
    return list(radius) if isinstance(radius, tuple) else radius


def _step(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Only of a laminate: a ply that stands out further than the pane may be too large narrows the joint more than was counted."""
    if len(subject.pane.glass.plies) < 2:
        return ()
    step, size = tolerance(subject, "ply_step"), tolerance(subject, "pane")
    closer, wider = Change("tolerances.ply_step", size.value), Change("tolerances.pane", step.value)
    return (
        STEP.judged(
            value=size.value,
            limit=step.value,
            says=f"one ply may stand out {mm(step.value)} beyond another, the pane may be {mm(size.value)} too large",
            remedies=(
                Remedy(f"agree with the supplier on plies that step by {mm(size.value)} at most", (closer,)),
                Remedy(f"count ± {mm(step.value)} on the pane", (wider,)),
            ),
            defaults=defaults_of(step, size),
        ),
    )


CHECKS = (_of_the_joint, _step)


__all__ = ["CORNER_STRAIN", "LEFT", "STRAIN", "WIDEST", "corner_strain", "findings", "side_strain"]
