"""What the lists of a vessel have to know of one pane: plain values, gathered once, right after its check.

Terms
-----
facts
    Texts, numbers, yes or no, and tuples of those: they go from one process to another and into a file and come back the same. A number
    has the twelve digits that every data file has; one that is not finite is None.
open finding
    A finding that does not pass: it fails, a person has to look, or it was not checked.

No list holds the details or the checks of all panes: of a pane that is drawn only this stays.
"""

from __future__ import annotations

import dataclasses
import hashlib
import math
import types
import typing
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.ledger.finding import Finding
    from geometry.workings.subject import Subject

_Facts = TypeVar("_Facts")


@dataclass(frozen=True, slots=True)
class FileFacts:
    """One file: its name in its folder, SHA-256 and length in bytes."""

    name: str
    sha256: str
    length: int


@dataclass(frozen=True, slots=True)
class DocumentFacts:
    """One document of a pane: its name in ``outputs.documents``, its identification number, who works from it, its files."""

    name: str
    number: str
    readers: tuple[str, ...]
    files: tuple[FileFacts, ...]


@dataclass(frozen=True, slots=True)
class FindingFacts:
    """A finding that does not pass. ``flag`` is its number on every document, 0 for none; ``decides`` as the finding says it.

    ``value`` and ``limit`` are in ``unit``, None where it was not checked; ``verdict`` is "fail", "look" or "not checked".
    """

    flag: int
    name: str
    verdict: str
    decides: bool
    value: float | None
    limit: float | None
    side: str
    unit: str
    where: str
    says: str
    missing: str
    source: str
    remedies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GlassFacts:
    """Make-up from the weather face inwards, mm: plies and the interlayers between them."""

    plies: tuple[float, ...]
    interlayers: tuple[float, ...]
    interlayer_material: str  # "" of one ply
    treatment: str
    heat_soaked: bool | None  # None: the job does not say it
    thickness: float
    standard: str  # as given, else by the kind of glass


@dataclass(frozen=True, slots=True)
class PrintFacts:
    """The printed band, mm: from ``start`` to ``width`` from the glass edge, ``fade`` of it dots; faces count from the weather side.

    ``as_drawn``: its inner edge has an outline of its own. ``opacity`` in % of the light, None: opaque, as on the order.
    """

    face: int
    bond_face: int
    start: float
    width: float
    fade: float
    as_drawn: bool
    printed: bool  # on the glass already
    opacity: float | None


@dataclass(frozen=True, slots=True)
class BlockFacts:
    """A spacer or a block in the joint: middle X and Y from the origin of the pane and sizes, mm.

    ``height`` is the free height of a spacer, the joint at a block; ``width`` is across the edge of the glass: of a block along the depth
    of the recess.
    """

    mark: str
    kind: str
    edge: str
    x: float
    y: float
    length: float
    width: float
    height: float
    hardness: float


@dataclass(frozen=True, slots=True)
class OrderedFacts:
    """The pane as it is ordered, whatever came back: box in mm, area in m², mass in kg."""

    width: float
    height: float
    area_m2: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class FillFacts:
    """Bead and backfill in place: volumes in ml, masses in kg, None where the job gives no density."""

    adhesive_ml: float
    sealant_ml: float
    adhesive_kg: float | None
    sealant_kg: float | None


@dataclass(frozen=True, slots=True)
class QuantityFacts:
    """One line of the list of quantities of one pane, as its record has it."""

    what: str
    amount: float
    unit: str
    to_buy: str
    basis: str
    sizes: tuple[float, ...]
    packs: int


@dataclass(frozen=True, slots=True)
class DayFacts:
    """The bonding by the clock, minutes from the start of work, and days after it from which something is released; None: never."""

    start: str  # "08:00"
    bead_starts: float
    last_press: float
    latest_abort: float
    open_time: float
    in_time: bool
    packs: int
    backfill_day: float | None
    handling_day: float | None
    hose_day: float | None
    full_cure_day: float | None
    session: str  # title of the bonding session; "" for none
    bonded_on: str  # day of the bonding; "" where no session gives one
    releases: tuple[tuple[str, int | None], ...]  # what is released on which whole day after the bonding; None: never


@dataclass(frozen=True, slots=True)
class PaneFacts:
    """One pane as the lists of its vessel know it.

    ``state`` is the word of every document ("FAIL 2, LOOK 1"), ``told`` the same with what was not run; counts as the state has them, of
    which ``deciding`` are those not checked that decide. Lengths mm, ``rake`` degrees, pressures kPa; centroid from the pane's origin.
    """

    code: str
    name: str
    revision: str
    side: str  # port, starboard, centre; "" where the job says nothing
    quantity: int
    location: str
    mark: str
    date: str  # of issue, as the job gives it; "" where it gives none
    revision_date: str  # of the revision in the pane's own table; "" where it is not there
    revision_says: str
    verdict: str
    state: str
    told: str
    fail: int
    look: int
    not_checked: int
    deciding: int
    passed: int
    plate: str
    not_for_manufacture: tuple[str, ...]
    open_findings: tuple[FindingFacts, ...]
    glass: GlassFacts
    print: PrintFacts
    frame: str
    rake: float
    load_bearing: bool | None  # None: the job does not say it
    in_hull: bool | None  # likewise
    approval_reference: str
    document_status: str
    pressure_outward: float | None
    pressure_inward: float | None
    pressure_reference: str
    as_made: bool
    glass_cuts_recess: bool  # as drawn it lies outside its recess somewhere: it cannot be fitted
    width: float
    height: float
    area_m2: float
    mass_kg: float
    ordered: OrderedFacts
    perimeter: float
    centroid: tuple[float, float]
    on_vessel: tuple[float, float, float] | None  # centre of the glass in the vessel's frame; None: not placed
    origin: str
    quantities: tuple[QuantityFacts, ...]
    blocks: tuple[BlockFacts, ...]
    chock_stock: tuple[float, ...]
    shims: tuple[float, ...]
    spacer_stock: tuple[float, ...]  # empty: as they are drawn
    fill: FillFacts
    day: DayFacts | None
    documents: tuple[DocumentFacts, ...] = ()

    @property
    def files(self) -> tuple[FileFacts, ...]:
        """The files of all its documents."""
        return tuple(file for each in self.documents for file in each.files)

    @property
    def file_stem(self) -> str:
        """The name of the pane's files, without ending."""
        from geometry.job.pane import file_stem

        return file_stem(self.code, self.revision)

    def with_documents(self, documents: Iterable[DocumentFacts]) -> PaneFacts:
        """The same with the documents that were made of it."""
        return dataclasses.replace(self, documents=tuple(documents))


def file_facts(name: str, data: bytes) -> FileFacts:
    """The facts of one file."""
    return FileFacts(name, hashlib.sha256(data).hexdigest(), len(data))


def facts_of(check: PaneCheck) -> PaneFacts:
    """The facts of a checked pane, its documents left out."""
    from geometry.detail.on_vessel import glass_on_vessel

    subject, state = check.subject, check.state
    pane, detail, job = subject.pane, subject.detail, subject.job
    box = _box(detail)
    letters = {each.letter: each for each in pane.revisions}
    own = letters.get(pane.revision)
    return PaneFacts(
        code=pane.code,
        name=pane.name,
        revision=pane.revision,
        side=pane.side or "",
        quantity=pane.quantity,
        location=pane.location,
        mark=check.mark,
        date=job.sheet.date.isoformat() if job.sheet.date else "",
        revision_date=own.date.isoformat() if own is not None and own.date else "",
        revision_says=own.what if own is not None else "",
        verdict=state.verdict.value,
        state=state.words,
        told=state.told,
        fail=state.fail,
        look=state.look,
        not_checked=state.not_checked,
        deciding=state.deciding,
        passed=state.passed,
        plate=state.plate.value,
        not_for_manufacture=state.not_for_manufacture,
        open_findings=_open_findings(check),
        glass=_glass(subject),
        print=_print(subject),
        frame=pane.frame.name,
        rake=_number(pane.rake),
        load_bearing=pane.load_bearing if "load_bearing" in pane.model_fields_set else None,
        in_hull=pane.in_hull if "in_hull" in pane.model_fields_set else None,
        approval_reference=pane.approval_reference or job.sheet.approval_reference,
        document_status=job.sheet.status,
        pressure_outward=_known(pane.pressure.outward),
        pressure_inward=_known(pane.pressure.inward),
        pressure_reference=pane.pressure.reference,
        as_made=detail.placed is not None,
        glass_cuts_recess=detail.glass_cuts_recess,
        width=box[0],
        height=box[1],
        area_m2=_number(detail.area / 1e6),
        mass_kg=_number(detail.glass.mass),
        ordered=_ordered(subject),
        perimeter=_number(detail.perimeter),
        centroid=(_number(detail.centroid.x), _number(detail.centroid.y)),
        on_vessel=_three(glass_on_vessel(pane, detail)),
        origin=detail.origin.name,
        quantities=_quantities(check),
        blocks=(*_spacers(subject), *_chocks(subject)),
        chock_stock=tuple(_number(each) for each in pane.chocks.stock),
        shims=tuple(_number(each) for each in pane.chocks.shims),
        spacer_stock=tuple(_number(each) for each in pane.spacers.stock or ()),
        fill=_fill(subject),
        day=_day(check),
    )


def _number(value: float) -> float:
    """A figure with the digits of every data file."""
    from outputs.record.numbers import settled

    return settled(value)


def _three(place: tuple[float, float, float] | None) -> tuple[float, float, float] | None:
    return None if place is None else (_number(place[0]), _number(place[1]), _number(place[2]))


def _known(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else _number(value)


def _box(detail: Detail) -> tuple[float, float]:
    from geometry.outline import bounding_box

    box = bounding_box(detail.curves.glass)
    return _number(box.width), _number(box.height)


def _ordered(subject: Subject) -> OrderedFacts:
    """Of a pane that was made the order is another; it was drawn for the supplier, so it can be built."""
    from geometry.detail.build import build_detail

    pane, detail = subject.pane, subject.detail
    if detail.placed is not None:
        detail = build_detail(subject.job, pane.model_copy(update={"made": None}))
    return OrderedFacts(*_box(detail), _number(detail.area / 1e6), _number(detail.glass.mass))


def _open_findings(check: PaneCheck) -> tuple[FindingFacts, ...]:
    """What does not pass, by its flags first, then what was not checked and decides nothing."""
    from geometry.ledger.finding import Verdict

    flags = check.state.flags
    rest = [each for each in check.findings if each.verdict is Verdict.NOT_CHECKED and not each.decides]
    return (*(_finding(each.number, each.finding) for each in flags), *(_finding(0, each) for each in rest))


def _finding(flag: int, found: Finding) -> FindingFacts:
    return FindingFacts(
        flag=flag,
        name=found.name,
        verdict=found.verdict.value,
        decides=found.decides,
        value=_known(found.value),
        limit=_known(found.limit),
        side=found.side.value,
        unit=found.counted or found.unit,
        where=found.where,
        says=found.says,
        missing=found.missing,
        source=found.source,
        remedies=tuple(str(each) for each in found.remedies),
    )


def _glass(subject: Subject) -> GlassFacts:
    from outputs.sheets.pane_words import standard_words

    glass, built = subject.pane.glass, subject.detail.glass
    return GlassFacts(
        plies=tuple(_number(each) for each in glass.plies),
        interlayers=tuple(_number(each) for each in glass.interlayers),
        interlayer_material=glass.interlayer_material if glass.interlayers else "",
        treatment=glass.treatment,
        heat_soaked=glass.heat_soaked,
        thickness=_number(built.thickness),
        standard=standard_words(subject.job, subject.pane),
    )


def _print(subject: Subject) -> PrintFacts:
    glass, frit, sizes = subject.pane.glass, subject.pane.frit, subject.sizes
    return PrintFacts(
        face=glass.printed_face or glass.bond_face,
        bond_face=glass.bond_face,
        start=_number(sizes.frit_start.value),
        width=_number(sizes.frit_width.value),
        fade=_number(sizes.frit_fade.value),
        as_drawn=subject.detail.frit_as_drawn,
        printed=frit.printed,
        opacity=_known(frit.opacity),
    )


def _spacers(subject: Subject) -> tuple[BlockFacts, ...]:
    from geometry.workings.surveyed_recess import own_spacer_heights

    sizes, own = subject.sizes, own_spacer_heights(subject)
    return tuple(
        BlockFacts(
            mark=each.mark,
            kind="spacer",
            edge=each.edge,
            x=_number(each.centre.x),
            y=_number(each.centre.y),
            length=_number(sizes.spacer_length.value),
            width=_number(sizes.spacer_width.value),
            height=_number(own.get(each.mark, sizes.spacer_thickness.value)),
            hardness=_number(subject.pane.spacers.hardness),
        )
        for each in subject.detail.spacers
    )


def _chocks(subject: Subject) -> tuple[BlockFacts, ...]:
    return tuple(
        BlockFacts(
            mark=each.mark,
            kind=each.kind.value,
            edge=each.edge,
            x=_number(each.foot.x),
            y=_number(each.foot.y),
            length=_number(each.length),
            width=_number(each.depth),
            height=_number(each.height),
            hardness=_number(subject.pane.chocks.hardness),
        )
        for each in subject.detail.chocks
    )


def _fill(subject: Subject) -> FillFacts:
    from geometry.workings.fill_masses import fill_masses

    fill = fill_masses(subject)
    return FillFacts(_number(fill.adhesive_ml), _number(fill.sealant_ml), _known(fill.adhesive), _known(fill.sealant))


def _quantities(check: PaneCheck) -> tuple[QuantityFacts, ...]:
    rows = () if check.quantities is None else check.quantities.rows
    return tuple(
        QuantityFacts(
            each.what,
            _number(each.amount),
            each.unit,
            each.to_buy,
            each.basis,
            tuple(_number(size) for size in each.sizes),
            each.packs,
        )
        for each in rows
    )


def _day(check: PaneCheck) -> DayFacts | None:
    from geometry.workings.session_releases import bonded_on, releases_of

    plan = check.time_plan
    if plan is None:
        return None
    bonded = bonded_on(plan)
    return DayFacts(
        start=plan.start.strftime("%H:%M"),
        bead_starts=_number(plan.bead_starts),
        last_press=_number(plan.last_press),
        latest_abort=_number(plan.latest_abort),
        open_time=_number(plan.open_time),
        in_time=plan.in_time,
        packs=plan.packs,
        backfill_day=_known(plan.backfill_day),
        handling_day=_known(plan.handling_day),
        hose_day=_known(plan.hose_day),
        full_cure_day=_known(plan.full_cure_as_planned),
        session=plan.session,
        bonded_on="" if bonded is None else bonded.isoformat(),
        releases=tuple((each.what.value, each.day) for each in releases_of(plan)),
    )


def as_data(facts: Any) -> dict[str, Any]:
    """Facts as plain data for a file; ``from_data`` makes the same facts of them again."""
    return dataclasses.asdict(facts)


def from_data(kind: type[_Facts], data: Mapping[str, Any], *, other_form: bool = False) -> _Facts:
    """Facts of a kind (``PaneFacts``, ``FileFacts`` ...) from plain data. Raises ``ValueError`` where these are no such facts.

    ``other_form``: written by another version of the program, which knew other facts: what it did not know is blank, what is not known here
    is left.

    >>> from_data(FileFacts, as_data(FileFacts("a.dxf", "00", 3)))
    FileFacts(name='a.dxf', sha256='00', length=3)
    """
    found: _Facts = _read(kind, data, other_form)
    return found


@cache
def _kinds(kind: type[Any]) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _read(kind: Any, data: Any, other_form: bool) -> Any:
    """A value of a kind out of plain data: a table for facts, a list for a tuple, else the value itself."""
    if dataclasses.is_dataclass(kind):
        kinds = _kinds(kind)  # type: ignore[arg-type]
        if not isinstance(data, dict) or not (other_form or set(data) == set(kinds)):
            raise ValueError(f"these are no {kind}")
        return kind(  # type: ignore[operator]
            **{name: _read(inner, data[name], other_form) if name in data else _blank(inner) for name, inner in kinds.items()}
        )
    inner = typing.get_args(kind)
    if typing.get_origin(kind) is tuple:
        if not isinstance(data, (list, tuple)):
            raise ValueError(f"no list: {data!r}")
        if inner[-1] is Ellipsis:
            return tuple(_read(inner[0], each, other_form) for each in data)
        return tuple(_read(each, value, other_form) for each, value in zip(inner, data, strict=True))
    if isinstance(kind, types.UnionType):
        return None if data is None else _read(next(each for each in inner if each is not type(None)), data, other_form)
    if kind is float and type(data) is int:
        return float(data)
    if type(data) is not kind:
        raise ValueError(f"no {kind.__name__}: {data!r}")
    return data


def _blank(kind: Any) -> Any:
    """What stands for a fact that was not known."""
    if isinstance(kind, types.UnionType):
        return None
    if typing.get_origin(kind) is tuple:
        inner = typing.get_args(kind)
        return () if inner[-1] is Ellipsis else tuple(map(_blank, inner))
    if dataclasses.is_dataclass(kind):
        return kind(**{name: _blank(inner) for name, inner in _kinds(kind).items()})  # type: ignore[operator, arg-type]
    return kind()


__all__ = [
    "BlockFacts",
    "DayFacts",
    "DocumentFacts",
    "FileFacts",
    "FillFacts",
    "FindingFacts",
    "GlassFacts",
    "OrderedFacts",
    "PaneFacts",
    "PrintFacts",
    "QuantityFacts",
    "as_data",
    "facts_of",
    "file_facts",
    "from_data",
]
