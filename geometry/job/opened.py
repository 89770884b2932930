"""The files of other people that a job names: each is read once, from the job's folder, and remembered with the job.

Terms
-----
outside
    A file that does not lie in the job's folder or below it, by whatever name or link it is reached. It is read, and it is named wherever
    the outline is told of.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from geometry.incoming import Incoming
    from geometry.incoming.drawing import Drawing, Pick
    from geometry.incoming.schedule_table import ScheduleFile
    from geometry.incoming.solid import SolidFile, SolidPick


@dataclass
class Opened:
    """What was read so far; ``folder`` is the job's, ``contents`` the bytes of each file by its name in the job."""

    folder: Path = field(default_factory=Path)
    contents: dict[str, bytes] = field(default_factory=dict)
    _drawings: dict[str, Drawing] = field(default_factory=dict)
    _found: dict[Any, Incoming] = field(default_factory=dict)
    _schedules: dict[str, ScheduleFile] = field(default_factory=dict)
    _solids: dict[str, SolidFile] = field(default_factory=dict)

    def drawing(self, name: str, pick: Pick) -> Incoming:
        """The outline that is asked for of a drawing. Raises ``IncomingError``."""
        from geometry.incoming.drawing import drawing_of, read_drawing
        from geometry.incoming.dxf_reading import LARGEST

        key = ("drawing", name, pick)
        if key not in self._found:
            if name not in self._drawings:
                self._drawings[name] = drawing_of(self._bytes(name, LARGEST, "a DXF file"), name)
            self._found[key] = self._named(name, read_drawing(self._drawings[name], pick))
        return self._found[key]

    def solid(self, name: str, pick: SolidPick) -> Incoming:
        """The outline of a face of a STEP file. Raises ``IncomingError``."""
        from geometry.incoming.solid import LARGEST, WHAT, read_solid, solid_of

        key = ("solid", name, pick)
        if key not in self._found:
            if name not in self._solids:
                self._solids[name] = solid_of(self._bytes(name, LARGEST, WHAT), name)
            self._found[key] = self._named(name, read_solid(self._solids[name], pick))
        return self._found[key]

    def survey(self, name: str, **asked: Any) -> Incoming:
        """The outline of surveyed points. Raises ``IncomingError``."""
        key = ("survey", name, tuple(sorted(asked.items())))
        if key not in self._found:
            from geometry.incoming.survey import read_survey
            from geometry.incoming.survey_table import MOST_BYTES

            data = self._bytes(name, MOST_BYTES, "a table of surveyed points")
            self._found[key] = self._named(name, read_survey(data, name=name, **asked))
        return self._found[key]

    def schedule(self, name: str) -> ScheduleFile:
        """The cells of a schedule. Raises ``IncomingError``."""
        if name not in self._schedules:
            from geometry.incoming.schedule_table import ALLOWED, MOST_BYTES, schedule_of

            self._schedules[name] = schedule_of(self._bytes(name, MOST_BYTES, ALLOWED), name)
        return self._schedules[name]

    def _bytes(self, name: str, most: int, what: str) -> bytes:
        from geometry.incoming.opening import bytes_of

        if name not in self.contents:
            self.contents[name] = bytes_of(self.folder / name, name, most=most, what=what)
        return self.contents[name]

    def _named(self, name: str, found: Incoming) -> Incoming:
        outside = self.outside(name)
        return replace(found, mended=(outside, *found.mended)) if outside else found

    def outside(self, name: str) -> str:
        """That a file lies outside the job's folder, in a sentence; "" where it does not."""
        try:
            folder, place = self.folder.resolve(), (self.folder / name).resolve()
        except (OSError, ValueError, RuntimeError):  # a name that is no path, links in a circle
            return ""
        return "" if place.is_relative_to(folder) else f"reads {name}, outside the job's folder"


__all__ = ["Opened"]
