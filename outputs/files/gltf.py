"""An assembly of bodies as binary glTF 2.0, to look at: triangles, for no measure."""

from __future__ import annotations

import json
import struct
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from outputs.files.step import document_of, quiet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.job.placing import OnVessel
    from outputs.files.step import SolidPart

SAG, TURN = 0.1, 0.35
"""mm and radians that the triangles may lie off a curved face."""
HEADS = 20  # bytes of the heads of the file and of its first chunk
FLOAT = 5126  # the format's number for four-byte floats


def gltf_bytes(assembly: str, parts: Sequence[SolidPart], on_vessel: OnVessel | None = None) -> bytes:
    """A binary glTF of the parts, in metres, +Y up as that format has it; in the vessel's frame where it is known.

    Raises ``OSError`` where the kernel cannot write.
    """
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.Message import Message_ProgressRange
    from OCP.RWGltf import RWGltf_CafWriter
    from OCP.RWMesh import RWMesh_CoordinateSystem
    from OCP.TCollection import TCollection_AsciiString
    from OCP.TColStd import TColStd_IndexedDataMapOfStringString

    quiet()
    for part in parts:
        BRepMesh_IncrementalMesh(part.made, SAG, False, TURN, False)
    document = document_of(assembly, parts, None, on_vessel)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "solid.glb"
        writer = RWGltf_CafWriter(TCollection_AsciiString(str(path)), True)
        converter = writer.ChangeCoordinateSystemConverter()
        converter.SetInputLengthUnit(0.001)
        converter.SetInputCoordinateSystem(RWMesh_CoordinateSystem.RWMesh_CoordinateSystem_Zup)
        if not writer.Perform(document, TColStd_IndexedDataMapOfStringString(), Message_ProgressRange()):
            raise OSError(f"the geometry kernel could not write its glTF file into {folder}")
        return _settled(path.read_bytes())


def _settled(data: bytes) -> bytes:
    """The same file with the limits of its data taken from the data: the kernel's differ in the last digit from run to run."""
    length = struct.unpack_from("<I", data, 12)[0]
    told: dict[str, Any] = json.loads(data[HEADS : HEADS + length])
    rest = data[HEADS + length :]
    for each in told["accessors"]:
        if "min" not in each or each["componentType"] != FLOAT:
            continue
        view, wide = told["bufferViews"][each["bufferView"]], len(each["min"])
        start = 8 + view.get("byteOffset", 0) + each.get("byteOffset", 0)
        rows = [
            struct.unpack_from(f"<{wide}f", rest, start + index * view.get("byteStride", 4 * wide))
            for index in range(each["count"])
        ]
        each["min"], each["max"] = ([limit(row[axis] for row in rows) for axis in range(wide)] for limit in (min, max))
    text = json.dumps(told, separators=(",", ":"), ensure_ascii=False).encode()
    text += b" " * (-len(text) % 4)
    return struct.pack("<4sIIII", b"glTF", 2, HEADS + len(text) + len(rest), len(text), 0x4E4F534A) + text + rest


__all__ = ["gltf_bytes"]
