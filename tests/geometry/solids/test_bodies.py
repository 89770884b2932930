"""The bodies of a detail: valid and closed, apart from one another, as many as the parts list counts, of the volumes that formulas give."""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.outline import area
from geometry.solids import kernel
from geometry.solids.bodies import ENAMEL, Body, bodies_of

if TYPE_CHECKING:
    from geometry.detail.parts import Detail

ROOT = Path(__file__).parents[3]
VESSEL = read_job(ROOT / "samples" / "sallow-wren.toml")
RE_ENTRANT = "outline = { polygon = [[0, 0], [900, 0], [900, 400], [500, 400], [500, 700], [0, 700]], radius = 30 }"


def detail_of(outline: str, rest: str = "") -> Detail:
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "grp"\nglass = {{ plies = [10] }}\n{outline}\n{rest}\nfrit = {{ width = 40 }}\n'
        "joint = { width = 6, backfill_depth = 6 }\nbond = { width = 15, thickness = 5, set_back = 8 }\n"
    )
    return build_detail(job, job.panes[0])


def of_vessel(code: str) -> Detail:
    return build_detail(VESSEL, next(pane for pane in VESSEL.panes if pane.code == code))


RECTANGLE = "outline = { rectangle = [1200, 600], radius = 60 }"
PLAIN = "recess = { depth = 15, landing = 40 }"
CASES = {
    "plain": lambda: detail_of(RECTANGLE, PLAIN),
    "draft and fillet": lambda: detail_of(RECTANGLE, "recess = { depth = 15, landing = 40, draft = 3, fillet = 3 }"),
    "fillet under the bead": lambda: detail_of(RECTANGLE, "recess = { depth = 25, landing = 40, fillet = 16, draft = 2 }"),
    "proud of the skin": lambda: detail_of(RECTANGLE, "recess = { depth = 13, landing = 40 }"),
    "sharp": lambda: detail_of("outline = { rectangle = [700, 500] }", PLAIN),
    "re-entrant": lambda: detail_of(RE_ENTRANT, PLAIN),
    "re-entrant and proud": lambda: detail_of(RE_ENTRANT, "recess = { depth = 13.5, landing = 40 }"),
    "round": lambda: of_vessel("SW-03"),
    "laminated, reverse rake": lambda: of_vessel("SW-06"),
    "deck light": lambda: of_vessel("SW-05"),
    "sliver": lambda: of_vessel("SW-07"),
    "wall of its own": lambda: of_vessel("SW-09"),
}


def apart(bodies: tuple[Body, ...]) -> list[str]:
    """Pairs that share more than 1e-6 of the smaller one; bodies that stand over one another only touch."""
    parts: dict[str, list[Body]] = {body.part if body.at != (0.0, 0.0) else body.name: [] for body in bodies}
    for body in bodies:
        parts[body.part if body.at != (0.0, 0.0) else body.name].append(body)
    shapes = [
        (name, kernel.together(each.shape for each in own), min(each.volume.value for each in own)) for name, own in parts.items()
    ]
    heights = [[z for _, _, z in kernel.corners_of(shape)] for _, shape, _ in shapes]
    spans = [(min(each), max(each)) for each in heights]
    faults = []
    for (one, other), (a, b) in zip(combinations(shapes, 2), combinations(spans, 2), strict=True):
        if min(a[1], b[1]) - max(a[0], b[0]) < 1e-9:
            continue
        shared = abs(kernel.volume(kernel.common(one[1], other[1])).value)
        if shared > 1e-6 * min(one[2], other[2]):
            faults.append(f"{one[0]} and {other[0]}: {shared:.3f} mm³")
    return faults


@pytest.mark.parametrize("case", CASES)
def test_bodies_are_valid_closed_and_apart(case: str) -> None:
    detail = CASES[case]()
    bodies = bodies_of(detail)
    for body in bodies:
        assert kernel.valid(body.shape), body.name
        assert body.volume.value > 0, body.name
        assert kernel.solids_of(body.shape), body.name
    assert not apart(bodies)
    # counts as in the parts list
    parts = [body.part for body in bodies]
    assert parts.count("spacer") == len(detail.spacers)
    for kind in {chock.kind for chock in detail.chocks}:
        assert parts.count(str(kind)) == sum(chock.kind == kind for chock in detail.chocks)
    assert parts.count("glass") == len(detail.glass.plies)
    assert [parts.count(each) for each in ("frame", "bead", "frit")] == [1, 1, 1]
    assert len({body.name for body in bodies}) == len(bodies)


@pytest.mark.parametrize("case", ["plain", "sharp", "re-entrant", "round", "deck light", "sliver"])
def test_volumes_are_those_of_the_formulas(case: str) -> None:
    # Prism: area × height; a band of constant width along its centre line: width × length (Pappus); elementary geometry.
    detail = CASES[case]()
    bodies = {body.name: body.volume.value for body in bodies_of(detail)}
    sizes = detail.sizes
    glass = sum(volume for name, volume in bodies.items() if name.split()[0] in ("glass", "interlayer"))
    assert glass + bodies["frit"] == pytest.approx(detail.area * detail.glass.thickness, rel=1e-9)
    assert bodies["frit"] == pytest.approx((area(detail.curves.frit_outer) - area(detail.curves.frit_inner)) * ENAMEL, rel=1e-9)
    band = sizes.bond_width.value * sizes.bond_thickness.value * detail.uncured_bead.length
    assert bodies["bead"] == pytest.approx(band, rel=1e-6)
    if detail.uncured_bead.pressed_width == pytest.approx(sizes.bond_width.value, rel=1e-9):  # what is laid is what is pressed
        assert bodies["bead"] * 1e-3 == pytest.approx(detail.uncured_bead.volume, rel=1e-6)


def test_backfill_is_the_band_of_the_joint_less_what_the_chocks_take() -> None:
    # Steiner: area between a convex outline and its parallel curve = perimeter × j + π j². The record counts perimeter × j × depth.
    detail = CASES["plain"]()
    bodies = {body.name: body for body in bodies_of(detail)}
    joint, deep = detail.sizes.joint_width.value, detail.sizes.backfill_depth.value
    whole = (detail.perimeter * joint + math.pi * joint**2) * deep
    level = min(detail.sizes.recess_depth.value, detail.sizes.bond_thickness.value + detail.glass.thickness) - deep
    taken = sum(chock.length * chock.height * (chock.depth - level) for chock in detail.chocks)
    assert bodies["backfill"].volume.value == pytest.approx(whole - taken, rel=1e-9)


def test_backfill_of_a_proud_pane_has_the_volume_of_the_swept_section() -> None:
    # Guldin's second rule, piece by piece: the section's area along the straight sides, and once round about the corner centres.
    detail = CASES["proud of the skin"]()
    bodies = {body.name: body.volume.value for body in bodies_of(detail)}
    joint, radius, deep = 6.0, 60.0, 6.0
    low, high = deep, deep + 2.0  # at the wall and at the glass: it stands 2 mm proud
    section = joint * (low + high) / 2
    from_glass = (joint * low * joint / 2 + joint * (high - low) / 2 * joint / 3) / section
    straight = 2 * (1200 - 2 * radius) + 2 * (600 - 2 * radius)
    whole = section * (straight + 2 * math.pi * (radius + from_glass))
    bottom = 13.0 - deep
    taken = sum(chock.length * chock.height * (chock.depth - bottom) for chock in detail.chocks)
    assert bodies["backfill"] == pytest.approx(whole - taken, rel=1e-9)


def test_blocks_of_a_kind_share_one_shape() -> None:
    bodies = bodies_of(CASES["plain"]())
    for part in ("spacer", "setting chock"):
        shapes = [body.made for body in bodies if body.part == part]
        assert len(shapes) > 1
        assert all(shape.IsSame(shapes[0]) for shape in shapes)


def test_a_block_on_a_round_edge_is_straight_and_leaves_the_sagitta() -> None:
    # Sagitta of a chord l on a circle R: R − √(R² − l²/4), elementary geometry; the wall lies at R = 210 + 5.
    detail = of_vessel("SW-03")
    chock = next(body for body in bodies_of(detail) if body.part == "setting chock")
    length, outer = detail.sizes.chock_length.value, 215.0
    sagitta = outer - math.sqrt(outer**2 - length**2 / 4)
    high = chock.volume.value / length / detail.chocks[0].depth
    assert high == pytest.approx(5.0 - sagitta, abs=1e-6)
    assert "straight" in chock.taken
