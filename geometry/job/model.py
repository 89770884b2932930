"""The whole job: shared tables and panes, as one frozen value.

Every pane's ``climate``, ``temperatures``, ``tolerances``, ``work``, ``spacers``, ``chocks``, ``limits``,
``consumables`` and ``setting_out`` are complete: the pane's
own keys first, then the vessel's, then the defaults. ``was_given`` counts a key as given wherever it was given.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any, TypeVar

from pydantic import Field, PrivateAttr, model_validator

from geometry.job.consumables import Consumables
from geometry.job.fields import Table, setting
from geometry.job.limits import Limits
from geometry.job.materials import Materials
from geometry.job.pane import Pane, file_stem
from geometry.job.refusal import refuse
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
    Work,
)
from geometry.job.units import shown

MOST_PANES = 200
AnyTable = TypeVar("AnyTable", bound=Table)


class Job(Table):
    """One job file that has been read and found good."""

    vessel: Vessel = setting(Vessel(), "which vessel")
    sheet: SheetWords = setting(SheetWords(), "what stands in the title block")
    adhesive: Adhesive = setting(Adhesive(), "the bonding adhesive, from its data sheet")
    sealant: Sealant = setting(Sealant(), "the backfill sealant, from its data sheet")
    climate: Climate = setting(Climate(), "where the panes are bonded")
    temperatures: Temperatures = setting(Temperatures(), "temperatures that move frame and glass")
    tolerances: Tolerances = setting(Tolerances(), "plus and minus")
    work: Work = setting(Work(), "rates of the time plan")
    spacers: Spacers = setting(Spacers(), "spacer blocks")
    chocks: Chocks = setting(Chocks(), "setting chocks")
    limits: Limits = setting(Limits(), "what the findings are held against")
    consumables: Consumables = setting(Consumables(), "rates of the list of quantities")
    setting_out: SettingOut = setting(SettingOut(), "where blocks stand and the bead starts")
    layers: LayerNames = setting({}, 'layer names of your office: GLASS = "G-PANE"', shown_default="as they stand")
    materials: Materials = setting(Materials(), "your own figures of materials")
    panes: Annotated[
        tuple[Pane, ...],
        Field(alias="pane", description="the panes", json_schema_extra={"minItems": 1, "maxItems": MOST_PANES}),
    ]
    _document: dict[str, Any] = PrivateAttr(default_factory=dict)

    @model_validator(mode="after")
    def _whole(self) -> Job:
        if not 1 <= len(self.panes) <= MOST_PANES:
            raise refuse(
                f"found {len(self.panes)} panes",
                f"1 to {MOST_PANES} [[pane]] tables in one file",
                key=f"pane.{MOST_PANES}" if self.panes else "pane",
            )
        for index, found, allowed in clashes([(i, pane.code, pane.revision) for i, pane in enumerate(self.panes)]):
            raise refuse(found, allowed, key=f"pane.{index}.code")
        complete = tuple(self._completed(pane) for pane in self.panes)
        self.__dict__["panes"] = complete  # still being made: nobody has seen the job yet
        return self

    def _completed(self, pane: Pane) -> Pane:
        tables = {
            "climate": _filled(pane.climate, self.climate),
            "temperatures": _filled(pane.temperatures, self.temperatures),
            "tolerances": _filled(pane.tolerances, self.tolerances),
            "work": _filled(pane.work, self.work),
            "spacers": _filled(pane.spacers, self.spacers),
            "chocks": _filled(pane.chocks, self.chocks),
            "limits": _filled(pane.limits, self.limits),
            "consumables": _filled(pane.consumables, self.consumables),
            "setting_out": _filled(pane.setting_out, self.setting_out),
        }
        values = {name: tables.get(name, getattr(pane, name)) for name in type(pane).model_fields}
        given = pane.model_fields_set | {name for name, table in tables.items() if table.model_fields_set}
        return Pane.model_construct(_fields_set=given, **values)

    @classmethod
    def model_json_schema(cls, *args: Any, **options: Any) -> dict[str, Any]:
        """The job file as a JSON Schema; see ``geometry.job.schema``."""
        from geometry.job.schema import JobSchema

        return super().model_json_schema(*args, **{"schema_generator": JobSchema, **options})

    @property
    def document(self) -> dict[str, Any]:
        """The tables of the job file as they were typed; empty where the job was not read from a text."""
        return self._document

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


def _filled(own: AnyTable, shared: Table) -> AnyTable:
    """The pane's own table with what it leaves out taken from the shared one."""
    wanted = set(type(shared).model_fields) - own.model_fields_set
    values = {name: getattr(shared if name in wanted else own, name) for name in type(own).model_fields}
    given = own.model_fields_set | (shared.model_fields_set & wanted)
    return type(own).model_construct(_fields_set=given, **values)
