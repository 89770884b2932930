"""Random plausible panes of all forms, drawn and checked: ``python tests/random_panes.py --count 300 --seed 1``.

Every pane is an invented job of one pane. It is drawn by the program as a user would, in this process; what comes out of it is told:
exit codes, panes that took more than twenty seconds of processor time, refusals with their sentences, and on the sheets text on text,
block on block and letter on letter. The same seed gives the same panes.
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

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[1]))

FORMS = ("rectangle", "polygon", "corner notch", "slot", "circle", "ellipse", "path", "stadium", "own recess")
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


def _notched(dice: random.Random) -> str:
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
    return {"polygon": _round_polygon, "corner notch": _notched, "slot": _slotted, "path": _bent}[form](dice)


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


def run(text: str, folder: Path) -> tuple[int, str]:
    """Exit code of ``fritline draw`` on a job, and what it said on the way of errors."""
    from outputs.command_line import main

    job = folder / "job.toml"
    job.write_text(text + "\n", encoding="utf-8")
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main(["draw", str(job), "-o", str(folder / "sheets")])
        except SystemExit as leaving:
            code = leaving.code
    return int(code or 0), err.getvalue()


def _overlap(one: tuple[float, ...], other: tuple[float, ...], slack: float = 0.05) -> bool:
    return one[0] < other[2] - slack and other[0] < one[2] - slack and one[1] < other[3] - slack and other[1] < one[3] - slack


def collisions(text: str) -> list[str]:
    """Upright texts of the sheet that lie on one another, and blocks of the pane that overlap, as sentences."""
    from geometry.detail.build import build_detail
    from geometry.job import job_of

    job = job_of(text)
    detail = build_detail(job, job.panes[0])
    length, width = detail.sizes.spacer_length.value, detail.sizes.spacer_width.value
    import shapely
    import shapely.affinity

    def block(place: tuple[float, float], angle: float, long: float, wide: float) -> object:
        x, y = place
        return shapely.affinity.rotate(shapely.box(x - long / 2, y - wide / 2, x + long / 2, y + wide / 2), angle, origin=(x, y))

    blocks = [(s.mark, block(s.centre, s.angle, length, width)) for s in detail.spacers]
    found = [f"block {a} on block {b}" for (a, one), (b, other) in combinations(blocks, 2) if one.intersection(other).area > 0.1]
    blocks = [(c.mark, block(c.foot, c.angle, c.length, 1.0)) for c in detail.chocks]
    return found + [
        f"block {a} on block {b}" for (a, one), (b, other) in combinations(blocks, 2) if one.intersection(other).area > 0.1
    ]


def text_on_text(svg: str) -> list[str]:
    """Pairs of upright texts of an SVG sheet whose boxes overlap on paper, measured with the face of the sheets."""
    from html import unescape

    from outputs.sheet.lettering import font_size, text_width

    boxes = []
    for attributes, words in re.findall(r"<text ([^>]*)>([^<]+)</text>", svg):
        if "transform" in attributes:
            continue
        at = dict(re.findall(r'([\w-]+)="([^"]*)"', attributes))
        size = float(at.get("font-size", "0") or 0)
        if not size or "x" not in at:
            continue
        height = size / font_size(1.0)
        wide, x, y = text_width(unescape(words), height), float(at["x"]), float(at["y"])
        left = x - wide / 2 if at.get("text-anchor") == "middle" else x - wide if at.get("text-anchor") == "end" else x
        boxes.append((words, (left, y - height, left + wide, y)))
    return [f"{a!r} on {b!r}" for (a, one), (b, other) in combinations(boxes, 2) if _overlap(one, other)]


def main() -> int:
    """Draw the panes and tell what was found; exit code 1 where a fault of the program was."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    told: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    for seed in range(asked.seed * 100_000, asked.seed * 100_000 + asked.count):
        form, text = random_job(seed)
        began = time.process_time()
        with tempfile.TemporaryDirectory() as folder:
            code, said = run(text, Path(folder))
            taken = time.process_time() - began
            told[f"exit {code}"] += 1
            faults = [f"exit {code}: {said.strip()[-300:]}"] if code not in (0, 1, 2) else []
            faults += [f"took {taken:.0f} s"] if taken > SLOW else []
            if code == 2:
                refused[form] += 1
                print(f"refused {seed} {form}: {' '.join(said.split())[:220]}")
            elif not faults:
                faults += collisions(text)
                for sheet in sorted((Path(folder) / "sheets").glob("*.svg")):
                    faults += text_on_text(sheet.read_text(encoding="utf-8"))
        for fault in faults:
            told["faults"] += 1
            print(f"FAULT {seed} {form}: {fault}\n{text}\n")
    print(dict(sorted(told.items())), "refused by form:", dict(refused), f"share {sum(refused.values()) / asked.count:.0%}")
    return 1 if told["faults"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
