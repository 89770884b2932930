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


@dataclass
class Opened:
    """What was read so far; ``folder`` is the job's."""

    folder: Path = field(default_factory=Path)
    _drawings: dict[str, Drawing] = field(default_factory=dict)
    _found: dict[Any, Incoming] = field(default_factory=dict)
    _schedules: dict[str, ScheduleFile] = field(default_factory=dict)

    def drawing(self, name: str, pick: Pick) -> Incoming:
        """The outline that is asked for of a drawing. Raises ``IncomingError``."""
        from geometry.incoming.drawing import open_drawing, read_drawing

        key = ("drawing", name, pick)
        if key not in self._found:
            if name not in self._drawings:
                self._drawings[name] = open_drawing(self.folder / name, name)
            self._found[key] = self._named(name, read_drawing(self._drawings[name], pick))
        return self._found[key]

    def survey(self, name: str, **asked: Any) -> Incoming:
        """The outline of surveyed points. Raises ``IncomingError``."""
        key = ("survey", name, tuple(sorted(asked.items())))
        if key not in self._found:
            self._found[key] = self._named(name, _survey(self.folder / name, name, asked))
        return self._found[key]

    def schedule(self, name: str) -> ScheduleFile:
        """The cells of a schedule. Raises ``IncomingError``."""
        from geometry.incoming.schedule_table import read_schedule

        if name not in self._schedules:
            self._schedules[name] = read_schedule(self.folder / name, name)
        return self._schedules[name]

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


def _survey(path: Path, name: str, asked: dict[str, Any]) -> Incoming:
    from geometry.incoming.opening import bytes_of
    from geometry.incoming.survey import read_survey
    from geometry.incoming.survey_table import MOST_BYTES

    return read_survey(bytes_of(path, name, most=MOST_BYTES, what="a table of surveyed points"), name=name, **asked)


__all__ = ["Opened"]
