"""The whole job: shared tables and panes, as one frozen value.

Every pane's ``climate``, ``temperatures``, ``tolerances``, ``work``, ``spacers`` and ``chocks`` are complete: the pane's own keys first,
then the vessel's, then the defaults. ``was_given`` counts a key as given wherever it was given.
"""

from __future__ import annotations

from typing import Annotated, TypeVar

from pydantic import Field, model_validator

from geometry.job.fields import Table, setting
from geometry.job.pane import Pane
from geometry.job.refusal import refuse
from geometry.job.shared import (
    Adhesive,
    Chocks,
    Climate,
    LayerNames,
    Materials,
    Sealant,
    SheetWords,
    Spacers,
    Temperatures,
    Tolerances,
    Vessel,
    Work,
)

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
    layers: LayerNames = setting({}, "layer names of your office: GLASS = \"G-PANE\"", shown_default="as they stand")
    materials: Materials = setting(Materials(), "your own figures of materials")
    panes: Annotated[tuple[Pane, ...], Field(alias="pane")]

    @model_validator(mode="after")
    def _whole(self) -> Job:
        if not 1 <= len(self.panes) <= MOST_PANES:
            raise refuse(f"found {len(self.panes)} panes", f"1 to {MOST_PANES} [[pane]] tables in one file")
        stems: dict[str, Pane] = {}
        codes: dict[str, int] = {}
        for number, pane in enumerate(self.panes, start=1):
            first = codes.setdefault(pane.code.casefold(), number)
            if first != number:
                raise refuse(f"pane {first} and pane {number} both have the code {pane.code}", "a code of its own for each pane")
            other = stems.setdefault(pane.file_stem.casefold(), pane)
            if other is not pane:
                raise refuse(f"the panes {other.code} and {pane.code} would both be written to files named {pane.file_stem}", "codes that differ")
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
        }
        values = {name: tables.get(name, getattr(pane, name)) for name in type(pane).model_fields}
        given = pane.model_fields_set | {name for name, table in tables.items() if table.model_fields_set}
        return Pane.model_construct(_fields_set=given, **values)

    def layer(self, name: str) -> str:
        """The office's name of a layer, or the standing name."""
        return self.layers.get(name, name)


def _filled(own: AnyTable, shared: Table) -> AnyTable:
    """The pane's own table with what it leaves out taken from the shared one."""
    wanted = set(type(shared).model_fields) - own.model_fields_set
    values = {name: getattr(shared if name in wanted else own, name) for name in type(own).model_fields}
    given = own.model_fields_set | (shared.model_fields_set & wanted)
    return type(own).model_construct(_fields_set=given, **values)
