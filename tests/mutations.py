"""Changes the program in a hundred small ways and looks whether the tests notice.

Terms
-----
mutant
    The program with one small change: a sign turned, a comparison shifted, a constant moved, x and y exchanged, a branch left out.
killed, survived
    A test failed on the mutant; none did. A survivor is a hole in the tests, unless it is equivalent.
equivalent
    A change that no input can show. Such mutants are listed in ``EQUIVALENT`` with the reason and are not counted.
place
    What a mutant is known by: file, kind, the text of its line, the change. No line number: a change of the program elsewhere moves neither
    the choice of mutants nor a result that was kept.
room
    A package that is changed, with the tests that can see it, quickest first.

Run from the checkout, with the interpreter that has the test packages::

    python tests/mutations.py                      # the named changes and 100 chosen by seed 1
    python tests/mutations.py --count 20 --seed 7  # others
    python tests/mutations.py --jobs 2             # two copies of the checkout side by side
    python tests/mutations.py --one geometry/detail/blocks.py:64:constant
    python tests/mutations.py --named              # the named changes only
    python tests/mutations.py --list               # which changes would be made
    python tests/mutations.py --results judged     # keep what became of each in a file; a run that was cut goes on from there
    python tests/mutations.py --results judged --again   # judge once more those that lived
    python tests/mutations.py --results judged --anew    # judge all once more, quicker: each first by the test that saw it

Every mutant is made in a copy of the checkout in a temporary folder; the checkout itself is not touched. The tests of each run in a process
of their own, forked from one that has loaded the libraries (POSIX only). Messages, annotations, decorators and doc strings are not changed:
tests of places cannot be asked for wording. Exit code 0 where at least 95 of 100 die, else 1.
"""

from __future__ import annotations

import argparse
import ast
import hashlib
import json
import math
import os
import re
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass, replace
from pathlib import Path
from queue import Queue
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).resolve().parents[1]
TARGET = 0.95
ALL_STAGES = 9
HUNG = 900.0  # s after which a mutant that never ends is stopped and counts as killed

BY_HAND = ("tests/geometry/detail/test_places_by_hand.py",)
SIZES = (
    "tests/geometry/sizing/test_sizer.py",
    "tests/geometry/detail/test_setting_out.py",
    "tests/geometry/detail/test_sections.py",
    "tests/geometry/sizing",
    "tests/geometry/detail",
)
OF_SECTIONS = (
    "tests/geometry/detail/test_edges.py",
    "tests/geometry/detail/test_sill.py",
    "tests/geometry/detail/test_curves_and_chords.py",
    "tests/geometry/detail/test_sill_with_cut_out.py",
    "tests/geometry/detail/test_sections.py",
)
OF_SIZES = (
    "tests/geometry/sizing/test_pane_facts.py",
    "tests/geometry/sizing/test_movement_needs.py",
    "tests/geometry/sizing/test_section_sizes.py",
    "tests/geometry/sizing/test_bead_fitting.py",
    "tests/geometry/sizing/test_sizer.py",
)
RULES = (
    "tests/geometry/rules/test_more_by_hand.py",
    "tests/geometry/rules/test_by_hand.py",
    "tests/geometry/rules/test_day.py",
    "tests/geometry/rules/test_section_room.py",
    "tests/geometry/sizing/test_section_sizes.py",
    "tests/geometry/sizing/test_bead_fitting.py",
    "tests/geometry/rules/test_shear_bed.py",
    "tests/geometry/rules/test_register_of_materials.py",
    "tests/geometry/rules/test_refusals.py",
)
OF_WORKINGS = (
    "tests/geometry/workings/test_stacks.py",
    "tests/geometry/findings/test_proving.py",
    "tests/geometry/findings/test_movement.py",
    "tests/geometry/findings/test_section_checks.py",
    "tests/geometry/findings/test_time_plan.py",
    "tests/geometry/findings/test_quantities.py",
    "tests/geometry/findings/test_spacers_and_silence.py",
    "tests/geometry/findings/test_chock_checks.py",
)
FINDINGS = ("tests/geometry/findings", "tests/geometry/workings", "tests/geometry/ledger")
PUBLISHED = (
    "tests/published/test_bond_sizes.py",
    "tests/published/test_joints.py",
    "tests/published/test_frit.py",
    "tests/published/test_blocks.py",
    "tests/published/test_demo_findings.py",
    "tests/published/test_demo_panes.py",
    "tests/published/test_demo_traps.py",
)
OF_RULES = (
    *PUBLISHED[:4],
    "tests/published/test_bead_modulus.py",
    "tests/published/test_cure.py",
    "tests/published/test_dew_point.py",
    "tests/published/test_materials.py",
    "tests/published/test_pane_bending.py",
    "tests/published/test_loads.py",
    "tests/published/test_general_tolerances.py",
)
SHEETS = ("tests/geometry/job/test_outline_forms.py", "tests/outputs/test_sheets.py")
OF_READERS = (
    "tests/outputs/test_fit_command.py",
    "tests/outputs/test_sessions.py",
    "tests/outputs/sheets/test_survey_sheet.py",
    "tests/geometry/recorded",
)
OF_FILES = ("tests/outputs/files", "tests/outputs/test_bonding_form.py", "tests/outputs/test_print_film.py", "tests/outputs/test_pdf.py")
FILES = (
    "tests/outputs/test_proof.py",
    "tests/outputs/test_proof_on_paper.py",
    "tests/outputs/test_drawn_anew.py",
    "tests/outputs/test_whole_by_steps.py",
    "tests/outputs/test_dxf.py",
    "tests/outputs/test_whole.py",
    "tests/outputs/test_svg.py",
    "tests/outputs/test_patterns.py",
    "tests/outputs/test_layers.py",
)

ROOMS: dict[str, tuple[tuple[str, ...], ...]] = {
    "geometry/rules": (RULES, (*OF_RULES, "tests/geometry/rules"), (*BY_HAND, *SIZES[:3]), FINDINGS, (*PUBLISHED, *SIZES)),
    "geometry/detail": ((*BY_HAND, *OF_SECTIONS), SIZES, FINDINGS, (*PUBLISHED, *SHEETS)),
    "geometry/sizing": ((*OF_SIZES, *BY_HAND), (*RULES, *SIZES), FINDINGS, (*PUBLISHED, *SHEETS)),
    "geometry/workings": (OF_WORKINGS, FINDINGS, PUBLISHED, SHEETS, OF_READERS),
    "outputs/files": (
        FILES[:4],
        FILES,
        OF_FILES,
        ("tests/outputs/test_writers_agree.py", "tests/outputs/test_sheets.py", "tests/outputs/test_streams.py"),
    ),
}
"""Package to the tests that can see a change in it, in stages, quickest first; paths that a checkout does not have are left out."""


@dataclass(frozen=True)
class Mutant:
    """One change: characters ``start`` to ``end`` of a file become ``new``."""

    file: str
    line: int
    kind: str
    start: int
    end: int
    old: str
    new: str
    name: str = ""
    row: str = ""
    turn: int = 1

    @property
    def place(self) -> str:
        """What the mutant is known by from run to run: no line number in it; ``turn`` counts where one line has the change twice."""
        change = self.name or f"{self.row} | {self.old} → {self.new}"
        return f"{self.file} | {self.kind} | {change} | {self.turn}"

    @property
    def equivalent(self) -> str:
        """Why no input can show the change; empty for all others."""
        change = f"{self.old} → {self.new}"
        return next(
            (why for file, row, new, why in EQUIVALENT if (file, row) == (self.file, self.row) and new in ("", change)), ""
        )

    @property
    def mark(self) -> str:
        return f"{self.file}:{self.line}:{self.kind}"

    def told(self) -> str:
        words = f"{self.old} → {self.new}".replace("\n", " ")
        return f"{self.mark}  {words[:110]}" + (f"  ({self.name})" if self.name else "")


# Changes that lived once and must die: what it is, the text as it stands in the program, and the text that takes its place.
NAMED: tuple[tuple[str, str, str], ...] = (
    ("a landing of 32 for 38", "radius = float(given) - joint_width", "radius = float(given) + joint_width"),
    ("backfill level of a proud pane", "min(top, skin) - sizes.backfill_depth.value", "top - sizes.backfill_depth.value"),
    (
        "backfill level, the higher face",
        "min(top, skin) - sizes.backfill_depth.value",
        "max(top, skin) - sizes.backfill_depth.value",
    ),
    (
        "spacer's place in the section",
        "x.glass_edge + (sizes.set_back.value - width) / 2",
        "x.glass_edge + (sizes.set_back.value + width) / 2",
    ),
    ("daylight area", "min(area(sight), area(frit_inner))", "max(area(sight), area(frit_inner))"),
    ("side block half up the jamb", "jamb.end / 3", "jamb.end / 2"),
    ("reach of the bead start, round", "reach = whole / 8", "reach = whole / 4"),
    ("reach of the bead start, head", "reach = head.straight / 2 - min(", "reach = head.straight / 2 + min("),
    ("limit of pressing", "MOST_PRESSED = 1.6", "MOST_PRESSED = 2.6"),
    ("what a seat first shows of the model", "settled((top - bottom) * 1.05)", "settled((top - bottom) * 0.05)"),
    ("attachment point of dimension texts", '"attachment_point": 5', '"attachment_point": 4'),
    (
        "$PLIMMAX swapped",
        "layout.reset_limits((0, 0), (sheet.width, sheet.height))",
        "layout.reset_limits((0, 0), (sheet.height, sheet.width))",
    ),
    ("gap of dimensions", "dxf.dimgap = drafting.text_gap", "dxf.dimgap = drafting.text_gap * 1.1"),
    ("hatch stagger", "turned(family.stagger, family.spacing)", "turned(-family.stagger, family.spacing)"),
    ("line cap", '"stroke-linecap": "butt"', '"stroke-linecap": "square"'),
    ("right-aligned dimension text", '"right": -0.5}', '"right": 0.5}'),
    ("mark 5 mm outside its window", "_OUTSIDE = 0.01", "_OUTSIDE = 5.0"),
    ("bulge of a loop run backwards", "-forward[index - 1][2]", "forward[index - 1][2]"),
    ("was never renamed", "elif parts[target].exists():", "elif False:"),
)

OVERWRITTEN = "the library writes this variable anew from the layout's own limits and extents when it writes the file"
GUARD = "the bound is a guard of 1e-9 against the last bits of a sum, and no figure of a job stands just on its end"
EQUIVALENT: tuple[tuple[str, str, str, str], ...] = (
    ("geometry/workings/session_schedule.py", "if length <= SLACK or not over:", "<= → <", GUARD),
    (
        "geometry/detail/in_place.py",
        "at, volume = centroid(section), abs(area(section)) * chock.length * (-1 if chock.depth > bottom else 1)",
        "> → >=",
        "a block as deep as the backfill has been let go some lines before",
    ),
    ("outputs/files/dxf.py", 'header["$EXTMIN"], header["$EXTMAX"] = (left, bottom, 0), (right, top, 0)', "", OVERWRITTEN),
    ("outputs/files/dxf.py", 'header["$LIMMIN"], header["$LIMMAX"] = (left, bottom), (right, top)', "", OVERWRITTEN),
    (
        "outputs/files/dxf.py",
        'header["$PEXTMIN"], header["$PEXTMAX"] = (0, 0, 0), (sheet.width, sheet.height, 0)',
        "",
        OVERWRITTEN,
    ),
    ("outputs/files/dxf.py", 'header["$PLIMMIN"], header["$PLIMMAX"] = (0, 0), (sheet.width, sheet.height)', "", OVERWRITTEN),
    (
        "geometry/rules/fit/section.py",
        "if gap <= notch_height / 2:",
        "<= → <",
        "at half the notch height both formulas give the notch width",
    ),
    (
        "geometry/rules/holding/bond.py",
        "if contact_width >= notch_width:",
        ">= → >",
        "at the notch width both formulas give twice the gap",
    ),
    (
        "geometry/workings/spacer_room.py",
        "if apart <= 0:",
        "<= → <",
        "rectangles that touch are 0 apart by the one way and by the other",
    ),
    (
        "geometry/rules/holding/chocks.py",
        "reach = max(math.hypot(contact.x - centroid[0], contact.y - centroid[1]) for contact in contacts)",
        "y → x",
        "the reach is no more than the size by which the guard against parallel pushes of 1e-9 is measured",
    ),
    (
        "geometry/sizing/sizer.py",
        "asked = outward and (pane.bond.width is None or pane.bond.thickness is None)",
        "and → or",
        "it only spares the search of a circle by which no size that is given or needs no pressure goes",
    ),
    (
        "geometry/detail/sill.py",
        "return all(way.x > 0.0 and abs(way.y) <= slope * way.x + 1e-9 for way in ways)",
        "<= → <",
        GUARD,
    ),
    (
        "geometry/workings/movement.py",
        "if abs(squeezed) > abs(strain_) or (place.left <= 0.0 and abs(swollen) > abs(opening)):",
        "> → >=",
        "alike they are where the swell changes nothing, and then both sets of figures are the same",
    ),
    (
        "outputs/files/svg.py",
        "if len(run) == 2 and not closed and not run[0][2]:  # a line: nearly all of a sheet",
        "len(run) == 2 and not closed and not run[0][2] → False",
        "the longer way writes a line of two nodes by the same bytes; the branch only spares time",
    ),
    ("geometry/sizing/bead_sizes.py", "elif bored > most + TOUCH:", "> → >=", GUARD),
    ("geometry/sizing/bead_sizes.py", 'worst = "" if wet_share > 1 - TOUCH else " at the widest gap"', "> → >=", GUARD),
)
"""Mutants that no input can show: file, line, ``old → new`` (empty: any change of the line), and the reason."""

SIGNS = {ast.Add: ("+", "-"), ast.Sub: ("-", "+"), ast.Mult: ("*", "/"), ast.Div: ("/", "*")}
COMPARED = {ast.Lt: ("<", "<="), ast.LtE: ("<=", "<"), ast.Gt: (">", ">="), ast.GtE: (">=", ">")}
TURNED = {
    ast.Lt: ("<", ">"),
    ast.LtE: ("<=", ">"),
    ast.Gt: (">", "<"),
    ast.GtE: (">=", "<"),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
}
OTHER_NAMES = {
    "min": "max",
    "max": "min",
    "sin": "cos",
    "cos": "sin",
    "ceil": "floor",
    "floor": "ceil",
    "any": "all",
    "all": "any",
}
OTHER_PARTS = {
    "x": "y", "y": "x", "left": "right", "right": "left", "top": "bottom", "bottom": "top", "first": "last", "last": "first",
    "start": "end", "end": "start", "tangent": "outward", "outward": "tangent", "width": "height", "height": "width",
}  # fmt: skip


class Sites(ast.NodeVisitor):
    """Every place of one file where a change can be made."""

    def __init__(self, file: str, text: str) -> None:
        self.file, self.text = file, text
        self.found: list[Mutant] = []
        self._lines = [0]
        for row in text.splitlines(keepends=True):
            self._lines.append(self._lines[-1] + len(row.encode()))
        self._bytes = text.encode()

    def _at(self, line: int, column: int) -> int:
        return len(self._bytes[: self._lines[line - 1] + column].decode())

    def _span(self, node: ast.expr) -> tuple[int, int]:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        return self._at(node.lineno, node.col_offset), self._at(node.end_lineno, node.end_col_offset)

    def _put(self, kind: str, line: int, start: int, end: int, new: str) -> None:
        old = self.text[start:end]
        if old != new:
            self.found.append(Mutant(self.file, line, kind, start, end, old, new))

    def _sign(self, kind: str, before: ast.expr, after: ast.expr, old: str, new: str) -> None:
        """Exchange an operator that stands between two expressions."""
        start, end = self._span(before)[1], self._span(after)[0]
        at = self.text.find(old, start, end)
        if at >= 0:
            self._put(kind, self.text.count("\n", 0, at) + 1, at, at + len(old), new)

    # What is left alone.

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Wording is not changed."""

    def visit_Raise(self, node: ast.Raise) -> None:
        """Wording is not changed."""

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None:
            self.visit(node.value)

    def visit_arg(self, node: ast.arg) -> None:
        """Annotations are not changed."""

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        for default in (*node.args.defaults, *(each for each in node.args.kw_defaults if each is not None)):
            self.visit(default)
        for statement in node.body:
            self.visit(statement)

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        for statement in node.body:
            self.visit(statement)

    # What is changed.

    def visit_BinOp(self, node: ast.BinOp) -> None:
        words = any(isinstance(side, ast.Constant | ast.JoinedStr) and not _number(side) for side in (node.left, node.right))
        if type(node.op) in SIGNS and not words:
            self._sign("sign", node.left, node.right, *SIGNS[type(node.op)])
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        if isinstance(node.op, ast.USub):
            start, end = self._span(node)
            self._put("minus", node.lineno, start, end, self.text[start + 1 : end].lstrip())
        if isinstance(node.op, ast.Not):
            start, end = self._span(node)
            self._put("negated", node.lineno, start, end, f"({self.text[start + 3 : end].lstrip()})")
        self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> None:
        sides = [node.left, *node.comparators]
        for before, op, after in zip(sides, node.ops, sides[1:], strict=False):
            if type(op) in COMPARED:
                self._sign("bound", before, after, *COMPARED[type(op)])
            if type(op) in TURNED:
                self._sign("turned", before, after, *TURNED[type(op)])
        self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> None:
        function = node.func
        if isinstance(function, ast.Name) and function.id in OTHER_NAMES:
            self._put("function", node.lineno, *self._span(function), OTHER_NAMES[function.id])
        if isinstance(function, ast.Attribute) and function.attr in OTHER_NAMES:
            end = self._span(function)[1]
            self._put("function", node.lineno, end - len(function.attr), end, OTHER_NAMES[function.attr])
        symmetric = isinstance(function, ast.Name | ast.Attribute) and (
            function.id if isinstance(function, ast.Name) else function.attr
        ) in {"min", "max", "hypot", "dist", "isinstance", "zip", "getattr", "_near"}
        plain = len(node.args) >= 2 and not any(isinstance(each, ast.Starred) for each in node.args)
        if plain and not symmetric and not any(_words(each) for each in node.args[:2]):
            (a, b), (c, d) = self._span(node.args[0]), self._span(node.args[1])
            self._put("arguments", node.lineno, a, d, self.text[c:d] + self.text[b:c] + self.text[a:b])
        self.generic_visit(node)

    def visit_Constant(self, node: ast.Constant) -> None:
        if not _number(node):
            return
        value = node.value
        new = f"{value + 1}" if isinstance(value, int) else repr(value * 1.1) if value else "0.1"
        self._put("constant", node.lineno, *self._span(node), new)

    def visit_Attribute(self, node: ast.Attribute) -> None:
        if node.attr in OTHER_PARTS and isinstance(node.ctx, ast.Load):
            end = self._span(node)[1]
            self._put("part", node.lineno, end - len(node.attr), end, OTHER_PARTS[node.attr])
        self.generic_visit(node)

    def _condition(self, test: ast.expr, line: int) -> None:
        if isinstance(test, ast.Name) and test.id == "TYPE_CHECKING":
            return
        start, end = self._span(test)
        self._put("negated", line, start, end, f"not ({self.text[start:end]})")
        self._put("branch", line, start, end, "False")

    def visit_If(self, node: ast.If) -> None:
        if isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            return
        self._condition(node.test, node.lineno)
        self.generic_visit(node)

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self._condition(node.test, node.lineno)
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        old, new = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        for before, after in zip(node.values, node.values[1:], strict=False):
            start, end = self._span(before)[1], self._span(after)[0]
            at = self.text.find(f" {old} ", start, end)
            if at < 0:
                at = self.text.find(f" {old}\n", start, end)
            if at >= 0 and len(node.values) == 2:
                self._put("joined", self.text.count("\n", 0, at + 1) + 1, at + 1, at + 1 + len(old), new)
        self.generic_visit(node)


def _number(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, int | float) and not isinstance(node.value, bool)


def _words(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def sites_of(path: Path, root: Path) -> list[Mutant]:
    """Every change that can be made in one file, in the order of the file."""
    text = path.read_text(encoding="utf-8")
    sites = Sites(path.relative_to(root).as_posix(), text)
    sites.visit(ast.parse(text))
    rows = text.splitlines()
    turns: Counter[str] = Counter()
    kept = []
    for mutant in sorted(set(sites.found), key=lambda each: (each.start, each.end, each.kind, each.new)):
        mutant = replace(mutant, row=rows[mutant.line - 1].strip())
        turns[mutant.place] += 1
        kept.append(replace(mutant, turn=turns[mutant.place]))
    return kept


def chosen(count: int, seed: int, root: Path) -> list[Mutant]:
    """So many changes, and the equivalent ones met on the way: rooms by how many places they have, kinds of change evenly.

    No two are at the same place. Each mutant draws its own lot from the seed and from what it is known by, so that a change of the
    program elsewhere hardly moves the choice.
    """
    drawn: list[tuple[float, str, Mutant]] = []
    for room in ROOMS:
        found = [mutant for path in sorted((root / room).rglob("*.py")) for mutant in sites_of(path, root)]
        kinds = Counter(mutant.kind for mutant in found)
        for mutant in found:
            weight = len(found) / len(kinds) / kinds[mutant.kind]
            lot = int(hashlib.sha256(f"{seed} {mutant.place}".encode()).hexdigest()[:13], 16)
            drawn.append((-math.log((lot + 1) / 16**13) / weight, mutant.place, mutant))
    taken: dict[tuple[str, int], Mutant] = {}
    wanted = count
    for _, _, mutant in sorted(drawn, key=lambda each: each[:2]):
        if wanted and (mutant.file, mutant.start) not in taken:
            taken[mutant.file, mutant.start] = mutant
            wanted -= not mutant.equivalent
    return list(taken.values())


def named(root: Path) -> list[Mutant]:
    """The named changes, wherever in the program their text stands now. Raises where a text stands nowhere or more than once."""
    files = [path for top in ("geometry", "outputs") for path in sorted((root / top).rglob("*.py"))]
    texts = {path.relative_to(root).as_posix(): path.read_text(encoding="utf-8") for path in files}
    found = []
    for name, old, new in NAMED:
        places = [(file, text.index(old)) for file, text in texts.items() if old in text]
        if len(places) != 1:
            raise SystemExit(f"the change {name!r}: {old!r} stands {len(places)} times in the program; mend the table NAMED")
        ((file, start),) = places
        line = texts[file].count("\n", 0, start) + 1
        found.append(Mutant(file, line, "named", start, start + len(old), old, new, name))
    return found


def _names(test: Path, file: str) -> bool:
    """Whether a test file imports the module of a file: such tests run first."""
    package, _, module = file.removesuffix(".py").replace("/", ".").rpartition(".")
    if test.is_dir():
        return False
    text = test.read_text(encoding="utf-8")
    return (
        f"{package}.{module} import" in text or re.search(rf"from {re.escape(package)} import .*\b{module}\b", text) is not None
    )


def stages_for(mutant: Mutant, root: Path) -> list[list[str]]:
    """The file's own doc tests with the first tests of its room, then the others, stage by stage."""
    elsewhere = "outputs/files" if mutant.file.startswith("outputs/") else "geometry/detail"
    room = next((room for room in ROOMS if mutant.file.startswith(room + "/")), elsewhere)
    stages: list[list[str]] = []
    seen: set[str] = set()
    for stage in ROOMS[room]:
        wanted = [path for path in stage if (root / path).exists() and path not in seen]
        seen.update(wanted)
        stages.append(sorted(wanted, key=lambda path: not _names(root / path, mutant.file)))
    stages[0].insert(0, mutant.file)
    return [stage for stage in stages if stage]


# Loaded once, before any test: each takes longer to load than most tests take. None of them is of the program.
LOADED_FIRST = (
    "cadquery",
    "ezdxf",
    "svgwrite",
    "shapely",
    "scipy.sparse.linalg",
    "skfem",
    "pydantic",
    "click",
    "rich",
    "hypothesis",
    "pytest",
)


class _First:
    """Plugin that keeps the first test that failed."""

    def __init__(self) -> None:
        self.by = ""

    def pytest_runtest_logreport(self, report: object) -> None:
        if getattr(report, "failed", False) and not self.by:
            self.by = str(getattr(report, "nodeid", ""))

    def pytest_collectreport(self, report: object) -> None:
        self.pytest_runtest_logreport(report)


def work() -> None:
    """Read lists of tests, one a line, run each in a child process of its own and answer with exit code and first failure."""
    import importlib

    sys.path.pop(0)  # the folder of this script, in which folders are called as the packages are
    for name in LOADED_FIRST:
        importlib.import_module(name)
    import pytest

    answer = os.fdopen(os.dup(1), "w")
    nothing = os.open(os.devnull, os.O_WRONLY)
    for row in sys.stdin:
        read, write = os.pipe()
        child = os.fork()
        if child == 0:
            os.setsid()
            os.dup2(nothing, 1)
            os.dup2(nothing, 2)
            os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
            first = _First()
            words = ["-q", "-x", "-n0", "--tb=no", "-p", "no:cacheprovider", "-p", "no:randomly", "-p", "no:faulthandler"]
            code = int(pytest.main([*words, *json.loads(row)], plugins=[first]))
            os.write(write, json.dumps([code, first.by]).encode())
            os._exit(0)
        os.close(write)
        ready, _, _ = select.select([read], [], [], HUNG)
        told = os.read(read, 100_000).decode() if ready else json.dumps([1, "never ended"])
        os.close(read)
        if not ready:
            os.killpg(child, signal.SIGKILL)  # this mutant's tests and what they started
        os.waitpid(child, 0)
        answer.write((told or json.dumps([1, "the process of the tests died"])) + "\n")
        answer.flush()


@dataclass(frozen=True)
class Outcome:
    """What became of a mutant; ``by`` names the test that saw it."""

    mutant: Mutant
    killed: bool
    by: str
    seconds: float

    @property
    def word(self) -> str:
        return "equivalent" if self.mutant.equivalent else "killed" if self.killed else "SURVIVED"


class Kept:
    """A file of results, one a line as JSON, written as they come; without a path nothing is kept."""

    def __init__(self, path: Path | None) -> None:
        self.path = path
        rows = path.read_text(encoding="utf-8").splitlines() if path is not None and path.exists() else []
        self.known: dict[str, dict[str, object]] = {row["place"]: row for row in map(json.loads, rows)}

    def of(self, mutant: Mutant) -> Outcome | None:
        """What became of a mutant in an earlier run."""
        if (row := self.known.get(mutant.place)) is None:
            return None
        return Outcome(mutant, bool(row["killed"]), str(row["by"]), 0.0)

    def add(self, outcome: Outcome) -> None:
        if self.path is not None:
            row = {"place": outcome.mutant.place, "killed": outcome.killed, "by": outcome.by}
            with self.path.open("a", encoding="utf-8") as file:
                file.write(json.dumps(row, ensure_ascii=False) + "\n")


class Copy:
    """A copy of the checkout in which mutants are made, one after the other."""

    def __init__(self, folder: Path, stages: int) -> None:
        self.root = folder / "checkout"
        self.stages = stages
        self._sound: set[str] = set()  # tests that have killed and that pass without any change
        names = subprocess.run(
            ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"], cwd=ROOT, capture_output=True, check=True
        ).stdout
        for name in names.decode().split("\0"):
            if name and (ROOT / name).is_file():
                target = self.root / name
                target.parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(ROOT / name, target)
        self.environment = {
            **os.environ,
            "PYTHONPATH": str(self.root),
            "PYTHONHASHSEED": "0",
            "HYPOTHESIS_STORAGE_DIRECTORY": str(folder / "hypothesis"),
        }
        self._stamp = int(time.time())
        words = "import geometry, outputs; print(geometry.__file__, outputs.__file__)"
        told = subprocess.run(
            [sys.executable, "-c", words], cwd=self.root, env=self.environment, capture_output=True, text=True, check=True
        ).stdout
        if told.count(str(self.root)) != 2:
            raise SystemExit(f"the copy is not what is imported: {told.strip()}")
        self._worker = subprocess.Popen(
            [sys.executable, str(Path(__file__).resolve()), "--worker"],
            cwd=self.root, env=self.environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        )  # fmt: skip

    def _write(self, path: Path, text: str) -> None:
        path.write_text(text, encoding="utf-8", newline="")
        self._stamp += 2  # a compiled module is known by its second and size: every mutant gets a second of its own
        os.utime(path, (self._stamp, self._stamp))

    def run(self, tests: list[str]) -> tuple[int, str]:
        """Exit code of pytest and the first test that failed."""
        assert self._worker.stdin is not None
        assert self._worker.stdout is not None
        self._worker.stdin.write(json.dumps(tests) + "\n")
        self._worker.stdin.flush()
        row = self._worker.stdout.readline()
        if not row:
            raise SystemExit("the process that runs the tests has ended")
        code, by = json.loads(row)
        return code, by

    def close(self) -> None:
        """End the process that runs the tests."""
        assert self._worker.stdin is not None
        self._worker.stdin.close()
        self._worker.wait()

    def judge(self, mutant: Mutant, first: str = "") -> Outcome:
        """Make the change, run the tests that can see it, take the change back. ``first`` saw it in an earlier run."""
        path = self.root / mutant.file
        whole = path.read_text(encoding="utf-8")
        began = time.monotonic()
        self._write(path, whole[: mutant.start] + mutant.new + whole[mutant.end :])
        try:
            for stage in ([first] if first else [], *stages_for(mutant, self.root)[: self.stages]):
                code, by = self.run(stage) if stage else (5, "")
                if stage == [first] and code == 4:  # it is called otherwise now
                    code = 5
                if code not in (0, 5):  # 5: no doc test in the file, no test in the folder
                    break
        finally:
            self._write(path, whole)
        killed = code not in (0, 5)
        if killed and by.startswith("tests/") and by not in self._sound:
            if self.run([by])[0] != 0:
                raise SystemExit(f"{by} fails without any change: mend it first")
            self._sound.add(by)
        return Outcome(mutant, killed, by, time.monotonic() - began)


def outcomes(mutants: list[Mutant], kept: Kept, jobs: int, stages: int) -> Iterator[Outcome]:
    """Judge every mutant, in so many copies side by side; each comes as soon as it is judged."""
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        copies: Queue[Copy] = Queue()
        made = []
        for number in range(jobs):
            (own := Path(folder) / str(number)).mkdir()
            made.append(Copy(own, stages))
            copies.put(made[-1])

        def judge(mutant: Mutant) -> Outcome:
            copy = copies.get()
            try:
                before = kept.of(mutant)
                return copy.judge(mutant, before.by if before is not None and before.by.startswith("tests/") else "")
            finally:
                copies.put(copy)

        with ThreadPoolExecutor(jobs) as pool:
            try:
                for future in as_completed([pool.submit(judge, mutant) for mutant in mutants]):
                    yield future.result()
            finally:
                pool.shutdown(wait=False, cancel_futures=True)
        for each in made:
            each.close()


def main() -> int:
    """Make the changes, print what became of each, and the survivors at the end."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--count", type=int, default=100, metavar="N", help="changes chosen by the seed (100)")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="another seed chooses others (1)")
    parser.add_argument("--jobs", type=int, default=1, metavar="N", help="copies of the checkout side by side (1)")
    parser.add_argument("--one", metavar="FILE:LINE[:KIND]", help="every change of that kind on one line of a file")
    parser.add_argument("--named", action="store_true", help="the named changes only")
    parser.add_argument("--room", default="", metavar="FOLDER", help="of the chosen changes those in this folder only")
    parser.add_argument("--list", action="store_true", help="print the changes and make none")
    parser.add_argument("--results", type=Path, metavar="FILE", help="keep what became of each here, and judge none twice")
    parser.add_argument("--again", action="store_true", help="of the kept results judge those once more that lived")
    parser.add_argument("--anew", action="store_true", help="judge all once more, each first by the test that saw it before")
    parser.add_argument(
        "--stages", type=int, default=ALL_STAGES, metavar="N", help="the first N stages of tests only, for a quick look"
    )
    parser.add_argument("--worker", action="store_true", help=argparse.SUPPRESS)
    wanted = parser.parse_args()
    if wanted.worker:
        work()
        return 0
    if wanted.one:
        file, line, *kind = wanted.one.split(":")
        every = [
            mutant
            for mutant in sites_of(ROOT / file, ROOT)
            if mutant.line == int(line) and mutant.kind in (kind or [mutant.kind])
        ]
    else:
        every = named(ROOT) + ([] if wanted.named else chosen(wanted.count, wanted.seed, ROOT))
    every = [mutant for mutant in every if mutant.file.startswith(wanted.room)]
    if wanted.list:
        print("\n".join(mutant.told() + ("  (equivalent)" if mutant.equivalent else "") for mutant in every))
        return 0
    found = judged(every, Kept(wanted.results), wanted)
    return told(found)


def judged(every: list[Mutant], kept: Kept, wanted: argparse.Namespace) -> list[Outcome]:
    """What became of each: kept from an earlier run, equivalent, or judged now. A look at the first stages only keeps no survivor."""
    found: list[Outcome] = [Outcome(mutant, False, mutant.equivalent, 0.0) for mutant in every if mutant.equivalent]
    open_ones = []
    for mutant in every:
        before = kept.of(mutant)
        if before is not None and not (wanted.anew or (wanted.again and not before.killed)) and not mutant.equivalent:
            found.append(before)
        elif not mutant.equivalent:
            open_ones.append(mutant)
    print(f"{len(open_ones)} to judge, {len(every) - len(open_ones)} known", flush=True)
    for number, outcome in enumerate(outcomes(open_ones, kept, wanted.jobs, wanted.stages), start=1):
        found.append(outcome)
        if outcome.killed or wanted.stages >= ALL_STAGES:
            kept.add(outcome)
        print(f"{number:4} {outcome.word:8} {outcome.seconds:5.0f} s  {outcome.mutant.told()}", flush=True)
        if outcome.killed:
            print(f"              {outcome.by}", flush=True)
    return found


def told(found: list[Outcome]) -> int:
    """Print the table of rooms, the equivalent changes with their reasons and the survivors; exit code 0 where enough died."""
    words = ("killed", "SURVIVED", "equivalent")
    count = Counter(
        (next((room for room in ROOMS if outcome.mutant.file.startswith(room + "/")), "elsewhere"), outcome.word)
        for outcome in found
    )
    print(f"\n{'':20}{''.join(f'{word.lower():>12}' for word in words)}")
    for room in (*ROOMS, "elsewhere"):
        if any(count[room, word] for word in words):
            print(f"{room:20}{''.join(f'{count[room, word]:12}' for word in words)}")
    killed, lived, equivalent = (sum(outcome.word == word for outcome in found) for word in words)
    print(f"{'together':20}{killed:12}{lived:12}{equivalent:12}")
    for outcome in found:
        if outcome.word == "equivalent":
            print(f"equivalent: {outcome.mutant.told()}: {outcome.by}")
    for outcome in found:
        if outcome.word == "SURVIVED":
            print(f"survived: {outcome.mutant.told()}")
    print(f"{killed} of {killed + lived} died")
    return 0 if killed >= TARGET * (killed + lived) else 1


if __name__ == "__main__":
    sys.exit(main())
