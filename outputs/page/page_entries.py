"""What is written down on the card's page: climate, gaps and flush face, and the other fields of the bonding record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.recorded.record_fields import NOT_USED, READ_TIMES, FieldGroup, FieldKind
from geometry.recorded.record_values import LONGEST
from outputs.drawing.card_gaps import flush_words, gap_words, job_limit_words, tight_words
from outputs.page.page_parts import button, part
from outputs.page.page_pictures import picture, places_svg
from outputs.record.markup import AsItIs, Html, tag
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from geometry.recorded.record_fields import RecordField
    from outputs.drawing.card_facts import CardFacts

READ = (("air", "air, °C"), ("humidity", "humidity, %"), ("glass", "glass, °C"), ("frame", "frame, °C"))
EXPIRY = ".expiry"


def climate(fields: Sequence[RecordField]) -> Html:
    """Three readings with dew point and verdict of each."""
    return part(
        "climate",
        "Climate: go or no-go",
        (
            tag(
                "fieldset",
                tag("legend", f"{count} {when}"),
                tag("div", (_entry(_named(fields, f"climate.{count}.{name}"), words) for name, words in READ), class_="pairs"),
                _entry(_named(fields, f"climate.{count}.time"), "read at"),
                tag("p", "dew point: not read", id=f"dew-{count}", class_="figure"),
                tag("p", f"not read: {', '.join(name for name, _ in READ)}", id=f"said-{count}", class_="figure"),
            )
            for count, when in enumerate(READ_TIMES, start=1)
        ),
    )


def _named(fields: Sequence[RecordField], name: str) -> RecordField:
    return next(each for each in fields if each.id == name)


def gaps(check: PaneCheck, facts: CardFacts, fields: Sequence[RecordField]) -> Html:
    """Gap and flush face at the eight places of the card."""
    wanted = facts.gaps
    proud, limits = flush_words(wanted)
    told = gap_words(wanted) if wanted.even else "GAP: drawn, least and most stand at each place"
    warned = tight_words(wanted)
    tight = tag("p", warned[0], class_="warn") if warned else None
    why = job_limit_words(wanted)
    rows = []
    for place, reading in enumerate(wanted.readings, start=1):
        field = _named(fields, f"gap.{place}")
        drawn = "none" if reading.no_joint else number(reading.wanted, decimals=1)
        told_here = ", ".join([drawn, *(number(each) for each in (field.least, field.most) if each is not None)])
        rows.append(
            tag(
                "div",
                tag("b", reading.letter, class_="letter"),
                _entry(field, "gap" if wanted.even else f"gap {told_here}"),
                _entry(_named(fields, f"flush.{place}"), "flush"),
                class_="place",
            )
        )
    return part(
        "gaps",
        "Gaps and flush",
        picture("places", places_svg(check.subject.detail, facts)),
        tag("p", tag("b", told)),
        tight,
        tag("p", why) if why else None,
        tag("p", tag("b", proud), f": {limits}; + proud, − sunk; mm"),
        rows,
    )


def records(fields: Sequence[RecordField]) -> Html:
    """Lots, tear test, photographs, names; goods-in and print, which are read in the shop, folded away."""
    done = (FieldGroup.CLIMATE, FieldGroup.TIMES, FieldGroup.GAPS)
    folded = (FieldGroup.GOODS_IN, FieldGroup.FRIT)
    groups = [group for group in FieldGroup if group not in done]
    return part(
        "record",
        "Write down",
        (
            tag(
                "details",
                tag("summary", group.value),
                tag("p", f"What is left out: write “{NOT_USED}” for its lot.") if group is FieldGroup.LOTS else None,
                (_entry(each, each.words) for each in fields if each.group is group),
                open=None if group in folded else "open",
            )
            for group in groups
        ),
    )


def _entry(field: RecordField, words: str) -> Html:
    """A field with its name, its limits and a box to fill in."""
    told, in_the_shop = [words], field.group in (FieldGroup.GOODS_IN, FieldGroup.FRIT)
    if field.unit and in_the_shop:
        told.append(field.unit)
    if field.id.endswith(EXPIRY):
        told.append("as 2027-01 or 2027-01-31")
    if in_the_shop:
        told += [f"{name} {number(value)}" for name, value in (("least", field.least), ("most", field.most)) if value is not None]
    signed = field.kind is FieldKind.NUMBER and field.world is not None and field.world[0] < 0
    return tag(
        "label",
        tag("span", ", ".join(told)),
        tag("span", _box(field), button("±", class_="plain sign", sign=field.id) if signed else None, class_="box"),
        tag("span", class_="note", data_note=field.id) if field.kind is FieldKind.NUMBER or field.id.endswith(EXPIRY) else None,
        class_="entry",
    )


def _box(field: RecordField) -> Html:
    if field.kind in (FieldKind.CHOICE, FieldKind.YES_NO):
        choices = field.choices or ("yes", "no")
        empty = tag("option", "not recorded", value="")
        return tag("select", empty, (tag("option", AsItIs(each), value=each) for each in choices), data_field=field.id)
    month = field.id.endswith(EXPIRY)  # a pack may tell the month alone, which no calendar of a phone holds
    kind = "text" if month else {FieldKind.DATE: "date", FieldKind.CLOCK: "time"}.get(field.kind, "text")
    mode = "decimal" if field.kind is FieldKind.NUMBER else None
    longest = LONGEST if kind == "text" else None
    return tag("input", type=kind, inputmode=mode, autocomplete="off", maxlength=longest, data_field=field.id)


__all__ = ["READ", "climate", "gaps", "records"]
