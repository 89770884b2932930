"""Random plausible panes of all forms, drawn and checked: ``python tests/random_panes.py --count 300 --seed 1``.

Every pane is an invented job of one pane. It is drawn by the program as a user would, in this process; what comes out of it is told:
exit codes, panes that took more than twenty seconds of processor time, refusals with their sentences, and of the marks of each sheet
text on text, block on block (spacers against chocks too), on the detail sheet what its rules forbid, and cutting planes whose letters or ends lie on one another or on a line.
Blocks that overlap and of which a finding of the pane says so are told, not counted as a fault. The same seed gives the same panes.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import math
import random
import re
import sys
import tempfile
import time
from collections import Counter
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING
from unittest import mock

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from outputs.sheet.entities import Sheet

if __name__ == "__main__":
    sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parent / "outputs" / "sheets")]

FORMS = ("rectangle", "polygon", "corner notch", "slot", "circle", "ellipse", "path", "stadium", "own recess")
SHEETS: tuple[str, ...] = ("detail", "pane", "card", "label")
"""All documents of marks but the record."""
SLOW = 20.0
"""Seconds of processor time beyond which a pane counts as hanging."""


def _pair(values: list[tuple[float, ...]]) -> str:
    return "[" + ", ".join(str([round(v, 6) for v in each]) for each in values) + "]"


def _round_polygon(dice: random.Random) -> str:
    count, size = dice.randint(3, 8), dice.uniform(250, 700)
    points = []
    for i in range(count):
        turn, reach = 2 * math.pi * (i + dice.uniform(-0.25, 0.25)) / count, size * dice.uniform(0.8, 1.2)
        points.append((round(1.3 * reach * math.cos(turn), 1), round(reach * math.sin(turn), 1)))
    radius = dice.choice([0, 15, 30, 60])
    return f"{{ polygon = {_pair(points)}, radius = {radius} }}"


def _with_cut_out(dice: random.Random) -> str:
    w, h = dice.randint(600, 1500), dice.randint(450, 900)
    x, y = round(w * dice.uniform(0.4, 0.7)), round(h * dice.uniform(0.4, 0.7))
    corner = [(0, 0), (w, 0), (w, y), (x, y), (x, h), (0, h)]
    if dice.random() < 0.5:
        corner = [(w - px, py) for px, py in reversed(corner)]
    if dice.random() < 0.5:
        corner = [(px, h - py) for px, py in reversed(corner)]
    return f"{{ polygon = {_pair(corner)}, radius = {dice.choice([0, 20, 40])} }}"


def _slotted(dice: random.Random) -> str:
    w, h = dice.randint(800, 1600), dice.randint(500, 900)
    left, depth, wide = round(w * dice.uniform(0.3, 0.4)), round(h * dice.uniform(0.15, 0.4)), round(w * dice.uniform(0.2, 0.3))
    points = [(0, 0), (w, 0), (w, h), (left + wide, h), (left + wide, h - depth), (left, h - depth), (left, h), (0, h)]
    return f"{{ polygon = {_pair(points)}, radius = {dice.choice([0, 15, 25])} }}"


def _bent(dice: random.Random) -> str:
    w, h = dice.randint(500, 1500), dice.randint(350, 900)
    points = [(0, 0, dice.choice([0, 0, 0.05])), (w, 0, dice.choice([0, 0.2, 1e-7])), (w, h, dice.choice([0, 0.15, 0.3])), (0, h)]
    return f"{{ path = {_pair(points)} }}"


def outline_of(form: str, dice: random.Random) -> str:
    """The outline in braces, as a job file writes it."""
    w, h = dice.randint(300, 1800), dice.randint(250, 1000)
    if form in ("rectangle", "own recess"):
        return f"{{ rectangle = [{w}, {h}], radius = {dice.choice([0, 10, 40, 80, 120])} }}"
    if form == "circle":
        return f"{{ circle = {dice.randint(250, 1200)} }}"
    if form == "ellipse":
        return f"{{ ellipse = [{w}, {max(h, w // 3)}] }}"
    if form == "stadium":
        long, wide = dice.randint(300, 1000), dice.randint(250, 600)
        return f"{{ path = [[0, 0], [{long}, 0, 1], [{long}, {wide}], [0, {wide}, 1]] }}"
    return {"polygon": _round_polygon, "corner notch": _with_cut_out, "slot": _slotted, "path": _bent}[form](dice)


def random_job(seed: int) -> tuple[str, str]:
    """A form, and the text of a job of one invented pane of that form."""
    dice = random.Random(seed)
    form = FORMS[seed % len(FORMS)]
    outline = outline_of(form, dice)
    lines = [
        "[[pane]]",
        'code = "R-1"',
        f'frame = "{dice.choice(["aluminium", "steel", "grp"])}"',
        f"rake = {dice.choice([0, 0, 0, 15, 35, -10])}",
        f"glass = {{ plies = {dice.choice([[6], [8], [10], [12], [6, 6], [8, 8]])} }}",
        f"outline = {outline}",
    ]
    if dice.random() < 0.8:
        lines.append(f"pressure = {{ outward = {dice.choice([1.5, 3, 5])}, inward = {dice.choice([5, 10, 15])} }}")
    if form == "own recess":
        w, h = (float(part) for part in re.findall(r"[\d.]+", outline)[:2])
        lines.append(
            f"recess = {{ outline = {{ rectangle = [{w + 2 * dice.randint(5, 12)}, {h + 2 * dice.randint(5, 12)}], radius = 30 }} }}"
        )
    return form, "\n".join(lines).replace("plies = [6, 6]", "plies = [6, 6], interlayers = [1.52]").replace(
        "plies = [8, 8]", "plies = [8, 8], interlayers = [1.52]"
    )


def run(text: str, folder: Path, sheets: Sequence[str] = SHEETS) -> tuple[int, str, list[tuple[Sheet, PaneCheck | None]]]:
    """Exit code of ``fritline draw`` on a job, what it said of errors, and the sheets of all documents: with the detail its findings."""
    from outputs import documents
    from outputs.command_line import main
    from outputs.sheets import detail_sheet as room

    job = folder / "job.toml"
    job.write_text(text + "\n", encoding="utf-8")
    out, err = io.StringIO(), io.StringIO()
    made: list[tuple[Sheet, PaneCheck | None]] = []
    original, original_files = room.detail_of, documents.sheet_files

    def kept(contents):
        sheet = original(contents)
        made.append((sheet, contents.check))
        return sheet

    def kept_files(name, sheets, *given, **named):
        if name != "detail":
            made.extend((sheet, None) for sheet in sheets)
        return original_files(name, sheets, *given, **named)

    asked = [word for name in sheets for word in ("--sheet", name)]
    with (
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        mock.patch.object(room, "detail_of", kept),
        mock.patch.object(documents, "sheet_files", kept_files),
    ):
        try:
            code = main(["draw", str(job), "-o", str(folder / "sheets"), *asked, "--format", "svg", "--no-plate"])
        except SystemExit as leaving:
            code = leaving.code
    return int(code or 0), err.getvalue(), made


def _texts(sheet: Sheet) -> list[tuple[str, str, object]]:
    """Every text as it stands on paper: what is drawn with it, its words, and its box turned as it is."""
    from shapely import Polygon

    from outputs.sheet.boxes import texts_of
    from outputs.sheet.entities import Insert, Text
    from outputs.sheet.lettering import text_box
    from outputs.sheet.spaces import placed, spaces

    blocks = {block.name: block for block in sheet.blocks}
    found = []
    for space in spaces(sheet):
        view = space.view
        scale, (x, y), (left, bottom) = (
            (1.0, (0.0, 0.0), (0.0, 0.0)) if view is None else (view.scale, view.paper, view.window[:2])
        )
        inserts = [mark for mark in space.marks if isinstance(mark, Insert)]
        of_blocks = [part for mark in inserts for part in placed(mark, blocks[mark.block]) if isinstance(part, Text)]
        for text in (*texts_of(space.marks), *of_blocks):
            box = [(x + (px - left) * scale, y + (py - bottom) * scale) for px, py in text_box(text, space.scale)]
            found.append((space.name, text.string, Polygon(box)))
    return found


def text_on_text(sheet: Sheet) -> list[str]:
    """Pairs of texts, of all views and of the paper, whose boxes share more than 0,02 mm² of paper."""
    from shapely import STRtree

    texts = [each for each in _texts(sheet) if each[1].strip()]
    found = []
    for one, other in zip(*STRtree([box for *_, box in texts]).query([box for *_, box in texts]), strict=True):
        if one < other and (shared := texts[one][2].intersection(texts[other][2]).area) > 0.02:
            (where, words, _), (there, others, _) = texts[one], texts[other]
            found.append(f"text {words!r} of {where} on {others!r} of {there}: {shared:.2f} mm²")
    return found


def block_on_block(sheet: Sheet) -> list[str]:
    """Pairs of blocks of the plan, spacers and chocks, that share more than 0,1 mm² of the pane as they are drawn."""
    from shapely import Polygon

    from outputs.sheet.entities import Insert, Path
    from outputs.sheet.spaces import placed

    blocks = {block.name: block for block in sheet.blocks}
    shapes = []
    for view in (view for view in sheet.views if view.name == "PLAN"):
        for mark in view.marks:
            values = {each.tag: each.value for each in mark.attributes} if isinstance(mark, Insert) else {}
            if isinstance(mark, Insert) and "DISTANCE" in values:
                words = values["MARK"]
                rings = [part for part in placed(mark, blocks[mark.block]) if isinstance(part, Path) and part.closed]
                shapes += [(words, Polygon([(x, y) for x, y, _ in ring.nodes])) for ring in rings]
    return [
        f"block {a} on block {b}: {shared:.1f} mm²"
        for (a, one), (b, other) in combinations(shapes, 2)
        if (shared := one.intersection(other).area) > 0.1
    ]


def letter_on_letter(sheet: Sheet, letters: str) -> list[str]:
    """Cutting planes of the plan whose letters, arrows or ends lie on those of another; ``letters`` of all sections, in their order."""
    from shapely import LineString, Polygon

    from outputs.sheet.boxes import texts_of
    from outputs.sheet.entities import Fill, Path
    from outputs.sheet.keep_clear import straights_of
    from outputs.sheet.lettering import text_box

    found = []
    for view in (view for view in sheet.views if view.name == "PLAN"):
        largest = max((text.height for text in texts_of(view.marks) if text.string in letters), default=0.0)
        boxes = [
            (text.string, Polygon(text_box(text, view.scale)))
            for text in texts_of(view.marks)
            if text.string in letters and text.height == largest
        ]
        marks = [mark for mark in view.marks if isinstance(mark, Path | Fill) and mark.layer == "SECTION_MARKS"]
        drawn = [LineString([(x, y) for x, y, _ in mark.nodes]) for mark in marks]
        found += [f"letter {a} on letter {b}" for (a, one), (b, other) in combinations(boxes, 2) if one.intersects(other)]
        lines = [LineString([each[:2], each[2:]]) for each in straights_of(view.marks)]
        found += [f"a line runs through letter {a}" for a, box in boxes if any(map(box.intersects, lines))]
        found += [f"ends of cutting planes on one another at {a.centroid}" for a, b in combinations(drawn, 2) if a.intersects(b)]
        standing = [words for words, _ in boxes]
        found += [f"letter {a} stands at {standing.count(a)} of 2 ends" for a in letters if standing.count(a) != 2]
    return found


def rules_broken(sheet: Sheet, check: PaneCheck) -> list[str]:
    """What the rules of the detail sheet forbid and a stranger's pane may bring about: nearness, lost sizes, lines run together."""
    from measured import run_together, text_near_line, text_near_text, told_distances

    from outputs.sheet.outcomes import Fate

    detail = check.subject.detail
    found = [f"text too near: {each}" for each in text_near_text(sheet, 1.48)]
    found += [f"line too near: {each}" for each in text_near_line(sheet, 0.68)]
    found += [f"lines run together: {each}" for each in run_together(detail, sheet, 0.68)]
    found += [f"no distance of {marks} along {edge}" for edge, marks in told_distances(detail, sheet).items()]
    return found + [f"left out: {outcome.what}" for _, outcome in sheet.outcomes if outcome.fate is Fate.LEFT_OUT]


def faults_of(sheet: Sheet, check: PaneCheck | None) -> tuple[list[str], list[str]]:
    """Faults of one sheet, and overlapping blocks that a failing finding of the pane tells of."""
    if check is None:  # another document: its texts
        return text_on_text(sheet), []
    blocks = block_on_block(sheet)
    fails = [finding.name for finding in check.findings if finding.verdict.value == "fail"]
    told = [name for name in fails if "spacer" in name or "chock" in name or "block" in name]
    letters = "".join(view.name[-1] for view in sheet.views if view.name.startswith("SECTION "))
    faults = [*text_on_text(sheet), *letter_on_letter(sheet, letters), *rules_broken(sheet, check)]
    return (faults, [f"{fault} (the findings say: {', '.join(told)})" for fault in blocks]) if told else ([*faults, *blocks], [])


def main() -> int:
    """Draw the panes and tell what was found; exit code 1 where a fault of the program was."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--sheet", choices=SHEETS, action="append", help="only this document; may be given more than once")
    asked = parser.parse_args()
    told: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    for seed in range(asked.seed * 100_000, asked.seed * 100_000 + asked.count):
        form, text = random_job(seed)
        began = time.process_time()
        with tempfile.TemporaryDirectory() as folder:
            code, said, made = run(text, Path(folder), asked.sheet or SHEETS)
            taken = time.process_time() - began
            told[f"exit {code}"] += 1
            faults = [f"exit {code}: {said.strip()[-300:]}"] if code not in (0, 1, 2) else []
            faults += [f"took {taken:.0f} s"] if taken > SLOW else []
            if code == 2:
                refused[form] += 1
                print(f"refused {seed} {form}: {' '.join(said.split())[:220]}", flush=True)
            for sheet, check in made:
                found, known = faults_of(sheet, check)
                faults += found
                told["blocks overlap, and the findings say so"] += len(known)
                for line in known:
                    print(f"told {seed} {form}: {line}", flush=True)
        for fault in faults:
            told["faults"] += 1
            print(f"FAULT {seed} {form}: {fault}\n{text}\n", flush=True)
    print(dict(sorted(told.items())), "refused by form:", dict(refused), f"share {sum(refused.values()) / asked.count:.0%}")
    return 1 if told["faults"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
