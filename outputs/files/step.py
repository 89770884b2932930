"""An assembly of bodies as a STEP file (ISO 10303, AP214): names, colours, millimetres, the same bytes every time.

Terms
-----
part
    One body with its name; parts that share a shape share it in the file too, and stand in several places.
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from outputs.files.step_text import Header, settled

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.job.placing import OnVessel
    from geometry.outline import Point
    from geometry.solids.kernel import Shape

Colour = tuple[float, float, float]


@dataclass(frozen=True)
class SolidPart:
    """A body by its product (shared by all that share its shape) and its own name, its colour (red, green, blue, 0 to 1) and place."""

    product: str
    name: str
    colour: Colour
    made: Shape = field(repr=False)
    at: Point
    angle: float  # degrees


def step_bytes(assembly: str, parts: Sequence[SolidPart], header: Header, on_vessel: OnVessel | None = None) -> bytes:
    """The STEP file of the parts, one assembly, in the vessel's frame where it is known. Raises ``OSError`` where the kernel cannot write."""
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Interface import Interface_Static
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_AsIs

    quiet()
    names: dict[str, str] = {}
    document = document_of(assembly, parts, names, on_vessel)
    writer = STEPCAFControl_Writer()
    Interface_Static.SetCVal_s("write.step.schema", "AP214IS")
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)  # curves on surfaces follow from the surfaces
    writer.SetColorMode(True)
    writer.SetNameMode(True)
    writer.Transfer(document, STEPControl_AsIs)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "solid.step"
        if writer.Write(str(path)) != IFSelect_RetDone:
            raise OSError(f"the geometry kernel could not write its STEP file into {folder}")
        text = path.read_text(encoding="ascii")
    return settled(text, header, names).encode("ascii")


def quiet() -> None:
    """Keep the kernel from telling of its progress on the standard output."""
    from OCP.Message import Message, Message_PrinterOStream

    Message.DefaultMessenger_s().RemovePrinters(Message_PrinterOStream.get_type_descriptor_s())


def document_of(assembly: str, parts: Sequence[SolidPart], keys: dict[str, str] | None, on_vessel: OnVessel | None = None) -> Any:
    """The parts as a document of the kernel; with ``keys`` it has keys for names, which are put there with the name of each."""
    from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

    from geometry.solids.kernel import location

    def named(label: Any, name: str) -> None:
        text = name
        if keys is not None:
            text = f"NAME-{len(keys)}-OF"
            keys[text] = name
        TDataStd_Name.Set_s(label, TCollection_ExtendedString(text, True))

    document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    root = shapes.NewShape()
    named(root, assembly)
    vessel = None if on_vessel is None else _location(on_vessel)
    known: list[tuple[Shape, Any]] = []
    for part in parts:
        label = next((label for shape, label in known if shape.IsSame(part.made)), None)
        if label is None:
            label = shapes.AddShape(part.made, False)
            named(label, part.product)
            colours.SetColor(
                label,
                Quantity_Color(*part.colour, Quantity_TypeOfColor.Quantity_TOC_sRGB),
                XCAFDoc_ColorType.XCAFDoc_ColorSurf,
            )
            known.append((part.made, label))
        place = location(part.at, part.angle)
        named(shapes.AddComponent(root, label, place if vessel is None else vessel * place), part.name)
    shapes.UpdateAssemblies()
    return document


def _location(on_vessel: OnVessel) -> Any:
    """The place of the kernel that puts the frame of reference of the pane into that of the vessel."""
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf
    from OCP.TopLoc import TopLoc_Location

    move = gp_Trsf()
    axes = gp_Ax3(gp_Pnt(*on_vessel.origin), gp_Dir(*on_vessel.outwards), gp_Dir(*on_vessel.x))
    move.SetTransformation(axes, gp_Ax3())
    return TopLoc_Location(move)


__all__ = ["Colour", "SolidPart", "document_of", "quiet", "step_bytes"]
