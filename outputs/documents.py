"""The documents of a pane: which there are, what each is for, and the files that each is written as.

Terms
-----
document
    One paper, or one file for a machine, of one pane. All documents of a pane come from one run of the checks.
format
    The kind of file: dxf, svg and pdf of every sheet; html of the fitter's card, a page for a phone; a file for a machine has its own.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from outputs.sheets import letters

if TYPE_CHECKING:
    import datetime

    from outputs.sheet.entities import Sheet
    from outputs.sheets.contents import Contents

FORMATS = ("dxf", "svg", "pdf", "html")
"""Formats of the documents, in the order in which they are written."""
READERS = ("office", "supplier", "fitter", "engineer", "yard")
"""Who works from the documents of a pane."""
RECORD = "record"
"""The calculation record: pages and data, not a sheet; it tells of all panes together as well."""

Files = dict[str, bytes]


@dataclass(frozen=True, slots=True)
class Document:
    """One document: its name (also the end of its files' names), what it is for, and what makes its files.

    ``made`` takes the contents and the formats asked for and gives the files by the end of their name: ``-detail.dxf``.
    """

    name: str
    says: str
    made: Callable[[Contents, Collection[str]], Files]
    supplier: bool = False  # it is made from: it shows the pane as ordered, whatever came back
    readers: tuple[str, ...] = ("office",)  # who works from it
    letter: str = ""  # ends its identification number; "": it carries none of its own, and goes by its name


def sheet_files(
    name: str, sheets: tuple[Sheet, ...], formats: Collection[str], *, date: datetime.date | None = None, carried: bytes = b""
) -> Files:
    """The sheets of one document in the formats asked for; of several sheets each has a picture of its own, numbered from 1.

    ``date`` is the day of the job, told by the PDF; ``carried`` the parcel of the job.
    """
    files: Files = {}
    if "dxf" in formats:
        from outputs.files.dxf import dxf_bytes

        files[f"-{name}.dxf"] = dxf_bytes(*sheets, carried=carried)
    if "svg" in formats:
        from outputs.files.svg import svg_bytes

        for count, sheet in enumerate(sheets, start=1):
            files[f"-{name}{f'-{count}' if len(sheets) > 1 else ''}.svg"] = svg_bytes(sheet, carried=carried)
    if "pdf" in formats:
        from outputs.files.pdf import pdf_bytes

        files[f"-{name}.pdf"] = pdf_bytes(sheets, date=date, carried=carried)
    return files


def _sheets(name: str, sheets: tuple[Sheet, ...], contents: Contents, formats: Collection[str]) -> Files:
    return sheet_files(name, sheets, formats, date=contents.job.sheet.date, carried=contents.carried)


def _detail(contents: Contents, formats: Collection[str]) -> Files:
    from outputs.sheets.detail_sheet import detail_of

    sheets: tuple[Sheet, ...] = (contents.detail_sheet or detail_of(contents),)
    if contents.job.sheet.exploded and not contents.inset:
        from outputs.sheets.exploded_sheet import exploded_sheet

        sheets = (*sheets, exploded_sheet(contents))
    return _sheets("detail", sheets, contents, formats)


def _card(contents: Contents, formats: Collection[str]) -> Files:
    from outputs.sheets.card import card_sheets

    files = _sheets("card", card_sheets(contents), contents, formats) if set(formats) - {"html"} else {}
    if "html" in formats:
        from outputs.page.card_page import card_page

        files["-card.html"] = card_page(contents)
    return files


def _pane(contents: Contents, formats: Collection[str]) -> Files:
    from outputs.sheets.pane_sheet import pane_sheet

    return _sheets("pane", (pane_sheet(contents),), contents, formats)


def _glass(contents: Contents, _formats: Collection[str]) -> Files:
    from outputs.files.cut_dxf import cut_dxf

    return {"-glass.dxf": cut_dxf(contents.detail.curves.glass, version=contents.job.supplier.cut_dxf)}


def _print(contents: Contents, formats: Collection[str]) -> Files:
    from outputs.drawing.pane_print import print_of
    from outputs.files.print_film import film_of
    from outputs.files.print_film_dxf import film_dxf
    from outputs.files.print_film_pdf import film_pdf

    supplier, glass = contents.job.supplier, contents.pane.glass
    printed = print_of(contents.detail, bleed=supplier.print_bleed, dot_pitch=supplier.dot_pitch)
    files: Files = {}
    for ending, seen in (("-print", printed), ("-print-mirrored", printed.from_inside())):
        film = film_of(
            seen,
            code=contents.pane.code,
            revision=contents.pane.revision,
            mark=contents.mark,
            face=glass.printed_face or glass.bond_face,
            faces=glass.bond_face,
        )
        if "dxf" in formats:
            files[f"{ending}.dxf"] = film_dxf(film)
        if "pdf" in formats:
            files[f"{ending}.pdf"] = film_pdf(film)
    return files


def _template(contents: Contents, formats: Collection[str]) -> Files:
    """Seen from outside, for the recess, and turned over, for the glass as it lies."""
    from outputs.sheets.template import template_sheets

    if "pdf" not in formats:  # it is there to be printed
        return {}
    size = contents.job.sheet.template_paper
    return {
        **_sheets("template", template_sheets(contents, size=size), contents, ("pdf",)),
        **_sheets("template-mirrored", template_sheets(contents, size=size, inside=True), contents, ("pdf",)),
    }


def _label(contents: Contents, formats: Collection[str]) -> Files:
    from outputs.sheets.label import label_sheets

    return _sheets("label", label_sheets(contents), contents, formats)


def _bonding(contents: Contents, formats: Collection[str]) -> Files:
    """The form on paper, the same to fill in as PDF, and its fields as a table to type into."""
    from outputs.files.form_fields import FormField
    from outputs.sheets.bonding_form import bonding_form
    from outputs.sheets.bonding_form_table import form_csv

    form = bonding_form(contents)
    files = _sheets("bonding", form.sheets, contents, [each for each in formats if each != "pdf"])
    if "pdf" in formats:  # what is filled in: the form and the table
        from outputs.files.pdf import pdf_bytes

        fields = tuple(
            tuple(
                FormField(box.field.id, box.tip, box.left, box.bottom, box.right, box.top, box.choices, box.most_signs)
                for box in page
            )
            for page in form.boxes
        )
        told = (("code", contents.pane.code), ("revision", contents.pane.revision), ("mark", contents.mark))
        files["-bonding.pdf"] = pdf_bytes(
            form.sheets, date=contents.job.sheet.date, carried=contents.carried, forms=fields, told=told
        )
        files["-bonding.csv"] = form_csv(contents)
    return files


def _survey(contents: Contents, formats: Collection[str]) -> Files:
    """The sheet from both sides, and for each side the blank table that the reader of surveys takes once it is filled in."""
    from outputs.sheets.survey_sheet import SIDES, survey_csv, survey_sheets, table_ending

    files = _sheets("survey", survey_sheets(contents), contents, formats)
    for _, inside in SIDES:
        files[table_ending(inside=inside)] = survey_csv(contents, inside=inside)
    return files


def _goods_in(contents: Contents, formats: Collection[str]) -> Files:
    from outputs.sheets.goods_in_sheet import goods_in_sheets

    return _sheets("goods-in", goods_in_sheets(contents), contents, formats)


def _solid(contents: Contents, _formats: Collection[str]) -> Files:
    from outputs.record.solid import solid_files

    return solid_files(contents)


DOCUMENTS: tuple[Document, ...] = (
    Document(
        "detail",
        "detail sheet: plan, sections and corner, for drawing office and yard",
        _detail,
        readers=("office", "engineer", "yard"),
        letter=letters.DETAIL,
    ),
    Document(
        "pane",
        "pane sheet: glass and print alone, for the supplier of the glass",
        _pane,
        supplier=True,
        readers=("office", "supplier"),
        letter=letters.PANE,
    ),
    Document(
        "card",
        "fitter's card: where every block stands and when every step begins, A4, two sides, and as a page for a phone",
        _card,
        readers=("fitter",),
        letter=letters.CARD,
    ),
    Document("glass", "outline of the glass, full size, to cut from", _glass, supplier=True, readers=("supplier",)),
    Document("print", "film of the print, full size, from outside and mirrored", _print, supplier=True, readers=("supplier",)),
    Document(
        "template",
        "the pane at 1:1 on pages of A4 or A3 to lay together, from outside and mirrored, and the notch of the nozzle (PDF)",
        _template,
        readers=("fitter", "yard"),
        letter=letters.TEMPLATE,
    ),
    Document(
        "bonding",
        "bonding form: what was used, read and done, with the pane's limits, A4, two sides, to fill in (PDF, CSV)",
        _bonding,
        readers=("fitter", "yard"),
        letter=letters.FORM,
    ),
    Document(
        "survey",
        "survey sheet: stations of the recess to be measured, from outside or inside, A4, and the blank table to type them into (CSV)",
        _survey,
        readers=("yard", "office"),
        letter=letters.SURVEY,
    ),
    Document(
        "goods-in",
        "goods-in sheet: what is measured and looked at when the pane arrives, with the limits of the order, A4",
        _goods_in,
        readers=("yard", "office"),
        letter=letters.GOODS_IN,
    ),
    Document(
        "label", "labels for each pane and its crate, ten to an A4", _label, readers=("fitter", "yard"), letter=letters.LABEL
    ),
)
ON_REQUEST: tuple[Document, ...] = (
    Document(
        "solid",
        "the detail as bodies: STEP for the ship model, glTF to look at, masses and centres (JSON); only where it is asked for",
        _solid,
        readers=("yard", "engineer"),
    ),
)
"""Documents that are made only where they are asked for by name: what they are made with takes longer to load than all others to draw."""
COUNTED = {"detail", "pane"}
"""Documents whose sheets tell of how many they are one."""
RECORD_READERS, RECORD_LETTER = ("office", "engineer"), letters.RECORD
NAMES = (*(each.name for each in DOCUMENTS), RECORD)
"""What is made where nothing is asked for."""
ALL_NAMES = (*NAMES, *(each.name for each in ON_REQUEST))
"""What can be asked for."""


def document_files(contents: Contents, names: Collection[str], formats: Collection[str]) -> Files:
    """Every file of the named documents of one pane, by its whole name. Raises what the documents raise."""
    return {name: data for _, files in documents_made(contents, names, formats) for name, data in files.items()}


def documents_made(contents: Contents, names: Collection[str], formats: Collection[str]) -> Iterator[tuple[Document, Files]]:
    """The named documents of one pane one by one, each with its files by their whole names. Raises what the documents raise."""
    stem = contents.pane.file_stem
    wanted = [each for each in (*DOCUMENTS, *ON_REQUEST) if each.name in names]
    from outputs.files.carried import job_parcel, order_parcel

    if contents.job.sheet.exploded and COUNTED & set(names):
        from outputs.sheets.exploded_inset import settled

        contents = settled(contents)
    ordered = contents
    if any(each.supplier for each in wanted):
        ordered = contents.as_ordered()
        ordered = replace(ordered, carried=order_parcel(ordered))
    if any(not each.supplier for each in wanted):
        contents = replace(contents, carried=job_parcel(contents))
    for each in wanted:
        made = each.made(ordered if each.supplier else contents, formats)
        yield each, {f"{stem}{ending}": data for ending, data in made.items()}


__all__ = [
    "ALL_NAMES",
    "DOCUMENTS",
    "FORMATS",
    "NAMES",
    "ON_REQUEST",
    "READERS",
    "RECORD",
    "RECORD_LETTER",
    "RECORD_READERS",
    "Document",
    "document_files",
    "documents_made",
    "sheet_files",
]
