"""The mark of a job: eight signs that every paper of a pane carries, so that a wrong paper is found by comparing one word.

Terms
-----
mark
    Eight letters and figures, four and four, of a hash over the shared tables and the pane as they were read: values in their own units,
    defaults included. A pane's session counts as it was given. Comments, order and spelling of the file, and the other panes of the
    vessel, change nothing in it. Of an outline in a drawing or survey it is the outline that counts, not the name or the time of the file.
"""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Any

from geometry.job.placing import on_vessel
from geometry.job.session import session_of

if TYPE_CHECKING:
    from geometry.job.model import Job
    from geometry.job.pane import Pane

SIGNS = "ACDEFGHJKMNPQRSTUVWXYZ2345679"
"""No 0 and O, 1, I and L, 8 and B: they are taken for one another on a print."""
LENGTH = 8
TYPED = ("rectangle", "polygon", "circle", "ellipse", "path", "radius", "mirrored")
"""Keys of a typed outline."""


NO_MATTER = ("lists", "deviations", "types", "schedule", "columns")
"""Tables on which nothing of a pane depends, or whose values stand in the pane itself."""
LATER: dict[tuple[str, str], object] = {
    ("adhesive", "opened_life"): None,
    ("adhesive", "density"): None,
    ("sealant", "density"): None,
    ("spacers", "stock"): None,
    ("pressure", "reference"): "",
    ("sheet", "exploded"): False,
    ("work", "alarm_ahead"): 5.0,
    ("", "placing"): None,
}
"""Keys that came after the first marks, with what they were then: they count where they say something else ("": a key of the pane)."""


def _told(pane: Pane) -> dict[str, Any]:
    """The pane as plain data, outlines of files by their own vertices; a key that was not there before counts where it says something."""
    told = pane.model_dump(mode="json", exclude={"type"})  # what it gives stands in the pane
    plan = on_vessel(pane)
    if plan is not None and pane.placing is not None:  # taken from a face it counts as that face lies
        told["placing"] = [pane.placing.on, *([round(value, 6) for value in each] for each in plan)]
    for table, form in ((told, pane.outline), (told["recess"], pane.recess.outline), (told["frit"], pane.frit.outline)):
        if form is None:
            continue
        if form.incoming is not None:
            vertices = [[round(value, 6) for value in vertex] for vertex in form.as_typed.vertices]
            table["outline"] = {"form": form.form, "vertices": vertices}
            if form.surveyed is not None:  # what was measured is held against the pane point by point
                table["outline"]["points"] = [[*point.raw, point.depth, point.landing] for point in form.surveyed.points]
        else:
            table["outline"] = {name: value for name, value in table["outline"].items() if name in TYPED}
    return told


def mark_of(job: Job, pane: Pane) -> str:
    """The mark of one pane of a job, as ``K7PA-3MXD``."""
    told = {"shared": job.model_dump(mode="json", exclude={"panes", "sessions", *NO_MATTER}), "pane": _told(pane)}
    for table in told.values():
        for (name, key), before in LATER.items():
            inner = (table.get(name) or {}) if name else table
            if key in inner and inner[key] == before:
                del inner[key]
    session = session_of(job, pane)
    if session is not None:  # its day, its crew and the panes before this one move the clock
        told["session"] = session.model_dump(mode="json", exclude_unset=True)
    text = json.dumps(told, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    rest = int.from_bytes(hashlib.sha256(text.encode("ascii")).digest(), "big")
    signs = ""
    for _ in range(LENGTH):
        rest, place = divmod(rest, len(SIGNS))
        signs += SIGNS[place]
    return f"{signs[: LENGTH // 2]}-{signs[LENGTH // 2 :]}"


__all__ = ["NO_MATTER", "SIGNS", "mark_of"]
