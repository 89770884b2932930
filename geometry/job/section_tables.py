"""The tables of one pane that tell its section: frame, glass, recess, joint, bond, print, and what bears on them.

Terms
-----
face
    Counted from the weather face inwards: 1 is outside, the last is the bond face.
shared
    What of a table may stand once for the vessel; each pane completes it.
"""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import GetJsonSchemaHandler, model_validator

from geometry.job import fields as f
from geometry.job.fields import Choice, Reads, Table, setting, whole
from geometry.job.outlines import OutlineForm  # noqa: TC001 - pydantic reads the annotations
from geometry.job.refusal import refuse
from geometry.job.shared import Chocks
from geometry.job.synonyms import meant
from geometry.job.units import shown

if TYPE_CHECKING:
    from pydantic_core import CoreSchema

FRAMES = ("aluminium", "steel", "stainless", "grp", "timber_along", "timber_across", "plywood", "cfrp")
FrameName = Annotated[
    Literal["aluminium", "steel", "stainless", "grp", "timber_along", "timber_across", "plywood", "cfrp"], Choice()
]
Treatment = Annotated[Literal["toughened", "heat_strengthened", "chemically_strengthened", "annealed"], Choice()]
InterlayerKind = Annotated[Literal["pvb", "ionoplast", "eva"], Choice()]
InterlayerModulus = Annotated[float, f.Measure("pressure", "MPa", above=0, at_most=1000)]
ProtectionKind = Annotated[Literal["paint", "tape"], Choice()]

THICKEST = 200.0
"""mm of glass and interlayers: more than any pane that is bonded on one face."""


def _counted(count: int, one: str, many: str) -> str:
    return f"{count or 'no'} {one if count == 1 else many}"


class Frame(Table):
    """What the frame is made of: a name of the register of materials, or a figure of your own."""

    material: FrameName | None = setting(None, "a name of the register of materials: " + ", ".join(FRAMES))
    expansion: f.Expansion | None = setting(None, "expansion of the frame in place of the register's", absent="default")

    @model_validator(mode="before")
    @classmethod
    def _by_name(cls, value: Any) -> Any:
        if isinstance(value, str):
            if value not in FRAMES:
                raise refuse(
                    f"found {shown(value)}", "one of " + ", ".join(FRAMES) + ", or { expansion = 23e-6 }", meant(value, FRAMES)
                )
            return {"material": value}
        if not isinstance(value, dict) or not value:
            found = "found an empty table" if value == {} else f"found {shown(value)}"
            raise refuse(found, "one of " + ", ".join(FRAMES) + ", or { expansion = 23e-6 }")
        return value

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """A name by itself, or the table."""
        table = dict(handler.resolve_ref_schema(handler(schema)))
        whole = {"title": table.pop("title"), "description": table.pop("description")}
        return {**whole, "anyOf": [{"enum": list(FRAMES)}, {**table, "minProperties": 1}]}

    @property
    def name(self) -> str:
        """The frame in words, for a sheet."""
        return "frame" if self.material is None else self.material.replace("_", " ")


class SharedGlass(Table):
    """What of the make-up may stand once for the vessel; each pane completes it."""

    plies: f.SizeList | None = setting(None, "thickness of each ply, weather side first")
    interlayers: f.InterlayerList = setting((), "thickness of the interlayer between each two plies", shown_default="[]")
    treatment: Treatment = setting("toughened", "toughened, heat_strengthened, chemically_strengthened or annealed")
    interlayer_material: InterlayerKind = setting("pvb", "pvb, ionoplast or eva")
    shear_coupling: Annotated[float, f.Measure("share", "%", at_least=0, at_most=100)] = setting(
        0.0, "share of the shear that the interlayer carries between the plies: 0 is the safe end"
    )
    interlayer_modulus: InterlayerModulus | None = setting(
        None, "shear modulus of the interlayer at its warmest and longest load, from its data sheet; left out: not checked"
    )
    allowed_stress: f.Stress | None = setting(
        None,
        "bending stress that the engineer or the rule that governs allows under the pressures and loads given; left out: not checked",
    )
    printed_face: Annotated[int, Reads(whole(1, 40))] | None = setting(
        None, "face that carries the frit, 1 outside; left out: the bond face", absent="worked out"
    )
    arris: f.SectionSize | None = setting(None, "width of the arris along each face, at 45°; left out: as the supplier makes it")
    heat_soaked: f.Flag | None = setting(None, "true: heat soaked after toughening; left out: as on the order")


class Glass(SharedGlass):
    """The make-up of the pane, from the weather face inwards."""

    plies: f.SizeList = setting(..., "thickness of each ply, weather side first")

    @model_validator(mode="after")
    def _make_up(self) -> Glass:
        if len(self.interlayers) != len(self.plies) - 1:
            plies = _counted(len(self.plies), "ply", "plies")
            layers = _counted(len(self.interlayers), "interlayer", "interlayers")
            raise refuse(
                f"found {plies} and {layers}",
                "one interlayer between each two plies",
                key="interlayers" if self.interlayers else "plies",
            )
        if self.thickness > THICKEST:
            raise refuse(f"found {self.thickness:g} mm of glass", f"at most {THICKEST:g} mm", key="plies")
        if self.printed_face is not None and self.printed_face > self.bond_face:
            raise refuse(
                f"printed_face is {self.printed_face}",
                f"1 (outside) to {self.bond_face} (the bond face of this glass)",
                key="printed_face",
            )
        return self

    @property
    def bond_face(self) -> int:
        """The number of the inner face, which is bonded."""
        return 2 * len(self.plies)

    @property
    def thickness(self) -> float:
        """All plies and interlayers together, mm."""
        return fsum(self.plies) + fsum(self.interlayers)


class SharedRecess(Table):
    """The recess of the frame, as far as it may stand once for the vessel."""

    depth: f.SectionSize | None = setting(None, "landing to outer skin; left out: the glass lies flush", absent="worked out")
    landing: f.SectionSize | None = setting(None, "landing width from the wall", absent="worked out")
    radius: f.Radii | None = setting(
        None,
        "corner radius: one, or a list in the order of the pane's corners; left out: parallel to the pane",
        absent="worked out",
    )
    draft: f.Draft = setting(0.0, "draft of the wall, opening outwards")
    fillet: f.SizeOrZero = setting(0.0, "fillet, weld or mould radius between wall and landing")


class Recess(SharedRecess):
    """The recess of the frame."""

    outline: OutlineForm | None = setting(
        None,
        "an outline of its own; left out: the pane and the joint. With joint.width and no pane.outline the glass follows from it",
        absent="worked out",
    )

    @model_validator(mode="after")
    def _one_way(self) -> Recess:
        if self.outline is not None and self.radius is not None:
            raise refuse("found radius beside an outline of its own", "the radius inside the braces of the outline", key="radius")
        if self.outline is not None and self.outline.of == "daylight":
            raise refuse(
                "found of = daylight in the outline of the recess", 'of = "daylight" in the outline of the pane', key="outline.of"
            )
        return self


class Joint(Table):
    """The joint between glass edge and recess wall."""

    width: f.SectionSize | None = setting(None, "joint width", absent="worked out")
    backfill_depth: f.SectionSize | None = setting(None, "depth of the backfill", absent="worked out")


class Bond(Table):
    """The bead after pressing, and the V-notch that lays it."""

    width: f.SectionSize | None = setting(None, "bead width after pressing", absent="worked out")
    thickness: f.SectionSize | None = setting(None, "bond thickness after pressing", absent="worked out")
    set_back: f.SectionSizeOrZero | None = setting(None, "glass edge to outer edge of the bead", absent="worked out")
    corner_radius: f.SizeOrZero | None = setting(None, "least radius of the bead's centre line in a corner", absent="worked out")
    notch_width: f.SectionSize | None = setting(None, "base of the V-notch of the nozzle", absent="worked out")
    notch_height: f.SectionSize | None = setting(None, "height of the V-notch of the nozzle", absent="worked out")


class OuterProtection(Table):
    """Paint or tape on the weather face that keeps sunlight off the bond where the print alone does not."""

    kind: ProtectionKind = setting(..., "paint or tape")
    width: f.Size = setting(..., "paint: from the glass edge to its inner line; tape: its own width, laid along the glass edge")


class SharedFrit(Table):
    """The printed band, as far as it may stand once for the vessel."""

    width: f.SectionSize | None = setting(None, "glass edge to inner edge of the print, fade included", absent="worked out")
    fade: f.SizeOrZero = setting(0.0, "dot fade inside that width; it protects nothing")
    start: f.SizeOrZero = setting(1.0, "glass edge to where the print begins")
    corner_radius: f.SizeOrZero | None = setting(None, "corner radius of the inner edge", absent="worked out")
    opacity: f.PositiveShare | None = setting(
        None, "least share of the light that the solid print holds back, as ordered; left out: opaque, as on the order"
    )
    printed: f.Flag = setting(False, "true: the pane is printed already and the frit cannot be changed")
    outer_protection: OuterProtection | None = setting(
        None, "paint or tape on the weather face over a frit that is too narrow; left out: none"
    )

    @model_validator(mode="after")
    def _in_order(self) -> SharedFrit:
        if self.width is not None and self.start + self.fade >= self.width:
            raise refuse(
                f"start {self.start:g} mm and fade {self.fade:g} mm leave no solid print in a width of {self.width:g} mm",
                "start + fade less than width",
                key="width",
            )
        return self


class Frit(SharedFrit):
    """The printed band that keeps sunlight off the bond."""

    outline: OutlineForm | None = setting(
        None, "inner edge as drawn, where it is not parallel to the glass edge", absent="worked out"
    )


class PaneChocks(Chocks):
    """Setting chocks of this pane."""

    at: f.PlaceList | None = setting(None, "X of each setting chock's middle from the origin of the outline", absent="worked out")


class Pressures(Table):
    """From the engineer or the rule that governs, never from this tool; what is left out is not checked."""

    outward: f.Pressure | None = setting(None, "pressure that pulls the pane off the landing; left out: not checked")
    inward: f.Pressure | None = setting(None, "pressure that pushes the pane on the landing; left out: not checked")
    reference: f.Text = setting("", "where the pressures come from: rule, calculation, revision; left blank: asked in the approval pack")


class Timber(Table):
    """How a timber frame swells into the joint."""

    stile_width: f.Size = setting(..., "width of the stile beside the joint")
    moisture_change: f.Share = setting(..., "rise of the timber's moisture content from the day of fitting")
    swell_percent: f.Share = setting(0.25, "swelling across the grain for 1 % of moisture (common figures 0.15 to 0.31)")


class Revision(Table):
    """One line of the table of revisions."""

    letter: f.FileWord = setting(..., "revision letter")
    date: f.Day | None = setting(None, "day of the revision")
    what: f.Text = setting(..., "what changed, in mm where something moved")


__all__ = [
    "FRAMES",
    "Bond",
    "Frame",
    "Frit",
    "Glass",
    "InterlayerKind",
    "Joint",
    "OuterProtection",
    "PaneChocks",
    "Pressures",
    "Recess",
    "Revision",
    "SharedFrit",
    "SharedGlass",
    "SharedRecess",
    "Timber",
    "Treatment",
]
