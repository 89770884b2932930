"""The shared tables of a job file: what holds for the whole vessel. Each default is named here and nowhere else.

Defaults marked "from memory" or "common practice, no source" stand in for the adhesive's, sealant's or glass maker's own
data sheet.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, model_validator

from geometry.job import fields as f
from geometry.job.fields import Choice, Reads, Table, setting
from geometry.job.refusal import near, refuse
from geometry.job.standards import PaneStandard, RecessStandard  # noqa: TC001 - pydantic reads the annotations
from geometry.job.units import shown

PaperSize = Annotated[Literal["A3", "A2", "A1", "A0"], Choice()]
TemplatePaper = Annotated[Literal["A4", "A3"], Choice()]
Language = Annotated[Literal["en"], Choice()]
PackRest = Annotated[float, f.Measure("share", "%", at_least=0, at_most=90)]
WeatherTemperature = Annotated[float, f.Measure("temperature", "degC", at_least=-45, at_most=60)]
"""Range of the vapour pressure formula: WMO No. 8, Annex 4.B."""
Heel = Annotated[float, f.Measure("angle", "deg", at_least=0, at_most=44)]
ColdAir = Annotated[float, f.Measure("temperature", "degC", at_least=-45, at_most=22)]
"""Colder than the 23 °C at which an open time is stated."""
Kelvin = Annotated[float, f.Measure("temperature difference", "K", at_least=1, at_most=100)]
Difference = Annotated[float, f.Measure("temperature difference", "K", at_least=0, at_most=100)]
StrengthFactor = Annotated[float, f.Measure("number", "", at_least=1, at_most=100)]
FrameColour = Annotated[Literal["bright", "light", "dark"], Choice()]
BlockHeights = Annotated[tuple[float, ...], Reads(f.ListOf(f.SIZE, least=1, most=12), "mm")]
ShimHeights = Annotated[tuple[float, ...], Reads(f.ListOf(f.SIZE, most=4), "mm")]
MovementClass = Annotated[float, f.Measure("share", "%", at_least=1, at_most=100)]


class Vessel(Table):
    """Which vessel."""

    name: f.Text = setting("", "name of the vessel")
    yard_number: f.Text = setting("", "the yard's number of the vessel, in quotes")
    hull_length: f.HullLength | None = setting(None, "hull length")
    launch: f.Day | None = setting(None, "planned day of launch")
    afloat: f.Flag | None = setting(
        None, "true: the vessel is afloat while the bead is uncured, false: she stands ashore; left out: not checked"
    )
    heel: Heel | None = setting(None, "greatest heel or trim while afloat with the bead uncured; left out: not checked")

    @property
    def title(self) -> str:
        """Name and yard number as a list is headed; a blank stays out."""
        return ", ".join(part for part in (self.name, self.yard_number) if part)


class SheetWords(Table):
    """What stands in the title block. A blank stays blank: nothing is invented."""

    owner: f.Text = setting("", "legal owner of the drawing")
    drawn_by: f.Text = setting("", "who drew it")
    checked_by: f.Text = setting("", "who checked it")
    approved_by: f.Text = setting("", "who approved it")
    approval_reference: f.Text = setting("", "the approving body's reference")
    status: f.Text = setting("", 'document status, such as "for approval"')
    date: f.Day | None = setting(None, "date of issue")
    document_type: f.Text = setting("Fit-up detail", "document type in the title block")
    size: PaperSize | None = setting(None, "sheet size A3 to A0; left out: the smallest that fits", absent="worked out")
    exploded: f.Flag = setting(
        False,
        "true: the parts pulled apart, on the detail sheet where it has room, else on one more; made from bodies of the pane, takes seconds",
    )
    template_paper: TemplatePaper = setting("A4", "paper of the template's tiles, A4 or A3")
    language: Language = setting("en", "language code of the sheet; only en")


class Adhesive(Table):
    """The bonding adhesive, from its own data sheet."""

    name: f.Text = setting("", "what the adhesive is called on the sheet")
    design_tension: f.Stress = setting(
        0.14, "design stress in tension, short term (placeholder, from memory of ASTM C1401: 20 psi)"
    )
    strength: f.Stress | None = setting(
        None,
        "characteristic strength in tension; left out: the pane bent on its bead fails beyond limits.tension_to_design instead",
    )
    strength_factor: StrengthFactor = setting(
        2.5, "strength over the tension beyond which the pane bent on its bead fails (from memory of ASTM C1401: at least 2.5)"
    )
    design_permanent_shear: f.Stress = setting(
        0.007, "design stress in shear under permanent load (placeholder, from memory of ASTM C1401: 1 psi)"
    )
    design_permanent_tension: f.Stress = setting(
        0.007, "design stress in tension under permanent load, of a reverse rake (placeholder, from memory of ASTM C1401: 1 psi)"
    )
    design_shear: f.Stress | None = setting(
        None,
        "design stress in shear, short term; left out: as design_tension (ETAG 002-1 Annex 2 has one for both)",
        absent="worked out",
    )
    shear_modulus: f.Stress = setting(0.8, "shear modulus when cured, in service (from memory)")
    tension_modulus: f.Stress | None = setting(
        None,
        "modulus of the cured bead across its thickness; left out: of a rubber strip held on both faces (upper bound, from memory)",
        absent="worked out",
    )
    design_shear_strain: f.Strain = setting(
        50.0, "shear strain from movement up to which nothing is said (common practice, no source)"
    )
    greatest_shear_strain: f.Strain = setting(
        75.0, "shear strain from movement that must not be passed (common practice, no source)"
    )
    hardness: f.Hardness | None = setting(None, "hardness when cured; left out: not compared with the spacers")
    open_time: f.PositiveMinutes = setting(30.0, "open time at 23 degC and 50 % humidity (common practice, no source)")
    open_time_cold: f.PositiveMinutes | None = setting(
        None, "a second open time of the data sheet, in colder air at 50 %; left out: in the cold never longer than open_time"
    )
    open_time_cold_air: ColdAir | None = setting(None, "air at which open_time_cold holds; given together with it")
    pack: f.Volume = setting(600.0, "volume of one pack")
    density: f.Density | None = setting(None, "density when cured, for the list of masses; left out: the bead is not in it")
    pack_rest: PackRest = setting(5.0, "share of a pack that cannot be pressed out (common practice, no source)")
    opened_life: f.PositiveMinutes | None = setting(
        None,
        "how long an opened pack may be used, for the next pane of its session; left out: each pane opens its own packs",
    )
    yield_stress_uncured: f.UncuredStress = setting(1.0, "yield stress of the uncured bead (from memory, order of size only)")
    cure_depth: f.CureDepth = setting(3.0, "depth of cure in the square root of days, at 23 degC and 50 % (from memory)")
    waste: f.Share = setting(12.0, "waste added to the bead's volume (common practice, no source)")
    purge: f.VolumeOrZero = setting(30.0, "lost in nozzle and first run (common practice, no source)")
    open_time_halving: Kelvin = setting(
        10.0, "rise of the air's temperature above 23 degC that halves the open time (from memory, rough): adhesive sheet"
    )
    cure_doubling: Kelvin = setting(
        10.0, "rise of the air's temperature that makes the cure twice as fast (from memory, rough): adhesive sheet"
    )
    handling: f.Hours = setting(24.0, "least time before the pane may be handled, at 23 degC (common practice, no source)")

    @model_validator(mode="after")
    def _cold(self) -> Adhesive:
        if (self.open_time_cold is None) is not (self.open_time_cold_air is None):
            given = "open_time_cold" if self.open_time_cold_air is None else "open_time_cold_air"
            other = "open_time_cold_air" if self.open_time_cold_air is None else "open_time_cold"
            raise refuse(f"found {given} without {other}", "both or none", key=given)
        if self.open_time_cold is not None and self.open_time_cold < self.open_time:
            found = f"open_time_cold {self.open_time_cold:g} min is less than open_time {self.open_time:g} min"
            raise refuse(found, "at least open_time", key="open_time_cold")
        return self

    @model_validator(mode="after")
    def _in_order(self) -> Adhesive:
        if self.greatest_shear_strain < self.design_shear_strain:
            greatest, design = self.greatest_shear_strain, self.design_shear_strain
            given = "greatest_shear_strain" if "greatest_shear_strain" in self.model_fields_set else "design_shear_strain"
            found = f"greatest_shear_strain {greatest:g} % is less than design_shear_strain {design:g} %"
            raise refuse(found, "at least design_shear_strain", key=given)
        return self


class Sealant(Table):
    """The sealant that fills the joint over the backer."""

    name: f.Text = setting("", "what the sealant is called on the sheet")
    movement_class: MovementClass = setting(25.0, "movement class of ISO 11600: share of the joint width it can follow")
    pack: f.Volume = setting(600.0, "volume of one pack")
    density: f.Density | None = setting(None, "density when cured, for the list of masses; left out: the backfill is not in it")
    pack_rest: PackRest = setting(5.0, "share of a pack that cannot be pressed out (common practice, no source)")
    waste: f.Share = setting(15.0, "waste added to the joint's volume (common practice, no source)")
    hose_after: f.Days = setting(
        1.0, "days from the backfill to a hose test, least (own default: the data sheet of the sealant decides)"
    )


class Climate(Table):
    """Air and surfaces where the pane is bonded."""

    air: WeatherTemperature = setting(23.0, "air temperature")
    humidity: f.PositiveShare = setting(50.0, "relative humidity of the air")
    surface: WeatherTemperature | None = setting(None, "temperature of the glass; left out: as the air", absent="worked out")
    frame_surface: WeatherTemperature | None = setting(
        None, "temperature of the frame; left out: as the glass", absent="worked out"
    )

    @property
    def glass_key(self) -> str:
        """The key that gives the temperature of the glass."""
        return "air" if self.surface is None else "surface"

    @property
    def frame_key(self) -> str:
        """The key that gives the temperature of the frame."""
        return self.glass_key if self.frame_surface is None else "frame_surface"


class Case(Table):
    """One temperature case of the life of the pane."""

    frame: f.Temperature = setting(..., "temperature of the frame in this case")
    glass: f.Temperature = setting(..., "temperature of the glass in this case")


class Temperatures(Table):
    """Temperatures that move frame and glass against each other."""

    bonding: f.Temperature | None = setting(
        None,
        "temperature of frame and glass when pressed home; left out: their surfaces in the climate of the pane",
        absent="worked out",
    )
    frame_colour: FrameColour = setting(
        "dark", "colour of the frame in the sun: bright, light or dark (own default: the hottest)"
    )
    hottest_air: WeatherTemperature = setting(40.0, "hottest air in the shade of the pane's life (own default)")
    coldest_air: WeatherTemperature = setting(
        -20.0, "coldest air of the pane's life (from memory: the coldest of the tests of ETAG 002)"
    )
    glass_behind_frame: Difference = setting(
        25.0, "how much cooler the glass is than a frame in the sun (ETAG 002-1 Annex 2, seen at second hand)"
    )
    frame_in_shade: f.Temperature = setting(
        30.0, "temperature of a frame in the shade while the sun is on the glass (common practice, no source)"
    )
    print_absorptance: f.Share = setting(
        90.0, "share of the sunlight that the printed edge of the glass takes up (from memory of EN 1991-1-5: dark surfaces)"
    )
    sun_gain: Difference = setting(
        56.0, "how much hotter than the air the sun makes a surface that takes up all light (from memory of ASTM C1472)"
    )
    cases: dict[str, Case] | None = setting(
        None,
        "the cases by name, each { frame, glass }; left out: hot soak, sun on glass and frost night by the keys above; "
        "given cases replace all three",
        absent="worked out",
    )

    @model_validator(mode="after")
    def _in_order(self) -> Temperatures:
        if self.coldest_air > self.hottest_air:
            given = "coldest_air" if "coldest_air" in self.model_fields_set else "hottest_air"
            found = f"coldest_air {self.coldest_air:g} °C is more than hottest_air {self.hottest_air:g} °C"
            raise refuse(found, "at most hottest_air", key=given)
        return self

    @model_validator(mode="after")
    def _some(self) -> Temperatures:
        if self.cases is None:
            return self
        if not 1 <= len(self.cases) <= 20:
            raise refuse(f"cases holds {len(self.cases)} temperature cases", "1 to 20", key="cases")
        for name in self.cases:
            if not name or len(name) > 40 or not name.isprintable():
                raise refuse(
                    f"found a temperature case named {shown(name)}", "a name of 1 to 40 printable characters", key="cases"
                )
        return self


_REGISTER = "from the register of tolerances"


class Tolerances(Table):
    """Plus and minus each; what is left out comes from the register of tolerances by kind and size."""

    recess: f.SizeOrZero | None = setting(None, "overall size of the recess", absent="worked out", shown_default=_REGISTER)
    pane: f.SizeOrZero | None = setting(None, "overall size of the pane", absent="worked out", shown_default=_REGISTER)
    recess_standard: RecessStandard | None = setting(
        None,
        "class of ISO 13920 (welded) or ISO 2768-1 (machined) whose table gives the size of the recess where `recess` is left out "
        "(as transcribed)",
    )
    pane_standard: PaneStandard | None = setting(
        None,
        "EN 12150-1 (toughened, from memory) or EN ISO 12543-5 (laminated, as transcribed), whose table gives the size of the pane where "
        "`pane` is left out; left out: by its plies",
    )
    ply_step: f.SizeOrZero | None = setting(
        None, "step of one ply of a laminate beyond another", absent="worked out", shown_default=_REGISTER
    )
    diagonals: f.SizeOrZero | None = setting(
        None, "greatest difference between the two diagonals of the pane, as ordered; left out: as agreed with the supplier"
    )
    print: f.SizeOrZero | None = setting(None, "edge of the print", absent="worked out", shown_default=_REGISTER)
    print_size: f.SizeOrZero | None = setting(None, "overall size of the print", absent="worked out", shown_default=_REGISTER)
    placing: f.SizeOrZero | None = setting(
        None, "placing of the pane in the recess", absent="worked out", shown_default=_REGISTER
    )
    bond_thickness: f.SizeOrZero | None = setting(
        None, "bond thickness over the spacers", absent="worked out", shown_default=_REGISTER
    )
    glass_thickness: f.SizeOrZero | None = setting(
        None, "thickness of the whole glass", absent="worked out", shown_default=_REGISTER
    )
    recess_depth: f.SizeOrZero | None = setting(None, "depth of the recess", absent="worked out", shown_default=_REGISTER)
    paint: f.SizeOrZero = setting(0.0, "paint that may come onto landing and skin after the recess was measured (own default)")
    landing: f.SizeOrZero | None = setting(None, "width of the landing", absent="worked out", shown_default=_REGISTER)
    flatness: f.SizeOrZero | None = setting(
        None, "hollows of the landing under a 1 m straight-edge", absent="worked out", shown_default=_REGISTER
    )


class Spacers(Table):
    """Spacer blocks that set the bond thickness (common practice, no source)."""

    width: f.Size = setting(5.0, "width across the edge of the glass")
    length: f.Size = setting(25.0, "length along the edge of the glass")
    pitch: f.Pitch = setting(450.0, "greatest distance along an edge")
    from_corner: f.SizeOrZero = setting(50.0, "first spacer from where a corner's rounding begins")
    hardness: f.Hardness = setting(50.0, "hardness")
    squeeze: f.Share = setting(5.0, "how much the pressed spacer gives of its free height")
    stock: BlockHeights | None = setting(
        None, "heights in which spacers can be bought, for the list of blocks; left out: as they are drawn"
    )

    @model_validator(mode="after")
    def _apart(self) -> Spacers:
        if self.pitch < self.length:
            raise refuse(
                f"pitch is {self.pitch:g} mm, less than the spacer's own length of {self.length:g} mm",
                "at least the length",
                key="pitch" if "pitch" in self.model_fields_set else "length",
            )
        if self.squeeze > 50:
            raise refuse(f"squeeze is {self.squeeze:g} %", "at most 50 %", key="squeeze")
        return self


class Chocks(Table):
    """Setting chocks in the joint."""

    length: f.Size | None = setting(None, "length along the edge; left out: by the area of the pane", absent="worked out")
    backfill_over: f.SizeOrZero | None = setting(None, "depth of backfill over the chock", absent="worked out")
    hardness: f.Hardness = setting(80.0, "hardness (common practice: 70 to 90)")
    permanent: f.Flag = setting(True, "true: the chocks stay and carry the weight for good")
    stock: BlockHeights = setting(
        (3.0, 4.0, 5.0, 6.0), "heights of the chocks at hand or to be bought (common practice, no source)"
    )
    shims: ShimHeights = setting((0.5, 1.0), "shims at hand, each once under a chock (common practice, no source)")


LAYERS = (
    "FRIT_TINT",
    "FADE_TINT",
    "INSIDE_TINT",
    "BEAD_BAND",
    "RECESS",
    "GLASS",
    "FRIT_OUTER",
    "FRIT_INNER",
    "FRIT_FADE",
    "BEAD_EDGE",
    "BEAD_CENTRE",
    "SIGHT_LINE",
    "SPACERS",
    "CHOCKS",
    "BACKFILL",
    "MATERIAL_FRAME",
    "MATERIAL_GLASS",
    "MATERIAL_INTERLAYER",
    "MATERIAL_ADHESIVE",
    "MATERIAL_BACKER",
    "MATERIAL_SPACER",
    "MATERIAL_CHOCK",
    "MATERIAL_FRIT",
    "INSIDE_OUTLINE",
    "CUT_OUTLINE",
    "SEEN_OUTLINE",
    "BREAK_LINES",
    "CENTRE_LINES",
    "DETAIL",
    "DETAIL_WIDE",
    "DETAIL_DASHED",
    "DETAIL_CHAIN",
    "DETAIL_PHANTOM",
    "DETAIL_FADE",
    "DETAIL_THIN",
    "DIMENSIONS",
    "TEXT",
    "SECTION_MARKS",
    "ITEM_LEADERS",
    "BOND_STRESS",
    "SHEET",
    "TITLE",
    "TABLES",
    "TABLE_HEADS",
    "FLAGS",
    "FLAG_FIGURES",
    "VIEWPORTS",
)
_BARRED = '<>/\\":;?*|=`,'


def _standing_name(value: Any) -> str:
    if value not in LAYERS:
        raise refuse(f"found the layer {shown(value)}", "one of " + ", ".join(LAYERS), near(str(value).upper(), LAYERS))
    return str(value)


def _office_name(value: Any) -> str:
    good = isinstance(value, str) and 0 < len(value) <= 255 and value == value.strip() and value.isprintable()
    if not good or set(value) & set(_BARRED) or value.casefold() in ("0", "defpoints"):
        signs = " ".join(_BARRED)
        raise refuse(
            f"found {shown(value)}", f"a layer name of 1 to 255 printable characters, none of {signs}, not 0 or Defpoints"
        )
    return str(value)


def _all_different(names: dict[str, str]) -> dict[str, str]:
    """Refuse two layers of one name; DXF compares layer names without regard to case."""
    taken: dict[str, str] = {}
    for layer in LAYERS:
        name = names.get(layer, layer)
        other = taken.setdefault(name.casefold(), layer)
        if other != layer:
            both = f"{other} and {layer} would both have the layer name {shown(name)}"
            raise refuse(both, "a different name for each layer", key=layer if layer in names else other)
    return names


LayerNames = Annotated[
    dict[
        Annotated[str, Reads(_standing_name, schema={"enum": list(LAYERS)})],
        Annotated[str, Reads(_office_name, schema={"type": "string", "minLength": 1, "maxLength": 255})],
    ],
    AfterValidator(_all_different),
]


__all__ = [
    "LAYERS",
    "Adhesive",
    "Case",
    "Chocks",
    "Climate",
    "LayerNames",
    "Sealant",
    "SheetWords",
    "Spacers",
    "Temperatures",
    "Tolerances",
    "Vessel",
]
