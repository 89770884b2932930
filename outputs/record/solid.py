"""The detail of a pane as bodies: a STEP file, a picture of it as glTF, and the masses and centres of the bodies as JSON."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from outputs.documents import Files
    from outputs.sheets.contents import Contents


def solid_files(contents: Contents) -> Files:
    """The files by their endings. Raises ``SheetError`` where a body cannot be made."""
    from geometry.detail.on_vessel import landing_on_vessel
    from geometry.solids.bodies import bodies_of
    from geometry.solids.kernel import SolidError
    from outputs.drawing.solid_parts import solid_data, solid_parts
    from outputs.files.gltf import gltf_bytes
    from outputs.files.step import step_bytes
    from outputs.files.step_text import Header
    from outputs.sheet.refusal import SheetError
    from outputs.version import IDENTITY, PROGRAM

    job, pane, detail = contents.job, contents.pane, contents.detail
    try:
        bodies = bodies_of(detail)
    except SolidError as error:
        raise SheetError(str(error)) from error
    parts = solid_parts(detail, bodies)
    words, on_vessel = job.sheet, landing_on_vessel(pane, detail)
    header = Header(
        name=f"{pane.file_stem}-solid.step",
        says=f"{contents.title}, revision {detail.revision}: aid for the ship model, no approval",
        date=words.date.isoformat() if words.date else "",
        author=words.drawn_by,
        organisation=words.owner,
        program=PROGRAM,
        authorisation=words.approved_by,
    )
    data = {"program": IDENTITY, "mark": contents.mark, **solid_data(job, pane, detail, bodies, on_vessel)}
    return {
        "-solid.step": step_bytes(f"{detail.code}, revision {detail.revision}", parts, header, on_vessel),
        "-solid.glb": gltf_bytes(contents.title, parts, on_vessel),
        "-solid.json": (json.dumps(data, indent=2, ensure_ascii=False) + "\n").encode(),
    }


__all__ = ["solid_files"]
