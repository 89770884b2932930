"""Floats are added by ``math.fsum``: Python's own ``sum`` adds them otherwise from 3.12 on, and the same input must give the same bytes.

What Python says: "Changed in version 3.12: Summation of floats switched to an algorithm that gives higher accuracy" (the manual of
the function). Whole numbers and fractions may be added by ``sum``: those places are named here.
"""

from __future__ import annotations

import ast
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
WHOLE = {
    ("geometry/plate/nodes.py", "sum(map(len, taken))"),
    ("geometry/job/model.py", "sum((pieces.get(code, 1) for code in session.panes))"),
    ("geometry/job/units.py", "sum((Fraction(part) for part in number.lstrip('+-').split()), Fraction(0))"),
    ("geometry/workings/quantities.py", "sum(numbers)"),  # packs
    ("geometry/incoming/schedule_xlsx.py", "sum((part.file_size for part in parts))"),  # bytes
    (
        "geometry/incoming/schedule_xlsx.py",
        "sum(((last - first + 1) * (end - start + 1) for first, start, last, end in spans))",
    ),  # cells
    ("geometry/incoming/drawing.py", "sum((each.pieces for each in on_top))"),
    ("geometry/incoming/drawing.py", "sum(shown.hidden.values())"),
    ("geometry/incoming/drawing.py", "sum((count for name, count in shown.left_out.items() if name.startswith('damaged')))"),
    ("geometry/incoming/survey_table.py", "sum((text.count(sign) for sign in '.,'))"),
}
COUNTS = (
    "sum((1 for ",
    "sum((len(",
    "sum((max((len(",
    "sum((_balance(",
    "sum((finding.verdict is ",
    "sum((strip.distance(part) < ",
)


def test_floats_are_added_in_one_way_by_every_python():
    found = []
    for package in ("geometry", "outputs"):
        for path in sorted((ROOT / package).rglob("*.py")):
            name = path.relative_to(ROOT).as_posix()
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "sum":
                    words = ast.unparse(node)
                    if (name, words) not in WHOLE and not words.startswith(COUNTS):
                        found.append(f"{name}:{node.lineno}: {words}")
    assert found == []
