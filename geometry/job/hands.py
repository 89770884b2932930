"""Both hands of a pane that is typed once: ``hand = "port and starboard"`` makes a pane for each side of the vessel.

Terms
-----
typed hand
    The pane as it stands in the file; its ``side`` says which hand that is.
other hand
    Its mirror image, seen from outside again: outlines and places along X mirrored, the print on the same face, corners and edges under
    the names of the typed hand. It stands behind all typed panes, so that these keep their numbers.
fellow
    The pane of the other hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from geometry.job.fields import PANE_SIZE, PLACE
from geometry.job.merging import merged, of_its_type, with_shared

if TYPE_CHECKING:
    from geometry.job.positions import KeyPath, Place
    from geometry.job.problem import Problem

BOTH = "port and starboard"
OTHER = {"port": "starboard", "starboard": "port"}
ENDINGS = {"port": "-P", "starboard": "-S"}
"""What the codes of the two panes end in."""
_TURNED = {"left": "right", "right": "left"}


def code_of_hand(code: str, side: str) -> str:
    """The code of one of both hands: ``code_of_hand("W3", "port")`` is "W3-P"."""
    return code + ENDINGS[side]


def both_hands(
    table: Mapping[str, Any], lines: Mapping[KeyPath, Place], office: Mapping[str, Any]
) -> tuple[dict[str, Any], dict[KeyPath, Place]]:
    """The tables of a job, and the places of their keys, with a pane for each hand where a pane asks for both.

    A pane that asks for it and cannot have it is left as it is; the model refuses it.
    """
    panes = table.get("pane")
    if not isinstance(panes, list):
        return dict(table), dict(lines)
    shared = merged({name: value for name, value in table.items() if name != "pane"}, office)
    found, more, places = list(panes), [], dict(lines)
    for index, pane in enumerate(panes):
        if not _asks(pane):
            continue
        side, code = pane["side"], pane["code"]
        typed = {key: value for key, value in pane.items() if key != "hand"}
        names = {"code": code_of_hand(code, side), "pair": code_of_hand(code, OTHER[side])}
        found[index] = {**typed, **names}
        more.append(
            {**_mirrored(typed, with_shared(typed, of_its_type(typed, shared))), "code": names["pair"], "pair": names["code"]}
        )
        behind = len(panes) + len(more) - 1
        places |= {("pane", behind, *path[2:]): line for path, line in lines.items() if path[:2] == ("pane", index)}
    return {**table, "pane": [*found, *more]}, places


def told_once(problems: Iterable[Problem], table: Mapping[str, Any]) -> list[Problem]:
    """Faults without those of the other hand that are told of the typed one."""
    known = list(problems)
    panes = table.get("pane")
    panes = [pane for pane in panes if isinstance(pane, dict)] if isinstance(panes, list) else []
    other = {str(pane.get("code")): pane["pair"] for pane in panes if isinstance(pane.get("pair"), str)}
    kept: list[Problem] = []
    for each in known:
        fellow = other.get(each.pane, "")
        if not fellow or all((old.pane, old.line, old.found) != (fellow, each.line, each.found) for old in kept):
            kept.append(each)
    return kept


def _asks(pane: Any) -> bool:
    return (
        isinstance(pane, dict)
        and pane.get("hand") == BOTH
        and pane.get("side") in OTHER
        and isinstance(pane.get("code"), str)
        and "pair" not in pane
        and "made" not in pane
        and "placing" not in pane
    )


def _mirrored(pane: Mapping[str, Any], complete: Mapping[str, Any]) -> dict[str, Any]:
    """A pane as typed, and complete with the shared tables, made into its other hand."""
    found = {**pane, "side": OTHER[pane["side"]]}
    if isinstance(pane.get("forward"), str):
        found["forward"] = _TURNED.get(pane["forward"], pane["forward"])
    for name in ("outline", "recess", "frit"):
        form = found.get(name) if name == "outline" else _inner(found, name, "outline")
        if isinstance(form, dict):
            other = {**form, "mirrored": form.get("mirrored") is not True}
            found[name] = other if name == "outline" else {**found[name], "outline": other}
    across = _across(complete)
    chocks = _inner(found, "chocks", "at")
    if isinstance(chocks, list):
        found["chocks"] = {**found["chocks"], "at": [_turned(x, across) for x in chocks]}
    if isinstance(found.get("straps"), list):
        found["straps"] = [
            [_turned(strap[0], across), *strap[1:]] if isinstance(strap, list) and strap else strap for strap in found["straps"]
        ]
    patch = _inner(complete, "loads", "patch")
    if isinstance(patch, dict) and "x" in patch:
        own = found.get("loads")
        found["loads"] = {**(own if isinstance(own, dict) else {}), "patch": {**patch, "x": _turned(patch["x"], across)}}
    return found


def _inner(table: Mapping[str, Any], name: str, key: str) -> Any:
    inner = table.get(name)
    return inner.get(key) if isinstance(inner, dict) else None


def _across(complete: Mapping[str, Any]) -> float:
    """What a place along X and its mirror image add up to, mm from the origin: the width of a rectangle, else 0."""
    with suppress(ValueError, TypeError, IndexError):
        form = complete.get("outline")
        if isinstance(form, dict) and "rectangle" in form:
            width = float(PANE_SIZE.read(form["rectangle"][0]))
            if form.get("of", "glass") == "glass":
                return width
            joint = float(PLACE.read(_inner(complete, "joint", "width")))
            landing = float(PLACE.read(_inner(complete, "recess", "landing"))) if form["of"] == "daylight" else 0.0
            return width + 2 * (landing - joint)
        form = None if isinstance(form, dict) else _inner(complete, "recess", "outline")
        if isinstance(form, dict) and "rectangle" in form:
            return float(PANE_SIZE.read(form["rectangle"][0])) - 2 * float(PLACE.read(_inner(complete, "joint", "width")))
    return 0.0


def _turned(x: Any, across: float) -> Any:
    """A place mirrored; what is no place is left for the model to refuse."""
    try:
        return round(across - float(PLACE.read(x)), 9) + 0.0
    except (ValueError, TypeError):
        return x


__all__ = ["BOTH", "ENDINGS", "OTHER", "both_hands", "code_of_hand", "told_once"]
