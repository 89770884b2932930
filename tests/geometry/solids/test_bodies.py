"""The bodies of a detail: valid and closed, apart from one another, as many as the parts list counts, of the volumes that formulas give."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from held import NEVER_BY_CONVENTION, faults_of, not_apart
from pane_set import subject_of

from geometry.outline import Point, area
from geometry.solids import kernel
from geometry.solids.bodies import ENAMEL, bodies_of
from geometry.solids.proof import sections_proven

CHOSEN = [
    *(
        f"odd {name}"
        for name in (
            "draft and fillet",
            "sharp corners, draft",
            "small corners",
            "re-entrant, draft and fillet",
            "stadium",
            "bent sides",
            "bare rim",
            "wall of its own, askew",
            "glass greater than its recess",
        )
    ),
    *(f"sallow-wren.toml {code}" for code in ("SW-05", "SW-07", "SW-09", "SW-10")),
    *(f"random {seed}" for seed in (100003, 100007, 100015)),
]
"""Of every kind of pane one; ellipses take long with their hundred arcs. ``python tests/proven_solids.py`` holds all there are."""


@pytest.mark.parametrize("name", CHOSEN)
def test_bodies_are_sound_apart_and_counted_and_their_cuts_are_the_sections(name: str) -> None:
    assert faults_of(subject_of(name))[0] == []


def test_a_fault_of_a_body_is_seen() -> None:
    subject = subject_of("odd plain")
    bodies = list(bodies_of(subject.detail))
    bead = next(body for body in bodies if body.part == "bead")
    assert "spacer S9 and bead share 187.500 mm³" in " ".join(not_apart([*bodies, replace(bead, at=Point(0.0, 3.0))], subject))


@pytest.mark.parametrize("name", ["odd circle, draft and fillet", "odd draft and fillet"])
def test_a_plane_through_a_turned_fillet_finds_a_true_circle(name: str) -> None:
    """Not a curve of hundreds of points beside it, as it did where the centres of parallel arcs differed in their last digit."""
    assert not {each.material for each in sections_proven(subject_of(name).detail)} & NEVER_BY_CONVENTION


@pytest.mark.parametrize(
    "case", ["odd plain", "odd sharp corners", "odd re-entrant", "sallow-wren.toml SW-03", "sallow-wren.toml SW-05"]
)
def test_volumes_are_those_of_the_formulas(case: str) -> None:
    # Prism: area × height; a band of constant width along its centre line: width × length (Pappus); elementary geometry.
    detail = subject_of(case).detail
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
    detail = subject_of("odd plain").detail
    bodies = {body.name: body for body in bodies_of(detail)}
    joint, deep = detail.sizes.joint_width.value, detail.sizes.backfill_depth.value
    whole = (detail.perimeter * joint + math.pi * joint**2) * deep
    level = min(detail.sizes.recess_depth.value, detail.sizes.bond_thickness.value + detail.glass.thickness) - deep
    taken = sum(chock.length * chock.height * (chock.depth - level) for chock in detail.chocks)
    assert bodies["backfill"].volume.value == pytest.approx(whole - taken, rel=1e-9)


def test_backfill_of_a_proud_pane_has_the_volume_of_the_swept_section() -> None:
    # Guldin's second rule, piece by piece: the section's area along the straight sides, and once round about the corner centres.
    detail = subject_of("odd proud of the skin").detail
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
    bodies = bodies_of(subject_of("odd plain").detail)
    for part in ("spacer", "setting chock"):
        shapes = [body.made for body in bodies if body.part == part]
        assert len(shapes) > 1
        assert all(shape.IsSame(shapes[0]) for shape in shapes)


def test_a_block_on_a_round_edge_is_straight_and_leaves_the_sagitta() -> None:
    # Sagitta of a chord l on a circle R: R − √(R² − l²/4), elementary geometry; the wall lies at R = 210 + 5.
    detail = subject_of("sallow-wren.toml SW-03").detail
    chock = next(body for body in bodies_of(detail) if body.part == "setting chock")
    length, outer = detail.sizes.chock_length.value, 215.0
    sagitta = outer - math.sqrt(outer**2 - length**2 / 4)
    high = chock.volume.value / length / detail.chocks[0].depth
    assert high == pytest.approx(5.0 - sagitta, abs=1e-6)
    assert "straight" in chock.taken


def test_walls_close_with_every_floor_and_with_none_left_out_or_turned() -> None:
    curves = subject_of("odd plain").detail.curves
    outer, inner = kernel.wall(curves.glass, 0.0, 5.0), kernel.wall(curves.sight_line, 0.0, 5.0)
    over, under = kernel.floor(outer.head, 5.0, hole=inner.head), kernel.floor(outer.foot, 0.0, hole=inner.foot)
    ring = kernel.enclosed([outer], [inner], [over], [under], "a ring")
    assert kernel.valid(ring)
    assert kernel.volume(ring).value == pytest.approx(5.0 * (area(curves.glass) - area(curves.sight_line)), rel=1e-9)
    with pytest.raises(kernel.SolidError, match="a ring does not close"):
        kernel.enclosed([outer], [inner], [over], [], "a ring")
    with pytest.raises(kernel.SolidError, match="does not close"):  # a floor of edges of its own is no floor of these walls
        kernel.enclosed([outer], [inner], [over], [kernel.flat(curves.glass, 0.0, hole=curves.sight_line)], "a ring")
    assert not kernel.valid(
        kernel.enclosed([outer], [inner], [], [over, under], "a ring")
    )  # what the checks of the bodies would see
