"""What must hold for the bond stress of any pane, from equilibrium, symmetry and linearity."""

from __future__ import annotations

import dataclasses
import math
from functools import cache

import numpy as np
import pytest

from geometry.outline.loop import Outline
from geometry.outline.measure import area, mirrored, perimeter
from geometry.outline.offset import offset
from geometry.outline.shapes import circle, ellipse, polygon, rectangle
from geometry.plate.bond import bond_stress, sizes_for
from geometry.plate.glass import GlassBuildUp, PlateInputError, bending_stiffness
from geometry.plate.mesh import mesh_of, refined
from geometry.plate.solve import solve
from geometry.plate.system import AreaBed, Plate

TEN = GlassBuildUp((10.0,))
SHAPES = {
    "rectangle": rectangle(1200, 600, radius=60),
    "ellipse": ellipse(700, 400),
    "notched": polygon([(0, 0), (900, 0), (900, 300), (600, 300), (600, 600), (0, 600)], radii=20),
    "sharp notch": polygon([(0, 0), (900, 0), (900, 300), (600, 300), (600, 600), (0, 600)]),
    "sliver": polygon([(0, 0), (640, 0), (640, 215)], radii=8),
    "sharp sliver": polygon([(0, 0), (640, 0), (640, 215)]),
    "four sides": polygon([(0, 0), (1300, 120), (1120, 870), (60, 820)], radii=40),
}


@cache
def _pane(glass, *, setback=8.0, width=15.0, build_up=TEN, **given):
    outer = offset(glass, -setback) if setback else glass
    options = {"bond_thickness": 5.0, "effective_modulus": 2.0, "outward": 10.0, "inward": 15.0} | given
    return bond_stress(glass, outer, offset(glass, -setback - width), build_up=build_up, **options)


@pytest.mark.parametrize("name", SHAPES)
def test_the_bead_carries_the_load(name):
    """Equilibrium: stress over the bead, and reactions over the stations, sum to pressure x area within a millionth."""
    glass = SHAPES[name]
    outer, inner = offset(glass, -8), offset(glass, -23)
    result = _pane(glass)
    assert result.load_balance < 1e-6
    assert result.bond_area == pytest.approx(area(outer) - area(inner), rel=1e-12)
    for side, sign in ((result.outward, 1), (result.inward, -1)):
        load = side.pressure * 1e-3 * area(glass)
        assert sum(r.reaction * r.length for r in side.reactions) == pytest.approx(sign * load, rel=1e-6)
        assert side.mean == pytest.approx(sign * load / result.bond_area, rel=1e-12)
        share = side.tension_share
        parts = (side.mean_tension * share - side.mean_compression * (1 - share)) * result.bond_area
        assert parts == pytest.approx(sign * load, rel=1e-6)
        assert side.peak_tension.value >= side.mean_tension and side.peak_compression.value >= side.mean_compression
    assert sum(r.length for r in result.outward.reactions) == pytest.approx((perimeter(outer) + perimeter(inner)) / 2, rel=1e-6)
    assert result.error.bond_stress < 0.005 and result.error.deflection < 0.005


def test_moments_balance_too():
    """Equilibrium: on a pane without symmetry the reactions have the moments of the load about both axes."""
    glass = SHAPES["four sides"]
    result = _pane(glass, stations=720)
    reactions = result.outward.reactions
    load = 0.010 * area(glass)
    lever = [sum(r.reaction * r.length * r.point[i] for r in reactions) / load for i in (0, 1)]
    import shapely

    from geometry.outline.regions import to_polygon

    centre = shapely.centroid(to_polygon(glass))
    # a station's force acts near the middle of the bead, not quite on it
    assert lever == pytest.approx([centre.x, centre.y], abs=2.0)


def test_a_disc_has_the_same_reaction_all_round():
    """Symmetry and equilibrium: q x area over the centre line of the bead, at every station."""
    result = _pane(circle(500), stations=48)
    reactions = [r.reaction for r in result.outward.reactions]
    assert len(reactions) == 48
    assert reactions == pytest.approx([0.010 * math.pi * 250**2 / (2 * math.pi * 234.5)] * 48, rel=0.005)


@pytest.mark.parametrize("name", ["rectangle", "notched", "sliver"])
def test_the_start_of_the_outline_does_not_matter(name):
    glass = SHAPES[name]
    outer, inner = offset(glass, -8), offset(glass, -23)

    def turned(outline, by):
        return Outline(outline.vertices[by:] + outline.vertices[:by])

    given = {"build_up": TEN, "bond_thickness": 5, "effective_modulus": 2, "outward": 10, "inward": 15}
    one = bond_stress(glass, outer, inner, **given)
    other = bond_stress(turned(glass, 3), turned(outer, 2), turned(inner, 1), **given)
    assert other.outward.peak_tension.value == pytest.approx(one.outward.peak_tension.value, rel=1e-8)
    assert other.outward.peak_tension.point == pytest.approx(one.outward.peak_tension.point, abs=1e-6)
    assert [r.reaction for r in other.inward.reactions] == pytest.approx([r.reaction for r in one.inward.reactions], rel=1e-6)


@pytest.mark.parametrize("name", ["four sides", "notched", "sliver"])
def test_the_other_hand_gives_the_mirrored_result(name):
    """Symmetry, within the estimated error of both."""
    glass = SHAPES[name]
    one, other = _pane(glass), _pane(mirrored(glass))
    slack = 2 * (one.error.bond_stress + other.error.bond_stress)
    assert other.outward.peak_tension.value == pytest.approx(one.outward.peak_tension.value, rel=slack)
    assert other.inward.peak_tension.value == pytest.approx(
        one.inward.peak_tension.value, abs=slack * one.inward.peak_compression.value
    )
    assert other.outward.deflection.value == pytest.approx(one.outward.deflection.value, rel=2 * one.error.deflection)
    across = max(v.x for v in glass.vertices) + min(v.x for v in glass.vertices)
    where = one.outward.deflection.point
    assert other.outward.deflection.point == pytest.approx((across - where.x, where.y), abs=20)


def test_pressure_from_the_other_side_turns_every_sign():
    """Linearity: inward at the same pressure swaps tension and compression; double pressure doubles all."""
    result = _pane(SHAPES["rectangle"], outward=4, inward=4)
    double = _pane(SHAPES["rectangle"], outward=8, inward=0)
    assert result.inward.theory == double.outward.theory == "linear"
    out, back = result.outward, result.inward
    assert (out.peak_tension, out.peak_compression) == (back.peak_compression, back.peak_tension)
    assert [r.reaction for r in out.reactions] == pytest.approx([-r.reaction for r in back.reactions])
    assert double.outward.peak_tension.value == pytest.approx(2 * out.peak_tension.value)
    assert double.outward.glass_stress == pytest.approx([2 * s for s in out.glass_stress])
    assert double.inward.peak_tension.value == double.inward.deflection.value == 0.0


def test_corners_of_a_rectangle_pull_against_the_rest():
    """A simply supported plate lifts at its corners (Timoshenko and Woinowsky-Krieger, art. 30): so does the pane on a stiff bead."""
    result = _pane(rectangle(800, 800), setback=0.0, width=20.0)
    for side, against in ((result.outward, result.outward.peak_compression), (result.inward, result.inward.peak_tension)):
        assert against.value > 0.3 * side.pressure * 1e-3 * 800 / 2 / 20
        assert min(against.point.x, 800 - against.point.x) < 20 and min(against.point.y, 800 - against.point.y) < 20
        assert side.uplift.value == pytest.approx(against.value * 5 / 2, rel=1e-9)


def test_a_soft_bead_lifts_nowhere():
    """On a soft bead the pane moves as a whole: stress goes to the mean, and nothing lifts."""
    result = _pane(SHAPES["rectangle"], effective_modulus=0.005)
    assert result.outward.uplift.value == 0.0 and result.outward.tension_share == 1.0
    assert result.outward.peak_tension.value < 1.25 * result.outward.mean


@pytest.mark.parametrize("name", ["ellipse", "sliver", "notched"])
def test_no_bead_is_stiff_enough_to_fall_below_equilibrium(name):
    """The greatest reaction is never below the mean the load demands, soft or stiff; a stiffer bead never bends the pane more."""
    glass = SHAPES[name]
    deflections = []
    for modulus in (0.1, 2.0, 10.0):
        result = _pane(glass, effective_modulus=modulus)
        mean = 0.010 * area(glass) / sum(r.length for r in result.outward.reactions)
        assert max(r.reaction for r in result.outward.reactions) >= mean
        deflections.append(result.outward.deflection.value)
    assert deflections == sorted(deflections, reverse=True)


@pytest.mark.parametrize("name", ["ellipse", "notched", "sliver"])
def test_the_error_estimate_is_honest(name):
    """Against the same pane on a mesh twice as fine again: the change is at most twice the estimate or 0.05 %."""
    glass = SHAPES[name]
    outer, inner = offset(glass, -8), offset(glass, -23)
    plate, bed = Plate(bending_stiffness(TEN), TEN.poisson), AreaBed(0.4)
    finest = refined(refined(mesh_of(glass, (outer, inner), sizes_for(glass, outer, inner, plate, bed))))
    exact = solve(finest, plate, bed)
    stress = exact.deflection[np.unique(finest.triangles[finest.band])] * bed.stiffness * 0.010
    result = _pane(glass)
    peak = result.outward.peak_tension.value
    assert abs(np.max(stress) - peak) / peak <= max(2 * result.error.bond_stress, 5e-4)
    most = result.outward.deflection.value
    assert abs(np.max(exact.deflection) * 0.010 - most) / most <= max(2 * result.error.deflection, 5e-4)


def test_a_laminate_is_its_effective_ply():
    """A laminate with no coupling behaves as one ply of its effective thickness, but for the stress of its plies."""
    laminate = GlassBuildUp((6.0, 6.0), (1.52,), shear_coupling=0.0)
    one = _pane(SHAPES["ellipse"], build_up=laminate)
    other = _pane(SHAPES["ellipse"], build_up=GlassBuildUp(((2 * 6.0**3) ** (1 / 3),)))
    assert one.outward.peak_tension.value == pytest.approx(other.outward.peak_tension.value, rel=1e-9)
    # two equal plies each take half the moment: 6 (M/2)/6^2
    assert one.outward.glass_stress == pytest.approx([other.outward.glass_stress[0] * other.effective_thickness**2 / 72] * 2)


def test_great_deflection_is_said():
    thin = _pane(SHAPES["rectangle"], build_up=GlassBuildUp((4.0,)))
    assert thin.outward.theory == thin.inward.theory == "large deflection" and not thin.outward.beyond_linear
    assert sum("by large deflection (von Karman)" in note for note in thin.notes) == 2 and "Linear" not in thin.notes[0]
    thick = _pane(SHAPES["rectangle"], build_up=GlassBuildUp((15.0,)))
    assert thick.outward.theory == "linear" and thick.outward.large is None and len(thick.notes) == 1
    assert "Linear" in thick.notes[0]


def test_no_balance_is_said(monkeypatch):
    """Where Newton's steps fail the linear figures stay, and it is told."""
    monkeypatch.setattr("geometry.plate.large.MOST_STEPS", 1)
    thin = _pane.__wrapped__(SHAPES["ellipse"], build_up=GlassBuildUp((3.0,)))
    assert thin.inward.theory == "linear" and thin.inward.beyond_linear
    assert any("over half the effective thickness" in note and "no balance" in note for note in thin.notes)


def test_the_map_shows_the_peaks():
    result = _pane(SHAPES["notched"])
    shown = result.stress_map
    for side in (result.outward, result.inward):
        assert np.max(shown.of(side.direction)) == pytest.approx(side.peak_tension.value)
        assert -np.min(shown.of(side.direction)) == pytest.approx(side.peak_compression.value)
    assert shown.triangles.max() == len(shown.points) - 1 == len(shown.outward) - 1
    with pytest.raises(ValueError, match="read-only"):
        shown.outward[0] = 0.0
    with pytest.raises(dataclasses.FrozenInstanceError):
        result.outward = result.inward


def test_the_same_pane_gives_the_same_figures():
    one, other = _pane(SHAPES["notched"]), _pane.__wrapped__(SHAPES["notched"])
    assert one.outward == other.outward and np.array_equal(one.stress_map.outward, other.stress_map.outward)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"bond_thickness": 0.0}, "bond thickness is 0 mm"),
        ({"effective_modulus": math.inf}, "effective modulus of the bead is inf MPa"),
        ({"outward": -3.0}, "outward pressure is -3 kPa"),
        ({"inward": math.nan}, "inward pressure is nan kPa"),
        ({"stations": 2}, "2 stations round the bead; allowed are 4 to 5000"),
    ],
)
def test_bad_values_are_refused_in_words(given, words):
    with pytest.raises(PlateInputError, match=words):
        _pane(SHAPES["ellipse"], **given)


def test_a_bead_without_width_is_refused():
    glass = rectangle(400, 300)
    with pytest.raises(PlateInputError, match="the bead must have a width"):
        bond_stress(glass, glass, glass, build_up=TEN, bond_thickness=5, effective_modulus=2, outward=1, inward=1)
