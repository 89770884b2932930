"""The facts of a pane gathered out of its check, as the lists of the vessel know them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.record.parts import defaults_of, relation
from outputs.record.vessel_rows import open_findings
from outputs.vessel.facts import (
    BlockFacts,
    DayFacts,
    FillFacts,
    FindingFacts,
    GlassFacts,
    OrderedFacts,
    PaneFacts,
    PrintFacts,
    QuantityFacts,
)

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.job.placing import OnVessel
    from geometry.ledger.finding import Finding
    from geometry.workings.subject import Subject


def facts_of(check: PaneCheck) -> PaneFacts:
    """The facts of a checked pane, its documents left out."""
    from geometry.detail.on_vessel import landing_on_vessel

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
        open_findings=tuple(_finding(flag, each) for flag, each in open_findings(check)),
        defaults=tuple(defaults_of(check.findings)),
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
        landing_on_vessel=_axes(landing_on_vessel(pane, detail)),
        origin=detail.origin.name,
        quantities=_quantities(check),
        blocks=(*_spacers(subject), *_chocks(subject)),
        chock_stock=tuple(_number(each) for each in pane.chocks.stock),
        shims=tuple(_number(each) for each in pane.chocks.shims),
        spacer_stock=tuple(_number(each) for each in pane.spacers.stock or ()),
        bond_thickness=_number(subject.sizes.bond_thickness.value),
        spacer_squeeze=_number(pane.spacers.squeeze),
        fill=_fill(subject),
        day=_day(check),
    )


def _number(value: float) -> float:
    """A figure with the digits of every data file."""
    from outputs.record.numbers import settled

    return settled(value)


def _axes(plane: OnVessel | None) -> tuple[tuple[float, float, float], ...] | None:
    return None if plane is None else tuple((_number(x), _number(y), _number(z)) for x, y, z in plane)


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


def _finding(flag: int, found: Finding) -> FindingFacts:
    return FindingFacts(
        flag=flag,
        name=found.name,
        verdict=found.verdict.value,
        decides=found.decides,
        value=_known(found.value),
        limit=_known(found.limit),
        relation=relation(found),
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
    glass_at, adhesive_at, sealant_at = (
        tuple(_number(each) for each in found.centre or ()) for found in (fill.glass, fill.adhesive, fill.sealant)
    )
    return FillFacts(
        adhesive_ml=_number(fill.adhesive.ml),
        sealant_ml=_number(fill.sealant.ml),
        adhesive_kg=_known(fill.adhesive.kg),
        sealant_kg=_known(fill.sealant.kg),
        glass_at=glass_at,
        adhesive_at=adhesive_at,
        sealant_at=sealant_at,
        adhesive_about=fill.adhesive.about,
        sealant_about=fill.sealant.about,
    )


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


__all__ = ["facts_of"]
