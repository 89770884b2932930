"""One pane of a job file: its outline and its tables, and whether they go together.

Terms
-----
of its own
    A table of a pane that stands in place of the vessel's shared table, key by key.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import ConfigDict, PrivateAttr, model_validator

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.consumables import Consumables
from geometry.job.fields import Choice, Reads, Table, placed, setting, whole
from geometry.job.following import inside, round_daylight, tight_corners
from geometry.job.hands import OTHER
from geometry.job.limits import Limits
from geometry.job.loads import Loads
from geometry.job.made import Made  # noqa: TC001 - pydantic reads the annotations
from geometry.job.outlines import OUTLINES, Corners, OutlineForm, origin_of, outline_of, own_outline
from geometry.job.placing import Placing, sound_placing
from geometry.job.refusal import refuse
from geometry.job.section_tables import Bond, Frame, Frit, Glass, Joint, PaneChocks, Pressures, Recess, Revision, Timber
from geometry.job.setting_out import SettingOut
from geometry.job.shared import Climate, Spacers, Temperatures, Tolerances
from geometry.job.standards import reached_by_its_standard
from geometry.job.work import Work

if TYPE_CHECKING:
    from pydantic.config import JsonDict

    from geometry.incoming import Incoming
    from geometry.outline import Corner
    from geometry.outline.loop import Outline

FrameBuild = Annotated[Literal["welded", "machined", "moulded", "joinery"], Choice()]
Side = Annotated[Literal["port", "starboard", "centre"], Choice()]
Hand = Annotated[Literal["port and starboard"], Choice()]
Forward = Annotated[Literal["left", "right", "up", "down", "out of the plan", "into the plan"], Choice()]


SLACK = 1e-9
"""mm that the sums of a box may be off."""
LEAST_PANE, LARGEST_PANE = 10.0, 20_000.0
"""mm of a pane's box: the longest float glass made has about 20 m (from memory), and less than 10 mm holds no bead."""
OWN_UNIT = "a bare number is in mm; a text carries its own unit"


def file_stem(code: str, revision: str) -> str:
    """The name of a pane's files, without ending."""
    return f"{code}-{revision}" if revision else code


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
    type: f.Text | None = setting(None, "the type of detail, whose tables [type.<name>] hold where the pane has none of its own")
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
    placing: Placing | None = setting(
        None,
        "where the pane lies on the vessel, for its solid and its centre of gravity; left out: the solid stands in the frame of the plan",
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
            if self.placing is not None:
                raise refuse(
                    "found placing beside hand: no two panes lie in one place",
                    "both panes typed, each with pair and placing",
                    key="placing",
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
        sound_placing(self)
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

    def all_as_given(self) -> dict[str, Any]:
        """Every value of the pane as it was given, by its name: see :meth:`as_given`."""
        values = {name: self.__dict__[name] for name in type(self).model_fields}
        return values | {name: self.as_given(name) for name in ("outline", "recess")}

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
            "units of the outline says in which unit it was drawn" if self.line_given.incoming else OWN_UNIT,
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


__all__ = ["Pane", "file_stem"]
