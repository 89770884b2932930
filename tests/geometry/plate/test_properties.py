"""Properties of a pane on its bead that hold whatever its sizes: tried on sizes drawn by hypothesis, few and always the same."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.outline.loop import Outline, Vertex
from geometry.outline.measure import area, mirrored
from geometry.outline.offset import offset
from geometry.outline.shapes import circle, ellipse, polygon, rectangle
from geometry.plate.bond import bond_stress
from geometry.plate.glass import GlassBuildUp

few = settings(max_examples=5, deadline=None, derandomize=True)
LOP_SIDED = polygon([(0, 0), (700, 60), (620, 480), (40, 430)], radii=30)


def pane(glass, *, set_back=8.0, width=15.0, thickness=10.0, modulus=2.0, bead=5.0, stations=None):
    """The pane under 10 kPa outward."""
    outer = offset(glass, -set_back) if set_back else glass
    return bond_stress(
        glass,
        outer,
        offset(outer, -width),
        build_up=GlassBuildUp((thickness,)),
        bond_thickness=bead,
        effective_modulus=modulus,
        outward=10.0,
        inward=0.0,
        stations=stations,
    )


def peak(result):
    """Greatest stress of the bead either way, MPa, and its estimated error."""
    found = max(result.outward.peak_tension.value, result.outward.peak_compression.value)
    return found, found * result.error.bond_stress


@few
@given(
    shape=st.sampled_from(["rectangle", "circle"]),
    narrow=st.floats(8, 25),
    more=st.floats(1.1, 2.0),
    modulus=st.sampled_from([0.5, 2.0, 8.0]),
)
def test_a_wider_bond_is_never_stressed_more(shape, narrow, more, modulus):
    """More bead to carry the same load, its outer edge where it was: the peak falls, or stays within the error of the two meshes."""
    glass = rectangle(900, 600, radius=60) if shape == "rectangle" else circle(600)
    first, first_error = peak(pane(glass, width=narrow, modulus=modulus))
    second, second_error = peak(pane(glass, width=narrow * more, modulus=modulus))
    assert second <= first + 2 * (first_error + second_error)


@few
@given(
    glass=st.sampled_from([rectangle(900, 500, radius=40), LOP_SIDED, ellipse(700, 400)]),
    soft=st.floats(0.02, 2.0),
    stiffer=st.floats(2.0, 50.0),
)
def test_a_stiffer_bead_never_undercuts_equilibrium(glass, soft, stiffer):
    """Pressure x area over the length of the bead is the least the greatest reaction can be; a stiffer bead only adds to the unevenness."""
    for modulus in (soft, soft * stiffer):
        result = pane(glass, modulus=modulus)
        reactions = result.outward.reactions
        length = math.fsum(r.length for r in reactions)
        assert max(r.reaction for r in reactions) >= 0.010 * area(glass) / length
        assert result.load_balance < 1e-6


@few
@given(radius=st.floats(120, 500), width=st.floats(8, 30), thickness=st.sampled_from([6.0, 10.0, 19.0]))
def test_a_circle_is_held_alike_all_round(radius, width, thickness):
    """Symmetry and equilibrium: each twelfth carries pressure x area over the centre line of the bead, within 1 %."""
    result = pane(circle(2 * radius), width=width, thickness=thickness, stations=12)
    even = 0.010 * math.pi * radius**2 / (2 * math.pi * (radius - 8 - width / 2))
    assert [r.reaction for r in result.outward.reactions] == pytest.approx([even] * 12, rel=0.01)


@few
@given(
    glass=st.sampled_from([rectangle(900, 500, radius=40), LOP_SIDED, ellipse(700, 400), rectangle(500, 300)]),
    starts=st.tuples(*[st.integers(1, 30)] * 3),
)
def test_the_first_vertex_does_not_matter(glass, starts):
    """The same loops written from other vertices: the same figures but for rounding."""

    def turned(outline, by):
        by %= len(outline.vertices)
        return Outline(outline.vertices[by:] + outline.vertices[:by])

    loops = (glass, offset(glass, -8), offset(glass, -23))
    given_values = {"build_up": GlassBuildUp((10.0,)), "bond_thickness": 5, "effective_modulus": 2, "outward": 10, "inward": 0}
    one = bond_stress(*loops, **given_values)
    other = bond_stress(*(turned(loop, by) for loop, by in zip(loops, starts, strict=True)), **given_values)
    assert other.outward.peak_tension.value == pytest.approx(one.outward.peak_tension.value, rel=1e-7)
    assert other.outward.deflection.value == pytest.approx(one.outward.deflection.value, rel=1e-7)
    assert [r.reaction for r in other.outward.reactions] == pytest.approx([r.reaction for r in one.outward.reactions], rel=1e-5)


@few
@given(width=st.floats(300, 1200), lean=st.floats(0, 150), height=st.floats(250, 700))
def test_the_other_hand_is_the_mirror_image(width, lean, height):
    """A pane and its mirror image: peak, deflection and greatest reaction, within the errors of both meshes."""
    glass = polygon([(0, 0), (width, 0), (width - lean, height), (0, height)], radii=25)
    one, other = pane(glass, stations=40), pane(mirrored(glass), stations=40)
    slack = 2 * (one.error.bond_stress + other.error.bond_stress) + 1e-9
    assert peak(other)[0] == pytest.approx(peak(one)[0], rel=slack)
    assert other.outward.deflection.value == pytest.approx(
        one.outward.deflection.value, rel=2 * (one.error.deflection + other.error.deflection) + 1e-9
    )
    assert max(r.reaction for r in other.outward.reactions) == pytest.approx(
        max(r.reaction for r in one.outward.reactions), rel=0.02
    )


@few
@given(angle=st.floats(5, 175))
def test_the_pane_may_be_turned(angle):
    """No direction of the plane is special: a pane turned on the sheet gives the same figures within the errors of both meshes."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    turned = Outline(tuple(Vertex(c * v.x - s * v.y, s * v.x + c * v.y, v.bulge) for v in LOP_SIDED.vertices))
    one, other = pane(LOP_SIDED), pane(turned)
    slack = 2 * (one.error.bond_stress + other.error.bond_stress)
    assert peak(other)[0] == pytest.approx(peak(one)[0], rel=slack)
    assert other.outward.deflection.value == pytest.approx(
        one.outward.deflection.value, rel=2 * (one.error.deflection + other.error.deflection)
    )


@few
@given(scale=st.floats(0.3, 4.0))
def test_a_model_to_scale_is_stressed_alike(scale):
    """Geometric similarity: every length times a factor, the same pressure and moduli: stresses stay, deflections grow with it."""
    one = pane(LOP_SIDED)
    scaled = Outline(tuple(Vertex(scale * v.x, scale * v.y, v.bulge) for v in LOP_SIDED.vertices))
    other = pane(scaled, set_back=8 * scale, width=15 * scale, thickness=10 * scale, bead=5 * scale)
    assert peak(other)[0] == pytest.approx(peak(one)[0], rel=1e-3)
    assert other.outward.mean == pytest.approx(one.outward.mean, rel=1e-9)
    assert other.outward.deflection.value == pytest.approx(scale * one.outward.deflection.value, rel=1e-3)
    assert other.outward.glass_stress == pytest.approx(one.outward.glass_stress, rel=0.01)
