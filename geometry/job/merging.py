"""The tables of a job put together: a pane's own keys, then its type's, then the vessel's, then the office's; and where each value stands.

Terms
-----
shared table
    A table that may stand once for the vessel as well as in each pane (bond, joint, climate, limits ...).
type of detail
    Shared tables under a name (``[type.B]``), which panes take by that name: one section, many panes.
office's defaults
    Shared tables in a file of their own, which a job names with ``defaults``.
place
    File and line, or cell of a schedule, where a value stands.

Keys are put together one by one. What belongs to another key goes with it: a pane that names its frame's material takes no shared
expansion; a pane whose recess has an outline of its own takes no shared corner radius, nor does an outline without corners.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from geometry.job.outlines import ROUND_FORMS
from geometry.job.positions import Spot
from geometry.job.session import in_session
from geometry.job.units import shown

if TYPE_CHECKING:
    from geometry.job.positions import KeyPath, Place

SHARED = (
    "glass", "frame", "recess", "joint", "bond", "frit", "pressure", "loads", "climate", "temperatures", "tolerances", "work",
    "spacers", "chocks", "limits", "consumables", "setting_out",
)  # fmt: skip
"""Tables that stand in the pane, once for the vessel, or in the office's defaults."""
VESSEL_ONLY = ("sheet", "adhesive", "sealant", "supplier", "lists", "layers", "materials")
"""Tables that stand once for the vessel, or in the office's defaults."""

Tables = dict[str, Any]


def merged(job: Mapping[str, Any], office: Mapping[str, Any]) -> Tables:
    """The tables of a job with the office's defaults below them and each pane complete. What is no table is left as it is."""
    found = dict(job)
    for name in (*SHARED, *VESSEL_ONLY):
        if name in office or name in job:
            found[name] = _together(name, job.get(name), office.get(name))
    panes = job.get("pane")
    if isinstance(panes, list):
        found["pane"] = [with_shared(pane, in_session(pane, of_its_type(pane, found))) for pane in panes]
    return found


def with_shared(pane: Any, shared: Mapping[str, Any]) -> Any:
    """A pane's tables with what it leaves out taken from the shared ones."""
    if not isinstance(pane, dict):
        return pane
    found = dict(pane)
    for name in SHARED:
        base = shared.get(name)
        if base is None:
            continue
        if name == "recess":
            base = _without_radius(base, pane)
        together = _together(name, pane.get(name), base)
        if together is not None and together != {}:
            found[name] = together
    return found


def of_its_type(pane: Any, shared: Mapping[str, Any]) -> Mapping[str, Any]:
    """Shared tables with those of the pane's type before them; as they are where it has none, or one that is not there."""
    types, name = shared.get("type"), pane.get("type") if isinstance(pane, dict) else None
    own = types.get(name) if isinstance(types, dict) and isinstance(name, str) else None
    if not isinstance(own, dict):
        return shared
    return {**shared, **{each: _together(each, own[each], shared.get(each)) for each in SHARED if each in own}}


def types_of(table: Mapping[str, Any]) -> dict[int, str]:
    """The types of the panes by index."""
    panes = table.get("pane")
    listed = [pane.get("type") if isinstance(pane, dict) else None for pane in panes] if isinstance(panes, list) else []
    return {index: each for index, each in enumerate(listed) if isinstance(each, str)}


def unknown_types(table: Mapping[str, Any]) -> list[tuple[int, str, str]]:
    """Panes of a type that the job does not have."""
    types = table.get("type", {})
    if not isinstance(types, dict):
        return []
    known = ", ".join(f"[type.{shown(name)[1:-1]}]" for name in types)
    return [
        (index, f"found the type {shown(name)}", known or f"a table [type.{shown(name)[1:-1]}] in the job, for its shared tables")
        for index, name in types_of(table).items()
        if name not in types
    ]


def _together(name: str, own: Any, base: Any) -> Any:
    own, base = _table_of_frame(name, own), _table_of_frame(name, base)
    if own is None:
        return base
    if not isinstance(own, dict) or not isinstance(base, dict):
        return own
    if name == "frame" and "material" in own:
        base = {key: value for key, value in base.items() if key != "expansion"}
    if name == "materials":
        keys = dict.fromkeys([*base, *own])
        return {key: _together("", own.get(key), base.get(key)) for key in keys}
    return {**base, **own}


def _table_of_frame(name: str, value: Any) -> Any:
    return {"material": value} if name == "frame" and isinstance(value, str) else value


def _without_radius(base: Any, pane: Mapping[str, Any]) -> Any:
    own, outline = pane.get("recess"), pane.get("outline")
    own_outline = (isinstance(own, dict) and "outline" in own) or (isinstance(outline, dict) and outline.get("of") == "recess")
    no_corners = isinstance(outline, dict) and any(form in outline for form in ROUND_FORMS)
    if isinstance(base, dict) and (own_outline or no_corners):
        return {key: value for key, value in base.items() if key != "radius"}
    return base


@dataclass(frozen=True)
class Places:
    """Where the values of a job stand: its own lines, the cells of its schedule and the lines of the office's defaults, by path.

    ``types`` are the types of the panes by index.
    """

    file: str
    lines: Mapping[KeyPath, Place] = field(default_factory=dict)
    office: str = ""  # as the job names it
    office_lines: Mapping[KeyPath, int] = field(default_factory=dict)
    types: Mapping[int, str] = field(default_factory=dict)

    def at(self, path: KeyPath) -> tuple[str, Place | None]:
        """File and place of a value, or of the nearest table round it that stands in a file."""
        for near in self._candidates(path):
            file, lines, place = near
            if place in lines:
                return file, lines[place]
        for length in range(len(path) - 1, 0, -1):
            if path[:length] in self.lines:
                return self.file, self.lines[path[:length]]
        return self.file, None

    def of(self, path: KeyPath) -> tuple[str, int | None]:
        """File and line of a value, or of the nearest table round it that stands in a file; of a cell its file and row."""
        file, place = self.at(path)
        return (place.file, place.row) if isinstance(place, Spot) else (file, place)

    def cell(self, path: KeyPath) -> Spot | None:
        """The cell of the schedule that gives a value; None where no cell does."""
        place = self.lines.get(path)
        return place if isinstance(place, Spot) else None

    def in_office(self, path: KeyPath) -> bool:
        """Whether a value comes from the office's defaults."""
        return bool(self.office) and self.of(path)[0] == self.office

    def below(self, path: KeyPath) -> Iterator[KeyPath]:
        """The paths of the shared tables that give a value of a pane which the pane itself leaves out, the nearest first."""
        if len(path) < 3 or path[0] != "pane" or any(place in self.lines for place in self._own(path)):
            return
        kind = self.types.get(path[1]) if isinstance(path[1], int) else None
        if kind is not None:
            yield ("type", kind, *path[2:])
        yield path[2:]

    def _own(self, path: KeyPath) -> Iterator[KeyPath]:
        """The path itself and what stands round it down to the key of a table, the longest first."""
        least = 4 if path[:1] in (("pane",), ("type",)) else 2
        for length in range(len(path), min(least, len(path)) - 1, -1):
            yield path[:length]
        if (
            len(path) >= 4
            and path[0] in ("pane", "type")
            and path[2] == "frame"
            and not any(p[:3] == path[:3] and len(p) > 3 for p in self.lines)
        ):
            yield path[:3]  # a frame given by its name alone

    def _candidates(self, path: KeyPath) -> Iterator[tuple[str, Mapping[KeyPath, Place], KeyPath]]:
        yield from ((self.file, self.lines, place) for place in self._own(path))
        below = path
        if path[:1] == ("pane",):
            if len(path) < 4 or path[2] not in SHARED:
                return
            below = path[2:]
            kind = self.types.get(path[1]) if isinstance(path[1], int) else None
            if kind is not None:
                yield from ((self.file, self.lines, place) for place in self._own(("type", kind, *below)))
            yield from ((self.file, self.lines, place) for place in self._own(below))
        yield from ((self.office, self.office_lines, place) for place in self._own(below))
        if below[0] == "frame":
            yield self.file, self.lines, below[:1]
            yield self.office, self.office_lines, below[:1]

    def given_by(self, index: int | None, tables: Mapping[str, Any]) -> dict[str, str]:
        """What the office's defaults gave of a pane (or of the vessel, ``index`` None), by dotted key: "office.toml, line 12"."""
        found: dict[str, str] = {}
        if not self.office:
            return found
        start: KeyPath = () if index is None else ("pane", index)
        for name, table in tables.items():
            if name not in SHARED and name not in VESSEL_ONLY:
                continue
            for key in table if isinstance(table, dict) else ():
                inner = table[key]
                deeper = [(key, each) for each in inner] if name == "materials" and isinstance(inner, dict) else [(key,)]
                for steps in deeper:
                    file, line = self.of((*start, name, *steps))
                    if file == self.office:
                        found[".".join((name, *map(str, steps)))] = f"{file}, line {line}"
        return found


__all__ = ["SHARED", "VESSEL_ONLY", "Places", "merged", "of_its_type", "types_of", "unknown_types", "with_shared"]
