"""One pane of a job file: its glass, outline, recess, bond, print and blocks.

Terms
-----
face
    Counted from the weather face inwards: 1 is outside, the last is the bond face.
of its own
    A table of a pane that stands in place of the vessel's shared table, key by key.
"""

from __future__ import annotations

from functools import cached_property
from math import fsum
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import ConfigDict, GetJsonSchemaHandler, PrivateAttr, model_validator

from geometry.job import fields as f
from geometry.job.consumables import Consumables
from geometry.job.fields import Choice, Reads, Table, placed, setting, whole
from geometry.job.following import inside, round_daylight, tight_corners
from geometry.job.hands import OTHER
from geometry.job.limits import Limits
from geometry.job.loads import Loads
from geometry.job.made import Made  # noqa: TC001 - pydantic reads the annotations
from geometry.job.outlines import OUTLINES, Corners, OutlineForm, origin_of, outline_of, own_outline
from geometry.job.refusal import refuse
from geometry.job.setting_out import SettingOut
from geometry.job.shared import Chocks, Climate, Spacers, Temperatures, Tolerances
from geometry.job.standards import reached_by_its_standard
from geometry.job.synonyms import meant
from geometry.job.units import shown
from geometry.job.work import Work

if TYPE_CHECKING:
    from pydantic.config import JsonDict
    from pydantic_core import CoreSchema

    from geometry.incoming import Incoming
    from geometry.outline import Corner
    from geometry.outline.loop import Outline

FRAMES = ("aluminium", "steel", "stainless", "grp", "timber_along", "timber_across", "plywood", "cfrp")
FrameName = Annotated[
    Literal["aluminium", "steel", "stainless", "grp", "timber_along", "timber_across", "plywood", "cfrp"], Choice()
]
FrameBuild = Annotated[Literal["welded", "machined", "moulded", "joinery"], Choice()]
Side = Annotated[Literal["port", "starboard", "centre"], Choice()]
Hand = Annotated[Literal["port and starboard"], Choice()]
Forward = Annotated[Literal["left", "right", "up", "down", "out of the plan", "into the plan"], Choice()]
Treatment = Annotated[Literal["toughened", "heat_strengthened", "chemically_strengthened", "annealed"], Choice()]
InterlayerKind = Annotated[Literal["pvb", "ionoplast", "eva"], Choice()]
InterlayerModulus = Annotated[float, f.Measure("pressure", "MPa", above=0, at_most=1000)]
ProtectionKind = Annotated[Literal["paint", "tape"], Choice()]


SLACK = 1e-9
"""mm that the sums of a box may be off."""
THICKEST = 200.0
"""mm of glass and interlayers: more than any pane that is bonded on one face."""
LEAST_PANE, LARGEST_PANE = 10.0, 20_000.0
"""mm of a pane's box: the longest float glass made has about 20 m (from memory), and less than 10 mm holds no bead."""


def _counted(count: int, one: str, many: str) -> str:
    return f"{count or 'no'} {one if count == 1 else many}"


def file_stem(code: str, revision: str) -> str:
    """The name of a pane's files, without ending."""
    return f"{code}-{revision}" if revision else code


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


def _as_typed(schema: JsonDict) -> None:
    """A pane as it is typed: glass and frame may be shared, the outline may follow from the recess."""
    needed = schema["required"]
    schema["required"] = [name for name in needed if name not in ("glass", "frame")] if isinstance(needed, list) else needed
    schema["anyOf"] = [
        {"required": ["outline"]},
        {"required": ["recess"], "properties": {"recess": {"required": ["outline"]}}},
    ]


class Pane(Table):
    """One pane and everything about its fit."""

    model_config = ConfigDict(json_schema_extra=_as_typed)

    code: f.FileWord = setting(..., "short mark of the pane; names its files")
    name: f.Text = setting("", "what the pane is called")
    side: Side | None = setting(None, "port, starboard or centre")
    hand: Hand | None = setting(
        None,
        "port and starboard: both panes from this one, with -P and -S behind its code; side says which hand is typed, the other is its "
        "mirror image seen from outside",
    )
    pair: f.FileWord | None = setting(
        None, "code of the pane of the other hand: a finding fails unless the two are mirror images"
    )
    location: f.Text = setting("", "where the pane is on the vessel: deck, frames, side")
    forward: Forward | None = setting(
        None,
        "where the bow lies on the plan, seen from outside: left, right, up, down, out of the plan (towards the viewer) or into the plan; "
        "left out: by the side, on an upright pane",
        absent="worked out",
    )
    revisions: tuple[Revision, ...] = setting((), "the revisions so far, oldest first", shown_default="[]")
    revision: f.FileWordOrBlank = setting("", "revision letter; part of the file name")
    quantity: Annotated[int, Reads(whole(1, 1000))] = setting(1, "how many of this pane")
    frame: Frame = setting(..., "frame material by name, or { expansion = 23e-6 }")
    frame_build: FrameBuild | None = setting(
        None, "welded, machined, moulded or joinery: sets the tolerances", absent="worked out"
    )
    rake: f.Angle = setting(0.0, "0 upright, + leans back, - reverse, 90 deck light")
    load_bearing: f.Flag = setting(False, "true: the pane carries load of the structure")
    in_hull: f.Flag = setting(False, "true: the pane is in the hull")
    approval_reference: f.Text = setting("", "approval reference of this pane")
    glass: Glass = setting(..., "make-up of the glass")
    outline: OutlineForm = setting(
        None,
        "outline of the pane, seen from outside; left out: worked out from recess.outline and joint.width",
        absent="worked out",
    )
    made: Made | None = setting(None, "the pane as it was made: fritline fit places it in the recess; left out: as ordered")
    recess: Recess = setting(Recess(), "the recess of the frame")
    joint: Joint = setting(Joint(), "the joint round the glass")
    bond: Bond = setting(Bond(), "the bead")
    frit: Frit = setting(Frit(), "the printed band")
    spacers: Spacers = setting(Spacers(), "spacer blocks, in place of the shared table")
    chocks: PaneChocks = setting(PaneChocks(), "setting chocks, in place of the shared table")
    pressure: Pressures = setting(Pressures(), "design pressures")
    loads: Loads = setting(Loads(), "loads beside the pressures")
    bow: f.Slope = setting(1.5, "bow of the glass to allow for (from memory: limit of EN 12150-1 is 3)")
    held: f.Flag = setting(False, "true: straps or props hold the pane until the bead may carry it")
    straps: Corners | None = setting(
        None,
        "[[x, y], ...] where straps or props bear on the glass, from the origin of the outline; left out: left to the fitter",
    )
    inner_face_open: f.Flag = setting(True, "true: no lining or foam dam closes the bead's inner side before it is cured")
    backfill_after: f.Days | None = setting(
        None, "days from bonding to backfilling; left out: when both faces have cured through", absent="worked out"
    )
    timber: Timber | None = setting(None, "swelling of a timber frame; left out: not checked")
    tolerances: Tolerances = setting(Tolerances(), "tolerances, in place of the shared table")
    climate: Climate = setting(Climate(), "climate, in place of the shared table")
    work: Work = setting(Work(), "rates of the time plan, in place of the shared table")
    temperatures: Temperatures = setting(Temperatures(), "temperatures, in place of the shared table")
    limits: Limits = setting(Limits(), "limits, in place of the shared table")
    consumables: Consumables = setting(Consumables(), "rates of the quantities, in place of the shared table")
    setting_out: SettingOut = setting(SettingOut(), "setting out of the blocks, in place of the shared table")

    _given_by: dict[str, str] = PrivateAttr(default_factory=dict)
    _line: OutlineForm | None = PrivateAttr(default=None)

    @model_validator(mode="after")
    def _together(self) -> Pane:
        return self.checked()

    def checked(self) -> Pane:
        """The pane, its glass worked out where only the recess is given. Raises where its tables do not go together."""
        if "outline" not in self.model_fields_set:
            self.__dict__["outline"] = self._inside_recess()  # still being made: nobody has seen the pane yet
        elif self.outline.of != "glass":
            self._follow(self.outline)
        if self.frit.outline is not None and self.frit.outline.of != "glass":
            raise refuse(
                f"found of = {self.frit.outline.of} in the outline of the print",
                "of in the outline of the pane",
                key="frit.outline.of",
            )
        self._sound_sizes()
        if self.hand is not None:  # where both could be made, neither of them has it any more
            found = f"found side {self.side}" if self.side else "side is left out"
            if self.made is not None:
                raise refuse(
                    "found made beside hand: no two panes are made alike", "both panes typed, each with pair and made", key="made"
                )
            if self.side in OTHER:
                found = "found pair beside it"
            raise refuse(found, "hand with side port or starboard, which says what hand is typed, and without pair", key="hand")
        corners = self.outline.corner_count
        if self.recess.radius is not None and corners == 0:
            raise refuse(
                f"found recess.radius with an outline of the form {self.outline.form}",
                "recess.radius only with rectangle or polygon",
                key="recess.radius",
            )
        if isinstance(self.recess.radius, tuple) and len(self.recess.radius) != corners:
            raise refuse(
                f"found {len(self.recess.radius)} recess radii for {corners} corners",
                "one radius for all, or one for each corner",
                key="recess.radius",
            )
        left, _, right, _ = self._box
        for x in self.chocks.at or ():
            if not left < x < right:
                raise refuse(
                    f"found a chock at X = {x:g} mm",
                    f"chocks.at between {left:g} and {right:g} mm, the width of the pane",
                    key="chocks.at",
                )
        for index, (x, y) in enumerate(self.straps or ()):
            _, bottom, _, top = self._box
            if not (left <= x <= right and bottom <= y <= top):
                raise refuse(
                    f"found a strap at X = {x:g}, Y = {y:g} mm",
                    f"X from {left:g} to {right:g} and Y from {bottom:g} to {top:g} mm, the pane",
                    key=f"straps.{index}",
                )
        self._patch_on_the_pane()
        if self.made is not None:
            self.made.against(self.outline)
        reached_by_its_standard(self)
        if len(self.revisions) > 30:
            raise refuse(f"found {len(self.revisions)} revisions", "at most 30", key="revisions")
        if self.timber is not None and self.frame.material not in (None, "timber_along", "timber_across", "plywood"):
            raise refuse(
                f"found timber beside a frame of {self.frame.name}", "timber only with a frame of timber or plywood", key="timber"
            )
        return self

    def _patch_on_the_pane(self) -> None:
        patch = self.loads.patch
        if patch is None:
            return
        left, bottom, right, top = self._box
        for name, at, size, least, most in (
            ("x", patch.x, patch.width, left, right),
            ("y", patch.y, patch.tall, bottom, top),
        ):
            if at - size / 2 < least - SLACK or at + size / 2 > most + SLACK:
                raise refuse(
                    f"found a patch from {at - size / 2:g} to {at + size / 2:g} mm along {name.upper()}",
                    f"a patch within {least:g} and {most:g} mm, the pane",
                    key=f"loads.patch.{name}",
                )

    def _inside_recess(self) -> OutlineForm:
        if self.recess.outline is None:
            raise refuse("this key must be given and is missing", OUTLINES, key="outline")
        if self.joint.width is None:
            found = "the glass is to be worked out from the outline of the recess, and the joint width is missing"
            raise refuse(found, "joint.width, or the outline of the glass itself", key="joint.width")
        return inside(self.recess.outline, self.joint.width)

    def _follow(self, line: OutlineForm) -> None:
        """The glass from the line given, which is that of the recess or of the daylight opening."""
        what = {"recess": "the recess", "daylight": "the daylight opening"}[line.of]
        if self.recess.outline is not None:
            raise refuse(f'found of = "{line.of}" beside recess.outline', "one of them", key="outline.of")
        needed = {"joint.width": self.joint.width} | ({"recess.landing": self.recess.landing} if line.of == "daylight" else {})
        missing = [key for key, value in needed.items() if value is None]
        if missing:
            raise refuse(
                f"the glass is to be worked out from the line of {what}, and {' and '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing",
                f"{' and '.join(needed)}, or the outline of the glass itself",
                key=missing[0],
            )
        joint, landing = self.joint.width or 0.0, self.recess.landing or 0.0
        if line.of == "recess":
            if self.recess.radius is not None:
                raise refuse(
                    'found recess.radius beside of = "recess"', "the radius inside the braces of the outline", key="recess.radius"
                )
            self.__dict__["recess"] = self.recess.model_copy(update={"outline": line})
            self.__dict__["outline"] = inside(line, joint)
        else:
            self.__dict__["outline"] = round_daylight(line, landing, joint)
        self._line = line
        self.__pydantic_fields_set__.discard("outline")

    def as_given(self, name: str) -> Any:
        """A value of the pane as it was given, before the glass was worked out from the line of its recess or daylight opening."""
        if self._line is not None and name == "outline":
            return self._line
        if self._line is not None and name == "recess" and self._line.of == "recess":
            recess = self.recess.model_copy(update={"outline": None})
            recess.__pydantic_fields_set__.discard("outline")
            return recess
        return getattr(self, name)

    @property
    def line_given(self) -> OutlineForm:
        """The line that the file gives: of the glass, or of what the glass is worked out from."""
        return self._line or (self.recess.outline if self.outline_worked_out and self.recess.outline else self.outline)

    @property
    def follows_from(self) -> str:
        """What the glass is worked out from: "recess" or "daylight"; "" where it is given."""
        if not self.outline_worked_out:
            return ""
        return self._line.of if self._line is not None else "recess"

    @property
    def incoming(self) -> tuple[tuple[str, Incoming], ...]:
        """What came out of drawings and surveys, with the outline that it is: ("glass", ...), ("recess", ...)."""
        lines = [({"": "glass", "recess": "recess", "daylight": "daylight opening"}[self.follows_from], self.line_given)]
        if self.recess.outline is not None and self.recess.outline is not self.line_given:
            lines.append(("recess", self.recess.outline))
        lines += [("print", self.frit.outline)] if self.frit.outline is not None else []
        return tuple((what, line.incoming) for what, line in lines if line.incoming is not None)

    @property
    def tight_corners(self) -> tuple[Corner, ...]:
        """The corners of the recess given that are rounder than the joint, where the glass follows from it."""
        if self.follows_from != "recess" or self.recess.outline is None or self.joint.width is None:
            return ()
        return tight_corners(self.recess.outline, self.joint.width)

    @property
    def daylight_radius(self) -> float | None:
        """The radius of the glass at sharp corners of the daylight opening that it follows from, mm; None where there is no such corner."""
        if self._line is None or self._line.of != "daylight":
            return None
        from geometry.outline.corners import corners

        sharp = any(each.convex and each.radius == 0.0 for each in corners(self._line.as_typed))
        return (self.recess.landing or 0.0) - (self.joint.width or 0.0) if sharp else None

    def _sound_sizes(self) -> None:
        left, bottom, right, top = self.outline.box
        shorter, longer = sorted((right - left, top - bottom))
        if shorter >= LEAST_PANE and longer <= LARGEST_PANE:
            return
        key = "outline" if "outline" in self.model_fields_set or self._line is not None else "recess.outline"
        raise refuse(
            f"found a pane of {right - left:g} × {top - bottom:g} mm",
            f"{LEAST_PANE:g} to {LARGEST_PANE:g} mm each way",
            "a bare number is in mm; a text carries its own unit",
            key=key,
        )

    @property
    def outline_worked_out(self) -> bool:
        """Whether the glass follows from the outline of the recess or of the daylight opening, and the joint."""
        return "outline" not in self.model_fields_set

    @property
    def office_places(self) -> dict[str, str]:
        """Every value that the office's defaults gave, by dotted key, with its place."""
        return self._given_by

    def given_by(self, path: str) -> str:
        """The place in the office's defaults that gave a value, such as "office.toml, line 12"; "" where it came from elsewhere."""
        return placed(self._given_by, path)

    @property
    def forward_on_plan(self) -> str | None:
        """Where the bow lies on the plan: as given, or by the side of an upright pane seen from outside; None: not known."""
        if self.forward is not None or self.rake >= self.limits.deck_light_rake:
            return self.forward
        return {"port": "left", "starboard": "right"}.get(self.side or "")

    @property
    def file_stem(self) -> str:
        """The name of this pane's files, without ending."""
        return file_stem(self.code, self.revision)

    @cached_property
    def origin(self) -> tuple[float, float]:
        """The point from which X and Y count, in the coordinates in which the outline is typed, mm."""
        return origin_of(self.outline, self.recess.outline, self.frit.outline)

    @property
    def _box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the pane's box from the origin, mm, as a person would type them."""
        x, y = self.origin
        left, bottom, right, top = self.outline.box
        return round(left - x, 9) + 0.0, round(bottom - y, 9) + 0.0, round(right - x, 9) + 0.0, round(top - y, 9) + 0.0

    @cached_property
    def glass_outline(self) -> Outline:
        """The pane, X and Y from its origin."""
        return outline_of(self.outline, self.origin)

    @cached_property
    def recess_outline(self) -> Outline | None:
        """The recess's own outline in the pane's coordinates, or None where it follows from the pane."""
        return None if self.recess.outline is None else own_outline(self.recess.outline, self.outline, self.origin)

    @cached_property
    def frit_outline(self) -> Outline | None:
        """The print's inner edge as drawn, in the pane's coordinates, or None where it is parallel to the glass edge."""
        return None if self.frit.outline is None else own_outline(self.frit.outline, self.outline, self.origin)


__all__ = [
    "FRAMES",
    "Bond",
    "Frame",
    "Frit",
    "Glass",
    "InterlayerKind",
    "Joint",
    "OuterProtection",
    "Pane",
    "PaneChocks",
    "Pressures",
    "Recess",
    "Revision",
    "SharedFrit",
    "SharedGlass",
    "SharedRecess",
    "Timber",
    "Treatment",
    "file_stem",
]
