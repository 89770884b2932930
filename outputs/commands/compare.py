"""``fritline compare``: the drawing that came back from the supplier held against the pane that was issued."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from outputs.commands.exit_codes import DONE, FAILS
from outputs.commands.jobs import Given, answer, jobs_of
from outputs.commands.memory import spare_imports
from outputs.commands.shared import InputError, details_of, echo, folder_named, libraries_explained, print_json, progress, write

if TYPE_CHECKING:
    from geometry.incoming.spaces import Drawing
    from geometry.incoming.whole import Whole
    from geometry.returned.comparison import Comparison
    from geometry.returned.search import Search
    from geometry.workings.subject import Subject

GAP = 0.05
"""mm between two loose ends of a drawing that are joined."""
FINEST = 1000.0
"""mm of the largest unit: a drawing that states none is joined so tightly first that no unit makes its gaps large."""
CLEARLY = 3.0
"""Times that a drawing must lie nearer to one pane of a vessel than to the next to be of that pane."""


@dataclass(frozen=True)
class Wanted:
    """What is asked of a comparison: which pane ("": the only one that fits), a place inside the outline that is meant, as JSON."""

    code: str = ""
    at: str = ""
    as_json: bool = False


def compare(path: str, returned: str, output: str | None, wanted: Wanted) -> int:
    """Compare a returned drawing with its pane; the exit code says whether something fails. Raises ``InputError``; then nothing was written."""
    [given] = jobs_of([path], [wanted.code] if wanted.code else [])
    at = _place(wanted.at)
    folder = folder_named("-o", f"{given.stem}-compared" if output is None else output)
    with libraries_explained():
        found, files = _compared(given, returned, at)
    named = {folder / name: data for name, data in files.items()}
    write(named)
    if wanted.as_json:
        from outputs.record.compared import comparison_data

        entry: dict[str, Any] = {"job": given.name, **comparison_data(found), "files": [str(name) for name in named]}
        print_json(answer([entry], verdict=found.verdict.value), written=True)
    else:
        echo("\n".join([*told(found), *(f"written: {name}" for name in named)]), written=True)
    return FAILS if found.verdict.value == "fail" else DONE


def _place(at: str) -> tuple[float, float] | None:
    if not at:
        return None
    import math

    parts = at.replace(";", ",").split(",")
    try:
        x, y = (float(part) for part in parts)
    except ValueError:
        x = y = math.nan
    if not (math.isfinite(x) and math.isfinite(y)):
        raise InputError([f"--at: found {at[:40]!r}; allowed: X,Y in the drawing's own units, such as 1200,350.5"])
    return x, y


def _compared(given: Given, returned: str, at: tuple[float, float] | None) -> tuple[Comparison, dict[str, bytes]]:
    """The comparison and the files of the marked-up drawing."""
    # a home in which the library may not keep its list of fonts is nothing that the user has to hear of
    logging.getLogger("ezdxf").setLevel(logging.ERROR)
    from geometry.incoming.incoming import IncomingError

    with progress(len(given.panes) + 4) as step:
        step("reading the drawing")
        try:
            drawing = _opened(returned)
            details = details_of(given.job, given.panes, given.name, step)

            from geometry.returned.comparison import compare as compared
            from geometry.workings.subject import Subject

            spare_imports()
            subjects = [Subject(given.job, pane, detail) for pane, detail in zip(given.panes, details, strict=True)]
            step("looking for the pane")
            subject, search = _pane_of(given, subjects, drawing, returned, at)
            step("comparing")
            found = compared(subject, search)
        except IncomingError as error:
            raise _refused(returned, str(error), **vars(error)) from error
        step("drawing")
        return found, _files(found)


def _opened(returned: str) -> Drawing:
    from geometry.incoming.drawing import open_drawing

    return open_drawing(Path(returned), Path(returned).name or returned)


def _refused(returned: str, sentence: str, *, found: str, allowed: str, hint: str = "", key: str = "") -> InputError:
    """One refusal of the returned drawing, to a machine with its file; ``key`` is of a job's outline and says nothing here."""
    entry = {"file": returned, "found": found, "allowed": allowed, "hint": hint}
    return InputError([sentence], [entry], closing="nothing was written")


def _pane_of(
    given: Given, subjects: list[Subject], drawing: Drawing, returned: str, at: tuple[float, float] | None
) -> tuple[Subject, Search]:
    """The pane that the drawing shows: the one that was named, the only one there is, or the only one that it resembles."""
    from geometry.returned.comparison import search_of
    from geometry.returned.search import resembles
    from outputs.sheet.layers import LAYERS

    names = dict(given.job.layers)
    others = [layer.name for layer in LAYERS]
    for gap in _gaps(drawing):
        whole = _whole(drawing, gap)
        searches = [search_of(subject, whole, names=names, others=others, at=at) for subject in subjects]
        off = [resembles(search) for search in searches]
        ranked = sorted((each, index) for index, each in enumerate(off) if each is not None)
        if ranked and (len(ranked) == 1 or ranked[1][0] > max(CLEARLY * ranked[0][0], 1.0)):
            return subjects[ranked[0][1]], searches[ranked[0][1]]
        if ranked:
            codes = ", ".join(subjects[index].pane.code for _, index in ranked)
            found, allowed = f"{drawing.name} resembles {len(ranked)} panes of {given.name}", f"--pane with one of {codes}"
            raise _refused(returned, f"{found}; allowed: {allowed}", found=found, allowed=allowed)
    if len(subjects) == 1:
        return subjects[0], searches[0]  # refused with all that the drawing holds, or a drawing of the print alone
    codes = ", ".join(subject.pane.code for subject in subjects)
    found, allowed = f"no outline of {drawing.name} resembles a pane of {given.name}", f"--pane with one of {codes}"
    raise _refused(
        returned,
        f"{found}; allowed: {allowed}, which tells what it holds",
        found=found,
        allowed=allowed,
        hint="it tells what it holds",
    )


def _gaps(drawing: Drawing) -> Iterator[float]:
    """Gaps to join by, in units of the drawing: by the unit of its header; where it states none, tightly, then as in millimetres."""
    from geometry.incoming.units import MILLIMETRES

    stated = MILLIMETRES.get(drawing.document.header.name)
    yield GAP / (stated or FINEST)
    if stated != 1.0:
        yield GAP


def _whole(drawing: Drawing, gap: float) -> Whole:
    from geometry.incoming.whole import whole_of

    return whole_of(drawing, gap=gap)


def _files(found: Comparison) -> dict[str, bytes]:
    from outputs.documents import FORMATS, sheet_files
    from outputs.sheet.lettering import LetteringError
    from outputs.sheet.refusal import SheetError
    from outputs.sheets.contents import Contents
    from outputs.sheets.marked_up import marked_up_sheets

    subject = found.subject
    contents = Contents(subject.job, subject.pane, subject.detail)
    try:
        sheets = marked_up_sheets(contents, found)
        files = sheet_files("compared", sheets, FORMATS, date=subject.job.sheet.date)
    except (SheetError, LetteringError) as error:
        raise InputError([f"pane {subject.pane.code}: {error}"], closing="nothing was written") from error
    return {f"{subject.pane.file_stem}{ending}": data for ending, data in files.items()}


def told(found: Comparison) -> Iterator[str]:
    """The short list: how the drawing lies, what differs, the solid print, what fails, and what is not checked."""
    from geometry.rules.rounding import mm, number
    from outputs.record.parts import summary
    from outputs.record.words import AN_AID

    yield f"{found.issued.code}, {found.file}: {found.verdict.value.upper()} ({summary(found.findings)})"
    yield f"  laid on the pane: {found.laid}"
    for note in found.notes:
        yield f"  note: {note}"
    over = [size for size in found.sizes if size.over]
    if over:
        yield "  sizes that differ, mm (issued, returned, difference):"
        for size in over:
            after = "not found" if size.returned is None else number(size.returned, 2)
            change = "" if size.difference is None else f"{size.difference:+.2f}"
            yield f"    {size.name}: {number(size.issued, 2)}  {after}  {change}".rstrip()
    for title, each in (
        ("outline", found.outline),
        ("solid edge of the print", found.print_edge),
        ("end of the fade", found.fade_end),
    ):
        for stretch in each.stretches if each is not None else ():
            at = f"X {number(stretch.worst.at.x, 0)}, Y {number(stretch.worst.at.y, 0)}"
            side = "outside" if stretch.worst.amount > 0 else "inside"
            off = f"{mm(abs(stretch.worst.amount))} {side} the issued line"
            yield f"  {title}, {stretch.part}: {off} at {at}, over {mm(round(stretch.length))}"
    if found.solid is not None:
        least = found.solid.least
        at = f"X {number(least.of.x, 0)}, Y {number(least.of.y, 0)}"
        yield f"  solid print: least {mm(least.value)} from the glass edge, at {at} ({least.part}); {mm(found.solid.wanted)} wanted as drawn"
    done: set[str] = set()
    for finding in found.findings:
        says = finding.says.removeprefix("not checked: ")
        yield f"  {finding.verdict.value:<11}  {finding.name}{': ' if says else ''}{says}"
        if finding.remedy:
            yield f"               to do: {'as above' if finding.remedy in done else finding.remedy}"
        done.add(finding.remedy)
    yield AN_AID


__all__ = ["Wanted", "compare", "told"]
