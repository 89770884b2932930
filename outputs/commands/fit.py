"""``fritline fit``: the pane as it was made, or as it is ordered, in the recess as it stands, with the proof that none lies better."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from outputs.commands.exit_codes import DONE, FAILS
from outputs.commands.jobs import Given, answer, each_of, jobs_of
from outputs.commands.memory import spare_imports
from outputs.commands.shared import details_of, echo, libraries_explained, print_json, progress

if TYPE_CHECKING:
    from geometry.compare.best_fit import Fit
    from geometry.job import Pane
    from geometry.outline import Point
    from geometry.workings.pane_fit import PaneFit, Reading, Room


@dataclass(frozen=True)
class _Fitted:
    given: Given
    fits: Sequence[PaneFit]


def fit(paths: Sequence[str], codes: Sequence[str], *, as_json: bool) -> int:
    """Fit the chosen panes; the exit code says whether one does not fit. Raises ``InputError``."""
    given = jobs_of(paths, codes)
    with libraries_explained():
        fitted = each_of(given, _fitted)
    if as_json:
        entries = [_job_data(each) for each in fitted]
        verdict = "pass" if all(entry["verdict"] == "pass" for entry in entries) else "fail"
        print_json(answer(entries, verdict=verdict))
    else:
        for each in fitted:
            for pane, found in zip(each.given.panes, each.fits, strict=True):
                echo("\n".join(_lines(pane, found)) + "\n")
        from outputs.record.words import AN_AID

        echo(AN_AID)
    return DONE if all(found.holds for each in fitted for found in each.fits) else FAILS


def _fitted(given: Given) -> _Fitted:
    with progress(2 * len(given.panes)) as step:
        details = details_of(given.job, given.panes, given.name, step)

        from geometry.workings.pane_fit import fit_of_pane
        from geometry.workings.subject import Subject

        spare_imports()
        fits = []
        for pane, detail in zip(given.panes, details, strict=True):
            step(f"fitting {pane.code}")
            fits.append(fit_of_pane(Subject(given.job, pane, detail)))
        return _Fitted(given, fits)


def _job_data(fitted: _Fitted) -> dict[str, Any]:
    panes = [pane_data(pane, found) for pane, found in zip(fitted.given.panes, fitted.fits, strict=True)]
    entry: dict[str, Any] = {"job": fitted.given.name, "verdict": "pass" if all(f.holds for f in fitted.fits) else "fail"}
    first = {key: panes[0][key] for key in ("least_gap_mm", "shift_mm", "turn_deg", "gaps", "proof")} if len(panes) == 1 else {}
    return {**entry, **first, "panes": panes}


def pane_data(pane: Pane, found: PaneFit) -> dict[str, Any]:
    """The fit of one pane as plain data."""
    placed, taken = found.placed, found.tolerance
    return {
        "code": pane.code,
        "as_made": found.made,
        "recess": {
            "from": "survey" if found.recess.survey else "outline" if found.recess.own else "order",
            "survey": found.recess.survey or None,
            "measured_points": found.recess.points or None,
        },
        "verdict": "pass" if found.holds else "fail",
        **_placing(placed.free),
        "least_joint_mm": found.joint_least,
        "proof": _proof(placed.free),
        "gaps": [
            {
                "of": each.of,
                "station": each.name or None,
                "side": each.side,
                "edge": each.edge,
                "along_mm": each.along,
                "at_mm": list(each.at),
                "gap_mm": each.gap,
                "on_chocks_mm": each.stood,
            }
            for each in found.stations
        ],
        "on_chocks": None if placed.stood is None else _placing(placed.stood.fit),
        "chocks": [
            {
                "mark": each.mark,
                "at_mm": list(each.at),
                "best_fit_mm": each.free,
                "height_mm": None if each.pieces is None else each.pieces.height,
                "pieces_mm": None if each.pieces is None else list(each.pieces.pieces),
            }
            for each in found.chocks
        ],
        "witness_marks": [
            {
                "edge": each.edge,
                "side": each.side,
                "at_mm": list(each.at),
                "offset_mm": each.offset,
                "way": each.way,
                "gap_mm": each.gap,
            }
            for each in found.marks
        ],
        "room": [
            {
                "what": each.name,
                "verdict": _verdict(each).casefold(),
                "left_mm": each.left,
                "needed_mm": each.needed,
                "at_mm": None if each.at is None else list(each.at),
            }
            for each in found.rooms
        ],
        "readings": [
            {
                "what": each.name,
                "verdict": _read_as(each),
                "made_mm": each.made,
                "ordered_mm": each.ordered,
                "less_mm": each.less,
                "more_mm": each.more,
            }
            for each in found.readings
        ],
        "tolerance_of_one_side": {
            "worst_case_mm": taken.worst,
            "root_of_squares_mm": taken.likely,
            "parts": [{"key": key, "tolerance_mm": value, "moves_mm": moves} for key, value, moves in taken.parts],
        },
        "largest_pane": None
        if found.largest is None
        else {
            "sizes_mm": list(found.largest.sizes) or None,
            "less_mm": found.largest.less,
            "least_gap_mm": found.largest.least_gap,
            "wanted_gap_mm": found.wanted,
        },
    }


def _placing(fit: Fit) -> dict[str, Any]:
    return {
        "least_gap_mm": fit.least_gap,
        "least_gap_at_mm": list(fit.at.on_wall),
        "shift_mm": list(fit.shift),
        "turn_deg": fit.turn,
        "turn_mm_per_m": fit.per_metre,
        "pivot_mm": list(fit.pivot),
    }


def _proof(fit: Fit) -> dict[str, Any]:
    return {
        "largest_least_gap_mm": fit.largest,
        "bound_mm": fit.ceiling,
        "proved": fit.proved,
        "turns_deg": list(fit.turns),
        "programmes": fit.programmes,
        "unbalanced": fit.unbalanced,
        "contacts": [
            {
                "on_pane_mm": list(each.on_pane),
                "on_wall_mm": list(each.on_wall),
                "normal": list(each.square),
                "lever_mm": each.lever,
                "gap_mm": each.gap,
                "multiplier": each.multiplier,
            }
            for each in fit.contacts
        ],
    }


def _mm(value: float, places: int = 2) -> str:
    text = f"{value:.{places}f}"
    return text.replace("-", "−") if float(text) else text.replace("-", "")


def _at(point: Point) -> str:
    return f"X {_mm(point.x, 1)}, Y {_mm(point.y, 1)}"


def _way(value: float, more: str, less: str) -> str:
    return f"{_mm(abs(value))} mm {more if value >= 0 else less}"


def _move(fit: Fit) -> str:
    turn = f"turned {_mm(abs(fit.per_metre))} mm per metre {'to the left' if fit.turn >= 0 else 'to the right'}"
    return f"{_way(fit.shift.x, 'to the right', 'to the left')}, {_way(fit.shift.y, 'up', 'down')}, {turn}"


def _lines(pane: Pane, found: PaneFit) -> Iterator[str]:
    free, stood = found.placed.free, found.placed.stood
    yield f"{pane.code}  {pane.name}".rstrip()
    yield f"  {'as made' if found.made else 'as ordered'}, in {_recess(found)}; seen from outside, mm"
    verdict = "PASS" if free.least_gap >= found.joint_least else "FAIL"
    yield f"  least gap {_mm(free.least_gap)} at {_at(free.at.on_wall)}; least joint {_mm(found.joint_least)}: {verdict}"
    yield f"  best fit: {_move(free)}, about {_at(free.pivot)}"
    yield from _proof_lines(free)
    if stood is not None:
        yield f"  on its chocks: least gap {_mm(stood.fit.least_gap)} at {_at(stood.fit.at.on_wall)}; {_move(stood.fit)}"
    for chock in found.chocks:
        under = "" if chock.pieces is None else f", from the stock {' + '.join(f'{each:g}' for each in chock.pieces.pieces)}"
        yield f"    chock {chock.mark} at {_at(chock.at)}: {_mm(chock.free)} in the best fit{under}"
    if not found.chocks:
        yield "  it stands on no chocks"
    yield "  gap at the stations" + (" (best fit, on chocks)" if stood is not None else "")
    for each in found.stations:
        what = f"{each.name or each.of} at {each.side}, {each.edge} {_mm(each.along, 1)}"
        also = "" if each.stood is None else f"  {_mm(each.stood):>7}"
        yield f"    {what:<34} {_at(each.at):<24} {_mm(each.gap):>7}{also}"
    for mark in found.marks:
        yield f"  witness mark in the middle of {mark.edge} ({mark.side}): {_mm(abs(mark.offset))} {mark.way} along the edge, gap {_mm(mark.gap)}"
    for room in found.rooms:
        where = "" if room.at is None else f" at {_at(room.at)}"
        yield f"  {room.name}: {_mm(room.left)} least{where}; {_mm(room.needed)} needed: {_verdict(room)}"
    for reading in found.readings:
        yield f"  {reading.name} as made: {_mm(reading.made)}; {_asked(reading)}: {_read_as(reading).upper()}"
    yield from _tolerance_lines(found)


def _recess(found: PaneFit) -> str:
    taken = found.recess
    if taken.survey:
        return f"the wall as measured: the {taken.points} points of {taken.survey} joined"
    return "the recess as given" if taken.own else "the recess as ordered: the pane and its joint all round"


def _read_as(reading: Reading) -> str:
    if reading.less is None and reading.more is None:
        return "not checked"
    return "pass" if reading.holds else "look"


def _asked(reading: Reading) -> str:
    if reading.less is not None:
        return f"ordered {_mm(reading.ordered)} ± {reading.less:g}"
    return "no limit given" if reading.more is None else f"at most {_mm(reading.more)}"


def _verdict(room: Room) -> str:
    return "PASS" if room.holds else "LOOK" if room.looks else "FAIL"


def _proof_lines(fit: Fit) -> Iterator[str]:
    spent = fit.largest - fit.least_gap
    centred = f", {_mm(spent, 4)} of it given to centring the other sides" if spent > 5e-5 else ""
    held = f"held by {len(fit.contacts)} contacts that balance to {fit.unbalanced:.0e}"
    yield f"  proof: largest least gap {_mm(fit.largest, 4)}{centred}, {held}:"
    for contact in fit.contacts:
        normal = f"({_mm(contact.square.x, 4)}, {_mm(contact.square.y, 4)})"
        yield f"    {_at(contact.on_wall)}: share {_mm(contact.multiplier, 4)}, square {normal}, lever {_mm(contact.lever, 1)}"
    if fit.ceiling is None:
        return
    low, high = fit.turns
    turns = f"of all placings turned {_mm(low, 0)}° to {_mm(high, 0)}° none has a least gap over {_mm(fit.ceiling, 4)}"
    open_ = "" if fit.proved else f"; {_mm(fit.ceiling - fit.largest, 4)} mm are not proved"
    yield f"    {turns} ({fit.programmes} linear programmes){open_}"


def _tolerance_lines(found: PaneFit) -> Iterator[str]:
    taken = found.tolerance
    parts = ", ".join(f"{key} ±{value:g} takes {moves:g}" for key, value, moves in taken.parts)
    yield f"  tolerance of one side: {_mm(taken.worst)} worst case, {_mm(taken.likely)} root of squares ({parts})"
    if found.largest is None:
        yield f"  no pane of the form ordered keeps a gap of {_mm(found.wanted)}"
        return
    less = found.largest.less or 0
    by = "the order as it is" if less == 0 else f"the order, each size {abs(less)} {'less' if less > 0 else 'more'}"
    sizes = " × ".join(str(size) for size in found.largest.sizes) or by
    gap = f"{_mm(found.largest.least_gap)}, {_mm(found.wanted)} wanted"
    yield f"  largest regular pane that keeps the least joint at these tolerances: {sizes} (least gap {gap})"


__all__ = ["fit", "pane_data"]
