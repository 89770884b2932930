"""The whole job: shared tables and panes, as one frozen value.

Every pane is complete: its own keys first, then its type's, then the vessel's, then the office's, then the defaults (``geometry.job.merging``).
``was_given`` counts a key as given wherever it was given.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import ConfigDict, Field, PrivateAttr, create_model, model_validator

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.consumables import Consumables
from geometry.job.deviations import MOST_DEVIATIONS, Deviation
from geometry.job.fields import Reads, Table, placed, setting
from geometry.job.limits import Limits
from geometry.job.lists import Lists
from geometry.job.loads import Loads
from geometry.job.materials import Materials
from geometry.job.merging import SHARED, VESSEL_ONLY, Places
from geometry.job.pane import Pane, file_stem
from geometry.job.refusal import near, refuse
from geometry.job.schedule import Schedule  # noqa: TC001 - pydantic reads the annotations
from geometry.job.schedule_heads import ColumnNames  # noqa: TC001 - pydantic reads the annotations
from geometry.job.section_tables import Bond, Frame, Joint, Pressures, SharedFrit, SharedGlass, SharedRecess
from geometry.job.session import MOST_PANES_IN_ONE, MOST_SESSIONS, Session
from geometry.job.setting_out import SettingOut
from geometry.job.shared import (
    Adhesive,
    Chocks,
    Climate,
    LayerNames,
    Sealant,
    SheetWords,
    Spacers,
    Temperatures,
    Tolerances,
    Vessel,
)
from geometry.job.supplier import Supplier
from geometry.job.units import shown
from geometry.job.work import Work

if TYPE_CHECKING:
    from pydantic.config import JsonDict, JsonValue

    from geometry.job.opened import Opened
    from geometry.job.positions import Spot

MOST_PANES = 200
ALL = ", for all panes; a pane's own keys come first"


_IN_EVERY_PANE = ("glass", "frame")
"""What a pane needs, of its own or shared."""


def _type_name(value: object) -> str:
    """The name of a type of detail, or a refusal."""
    if not isinstance(value, str) or not 0 < len(value) <= 40 or not value.isprintable() or value != value.strip():
        raise refuse(f"found the type {shown(value)}", "a name of 1 to 40 printable characters")
    return value


def _as_typed(schema: JsonDict) -> None:
    """A job as it is typed: its panes stand in it or in its schedule; glass and frame may be shared."""
    schema.pop("required", None)
    schema["anyOf"] = [{"required": ["pane"]}, {"required": ["panes"]}]
    schema["dependentRequired"] = {"columns": ["panes"]}
    everywhere: list[JsonValue] = []
    for name in _IN_EVERY_PANE:
        shared: list[JsonValue] = [{"required": [table]} for table in (name, "defaults", "type")]
        everywhere.append({"anyOf": [*shared, {"properties": {"pane": {"items": {"required": [name]}}}}]})
    schema["allOf"] = everywhere


_OF_A_TYPE: dict[str, type[Table]] = {
    "glass": SharedGlass,
    "frame": Frame,
    "recess": SharedRecess,
    "joint": Joint,
    "bond": Bond,
    "frit": SharedFrit,
    "pressure": Pressures,
    "loads": Loads,
    "climate": Climate,
    "temperatures": Temperatures,
    "tolerances": Tolerances,
    "work": Work,
    "spacers": Spacers,
    "chocks": Chocks,
    "limits": Limits,
    "consumables": Consumables,
    "setting_out": SettingOut,
}


def _type_model() -> type[Table]:
    """The shared tables that a type of detail may have: the same as those of the vessel."""
    assert tuple(_OF_A_TYPE) == SHARED, "a type shares what the vessel shares"
    tables: Any = {
        name: (kind | None, setting(None, f"any key of `pane.{name}`, for the panes of this type"))
        for name, kind in _OF_A_TYPE.items()
    }
    return create_model("DetailType", __base__=Table, __doc__="What the panes of one type of detail share.", **tables)


DetailType = _type_model()
if TYPE_CHECKING:
    Types = dict[str, Table]
else:
    Types = dict[Annotated[str, Reads(_type_name, schema={"type": "string", "minLength": 1, "maxLength": 40})], DetailType]


class Job(Table):
    """One job file that has been read and found good."""

    model_config = ConfigDict(json_schema_extra=_as_typed)

    defaults: f.Text | None = setting(
        None, "file of the office's own defaults, by its name from the job file: shared tables only"
    )
    vessel: Vessel = setting(Vessel(), "which vessel")
    sheet: SheetWords = setting(SheetWords(), "what stands in the title block")
    adhesive: Adhesive = setting(Adhesive(), "the bonding adhesive, from its data sheet")
    sealant: Sealant = setting(Sealant(), "the backfill sealant, from its data sheet")
    supplier: Supplier = setting(Supplier(), "what the glass supplier gets and is asked")
    lists: Lists = setting(Lists(), "how the lists of the vessel are written")
    climate: Climate = setting(Climate(), "where the panes are bonded")
    temperatures: Temperatures = setting(Temperatures(), "temperatures that move frame and glass")
    tolerances: Tolerances = setting(Tolerances(), "plus and minus")
    work: Work = setting(Work(), "rates of the time plan")
    spacers: Spacers = setting(Spacers(), "spacer blocks")
    chocks: Chocks = setting(Chocks(), "setting chocks")
    limits: Limits = setting(Limits(), "what the findings are held against")
    consumables: Consumables = setting(Consumables(), "rates of the list of quantities")
    setting_out: SettingOut = setting(SettingOut(), "where blocks stand and the bead starts")
    glass: SharedGlass = setting(SharedGlass(), f"make-up of the glass: any key of `pane.glass`{ALL}")
    frame: Frame | None = setting(None, f"frame material by name, or any key of `pane.frame`{ALL}")
    recess: SharedRecess = setting(SharedRecess(), f"the recess of the frame: any key of `pane.recess` but the outline{ALL}")
    joint: Joint = setting(Joint(), f"the joint round the glass: any key of `pane.joint`{ALL}")
    bond: Bond = setting(Bond(), f"the bead: any key of `pane.bond`{ALL}")
    frit: SharedFrit = setting(SharedFrit(), f"the printed band: any key of `pane.frit` but the outline{ALL}")
    pressure: Pressures = setting(Pressures(), f"design pressures: any key of `pane.pressure`{ALL}")
    loads: Loads = setting(Loads(), f"loads beside the pressures: any key of `pane.loads`{ALL}")
    layers: LayerNames = setting({}, 'layer names of your office: GLASS = "G-PANE"', shown_default="as they stand")
    deviations: Annotated[
        tuple[Deviation, ...],
        Field(
            default=(),
            alias="deviation",
            description="deviations from a rule, for the approval pack",
            json_schema_extra={"maxItems": MOST_DEVIATIONS, "absent": "left out", "shown_default": "none"},
        ),
    ]
    materials: Materials = setting(Materials(), "your own figures of materials")
    sessions: Annotated[
        tuple[Session, ...],
        Field(
            default=(),
            alias="session",
            description="the bonding sessions",
            json_schema_extra={"maxItems": MOST_SESSIONS, "absent": "left out", "shown_default": "none"},
        ),
    ]
    types: Types = setting(
        {},
        'types of detail: [type.B] holds any shared table of a pane, for the panes with type = "B"; a pane\'s own keys come first',
        shown_default="none",
        alias="type",
    )
    schedule: Schedule | None = setting(
        None, "a list of the panes in a file: a workbook or a CSV; [[pane]] may stand beside it", alias="panes"
    )
    columns: ColumnNames = setting(
        {},
        'heads of the schedule by what they give: "Recess D" = "recess.depth"; "" where a column is not read',
        shown_default="plain heads",
    )
    panes: Annotated[
        tuple[Pane, ...],
        Field(alias="pane", description="the panes", json_schema_extra={"minItems": 1, "maxItems": MOST_PANES}),
    ]
    _document: dict[str, Any] = PrivateAttr(default_factory=dict)
    _office: dict[str, Any] = PrivateAttr(default_factory=dict)
    _complete: dict[str, Any] = PrivateAttr(default_factory=dict)
    _given_by: dict[str, str] = PrivateAttr(default_factory=dict)
    _places: Places | None = PrivateAttr(default=None)
    _opened: Opened | None = PrivateAttr(default=None)
    _told: tuple[str, ...] = PrivateAttr(default=())

    @model_validator(mode="after")
    def _whole(self) -> Job:
        if self.columns and self.schedule is None:
            raise refuse("found [columns] without a schedule", 'panes = { schedule = "windows.xlsx" } beside it', key="columns")
        if not 1 <= len(self.panes) <= MOST_PANES:
            raise refuse(
                f"found {len(self.panes)} panes",
                f"1 to {MOST_PANES} [[pane]] tables in one file",
                key=f"pane.{MOST_PANES}" if self.panes else "pane",
            )
        for index, found, allowed in clashes([(i, pane.code, pane.revision) for i, pane in enumerate(self.panes)]):
            raise refuse(found, allowed, key=f"pane.{index}.code")
        self._pairs()
        self._deviations()
        self._sessions()
        return self

    def _deviations(self) -> None:
        if len(self.deviations) > MOST_DEVIATIONS:
            found = f"found {len(self.deviations)} deviations"
            raise refuse(found, f"at most {MOST_DEVIATIONS}", key=f"deviation.{MOST_DEVIATIONS}")
        codes = {pane.code for pane in self.panes}
        for index, each in enumerate(self.deviations):
            strange = [code for code in each.panes if code not in codes]
            if strange:
                allowed = f"codes of panes of this job: {', '.join(pane.code for pane in self.panes)}"
                raise refuse(f"found {shown(strange[0])}", allowed, key=f"deviation.{index}.panes")

    def _sessions(self) -> None:
        """Hold the codes that sessions name against the panes; a pane in two sessions, or in none, is a finding."""
        if len(self.sessions) > MOST_SESSIONS:
            raise refuse(f"found {len(self.sessions)} sessions", f"at most {MOST_SESSIONS}", key=f"session.{MOST_SESSIONS}")
        pieces = {pane.code: pane.quantity for pane in self.panes}
        codes = list(pieces)
        for index, session in enumerate(self.sessions):
            several = sum(pieces.get(code, 1) for code in session.panes)
            if several > MOST_PANES_IN_ONE:
                found = f"found {several} panes in one session, each of the quantity of a pane counted"
                raise refuse(found, f"at most {MOST_PANES_IN_ONE}", key=f"session.{index}.panes")
            for place, code in enumerate(session.panes):
                if code not in codes:
                    key = f"session.{index}.panes.{place}"
                    raise refuse(f"found {shown(code)}", "the code of a pane of this job", near(code, codes), key=key)
        self._one_start()

    def _one_start(self) -> None:
        """A session has one clock: a start of its own would move every time on a pane's papers against those of its session."""
        places = {pane.code: index for index, pane in enumerate(self.panes)}
        known: set[str] = set()
        for session in self.sessions:
            starts = session.start or self.panes[places[session.panes[0]]].work.start
            for code in (each for each in session.panes if each not in known):
                own = self.panes[places[code]].work.start
                if own != starts:
                    found = f"found a start at {own}, and the session of {code} begins at {starts}"
                    allowed = "the start of its session, or a session of its own"
                    raise refuse(found, allowed, key=f"pane.{places[code]}.work.start")
            known.update(session.panes)

    def _pairs(self) -> None:
        panes = {pane.code: pane for pane in self.panes}
        for index, pane in enumerate(self.panes):
            if pane.pair is None:
                continue
            fellow = panes.get(pane.pair)
            if fellow is None or fellow is pane:
                others = ", ".join(code for code in panes if code != pane.code) or "none: it is the only one"
                raise refuse(
                    f"found {shown(pane.pair)}", f"the code of another pane of this job: {others}", key=f"pane.{index}.pair"
                )
            if pane.side is not None and pane.side == fellow.side:
                found = f"{pane.code} and {fellow.code} are a pair, and both are {pane.side}"
                raise refuse(found, "one port and one starboard", key=f"pane.{index}.pair")

    def keep(
        self,
        document: dict[str, Any],
        office: Mapping[str, Any],
        whole: dict[str, Any],
        places: Places,
        opened: Opened | None = None,
        told: Sequence[str] = (),
    ) -> None:
        """Remember the tables that the job was read from, so that it can be read with other values and origins be told.

        ``opened`` are the files of other people that were read with it: no change of a value reads them again. ``told`` is what was
        decided while its schedule was read.
        """
        self._document, self._office, self._complete, self._places = document, dict(office), whole, places
        self._opened, self._told = opened, tuple(told)
        if not places.office:
            return
        self._given_by = places.given_by(None, whole)
        for index, pane in enumerate(self.panes):
            pane._given_by = places.given_by(index, whole["pane"][index])

    @classmethod
    def model_json_schema(cls, *args: Any, **options: Any) -> dict[str, Any]:
        """The job file as a JSON Schema; see ``geometry.job.schema``."""
        from geometry.job.schema import JobSchema

        return super().model_json_schema(*args, **{"schema_generator": JobSchema, **options})

    @property
    def document(self) -> dict[str, Any]:
        """The tables of the job file as they were typed; empty where the job was not read from a text."""
        return self._document

    @property
    def opened(self) -> Opened | None:
        """The drawings and surveys that were read with the job."""
        return self._opened

    @property
    def told(self) -> tuple[str, ...]:
        """What was decided while the schedule was read: separator, decimal sign, rows and columns left out; a sentence each."""
        return self._told

    def cell_of(self, index: int, key: str) -> Spot | None:
        """The cell of the schedule that gives a dotted key of a pane, "" for the pane itself; None where no cell does."""
        if self._places is None:
            return None
        return self._places.cell(("pane", index, *(step for step in key.split(".") if step)))

    @property
    def defaults_outside(self) -> str:
        """The name of the office's defaults where they lie outside the job's folder, else ""."""
        named = self.defaults or ""
        return named if named and self.opened is not None and self.opened.outside(named) else ""

    @property
    def office(self) -> dict[str, Any]:
        """The tables of the office's defaults; empty where the job names none."""
        return self._office

    @property
    def complete(self) -> dict[str, Any]:
        """The tables with every pane complete: its own keys, the vessel's, the office's."""
        return self._complete

    @property
    def office_places(self) -> dict[str, str]:
        """Every value that the office's defaults gave, by dotted key, with its place."""
        return self._given_by

    def given_by(self, path: str) -> str:
        """The place in the office's defaults that gave a value of the vessel; "" where it came from elsewhere."""
        return placed(self._given_by, path)

    def layer(self, name: str) -> str:
        """The office's name of a layer, or the standing name."""
        return self.layers.get(name, name)


def clashes(marks: Sequence[tuple[int, str, str]]) -> list[tuple[int, str, str]]:
    """The panes, by index, whose code or files are taken already: (index, what was found, what is allowed).

    ``marks`` are index, code and revision in the order of the file; file systems may not tell capitals from small letters.

    >>> clashes([(0, "W1", ""), (1, "w1", "B")])
    [(1, 'pane 1 and pane 2 both have the code w1', 'a code of its own for each pane')]
    """
    codes: dict[str, int] = {}
    files: dict[str, int] = {}
    found: list[tuple[int, str, str]] = []
    for index, code, revision in marks:
        stem = file_stem(code, revision)
        first = codes.setdefault(code.casefold(), index)
        same = files.setdefault(stem.casefold(), index)
        if first != index:
            both = f"pane {first + 1} and pane {index + 1} both have the code {shown(code)[1:-1]}"
            found.append((index, both, "a code of its own for each pane"))
        elif same != index:
            both = f"pane {same + 1} and pane {index + 1} would both be written to files named {shown(stem)[1:-1]}"
            found.append((index, both, "codes and revisions that give files of their own"))
    return found


def _office_model() -> type[Table]:
    """The shared tables of a job, and nothing of one vessel or pane."""
    kept: Any = {name: (known.annotation, known) for name, known in Job.model_fields.items() if name in (*SHARED, *VESSEL_ONLY)}
    return create_model("Office", __base__=Table, __doc__="The office's own defaults, in a file that jobs name.", **kept)


Office = _office_model()


__all__ = ["MOST_PANES", "DetailType", "Job", "Office", "clashes"]
