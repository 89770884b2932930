"""The tables of a job put together: a pane's own keys, then the vessel's, then the office's; and where each value stands.

Terms
-----
shared table
    A table that may stand once for the vessel as well as in each pane (bond, joint, climate, limits ...).
office's defaults
    Shared tables in a file of their own, which a job names with ``defaults``.
place
    File and line where a value stands.

Keys are put together one by one. What belongs to another key goes with it: a pane that names its frame's material takes no shared
expansion; a pane whose recess has an outline of its own takes no shared corner radius, nor does an outline without corners.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from geometry.job.outlines import ROUND_FORMS
from geometry.job.session import in_session

if TYPE_CHECKING:
    from geometry.job.positions import KeyPath

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
        found["pane"] = [with_shared(pane, in_session(pane, found)) for pane in panes]
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
    """Where the values of a job stand: its own lines and those of the office's defaults, by path."""

    file: str
    lines: Mapping[KeyPath, int] = field(default_factory=dict)
    office: str = ""  # as the job names it
    office_lines: Mapping[KeyPath, int] = field(default_factory=dict)

    def of(self, path: KeyPath) -> tuple[str, int | None]:
        """File and line of a value, or of the nearest table round it that stands in a file."""
        for near in self._candidates(path):
            file, lines, place = near
            if place in lines:
                return file, lines[place]
        for length in range(len(path) - 1, 0, -1):
            if path[:length] in self.lines:
                return self.file, self.lines[path[:length]]
        return self.file, None

    def in_office(self, path: KeyPath) -> bool:
        """Whether a value comes from the office's defaults."""
        return bool(self.office) and self.of(path)[0] == self.office

    def shared(self, path: KeyPath) -> bool:
        """Whether a value of a pane stands in a shared table of job or office."""
        return path[:1] == ("pane",) and not any(place in self.lines for place in self._own(path))

    def _own(self, path: KeyPath) -> Iterator[KeyPath]:
        """The path itself and what stands round it down to the key of a table, the longest first."""
        least = 4 if path[:1] == ("pane",) else 2
        for length in range(len(path), min(least, len(path)) - 1, -1):
            yield path[:length]
        if (
            len(path) >= 4
            and path[0] == "pane"
            and path[2] == "frame"
            and not any(p[:3] == path[:3] and len(p) > 3 for p in self.lines)
        ):
            yield path[:3]  # a frame given by its name alone

    def _candidates(self, path: KeyPath) -> Iterator[tuple[str, Mapping[KeyPath, int], KeyPath]]:
        yield from ((self.file, self.lines, place) for place in self._own(path))
        below = path
        if path[:1] == ("pane",):
            if len(path) < 4 or path[2] not in SHARED:
                return
            below = path[2:]
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


__all__ = ["SHARED", "VESSEL_ONLY", "Places", "merged", "with_shared"]
