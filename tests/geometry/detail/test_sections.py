"""Cut faces of the sections: areas against closed forms, no two faces over one another, arcs that stay arcs, refusals in words."""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as Spot
from shapely import Polygon

from geometry.detail.build import DetailError, build_detail
from geometry.detail.parts import CutFace, Detail, Section
from geometry.detail.recess_profile import RecessProfile
from geometry.detail.sections import FRAME_BELOW, FRAME_BEYOND, SectionError, backer_nodes
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.outline import Outline, Vertex, area, bounding_box
from geometry.outline.regions import to_polygon

ROOT = Path(__file__).parents[3]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")


def detail_of(
    *,
    plies: str = "[10]",
    interlayers: str = "[]",
    recess: str = "depth = 15, landing = 40",
    joint: str = "width = 6, backfill_depth = 6",
    bond: str = "width = 15, thickness = 5, set_back = 8",
    frame: str = "grp",
) -> Detail:
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "{frame}"\nglass = {{ plies = {plies}, interlayers = {interlayers} }}\n'
        f"outline = {{ rectangle = [1200, 600], radius = 60 }}\nrecess = {{ {recess} }}\njoint = {{ {joint} }}\nbond = {{ {bond} }}\n"
        "frit = { width = 40 }\n"
    )
    return build_detail(job, job.panes[0])


def face(section: Section, material: str) -> CutFace:
    return next(face for face in section.faces if face.material == material)


def outline(cut: CutFace) -> Outline:
    return Outline(tuple(Vertex(*node) for node in cut.nodes))


def face_area(section: Section, material: str) -> float:
    return area(outline(face(section, material)))


def arcs(cut: CutFace) -> list[tuple[float, float]]:
    """Radius and swept angle (degrees) of every arc of a face."""
    found = []
    for (x1, z1, bulge), (x2, z2, _) in zip(cut.nodes, (*cut.nodes[1:], cut.nodes[0]), strict=True):
        if bulge:
            found.append((math.dist((x1, z1), (x2, z2)) * (1 + bulge**2) / (4 * abs(bulge)), math.degrees(4 * math.atan(bulge))))
    return found


def assert_apart(section: Section, *, sagitta: float = 1e-5) -> None:
    """No two faces of a section share more area than facets of their arcs explain."""
    shapes: list[tuple[str, Polygon]] = [(cut.material, to_polygon(outline(cut), sagitta=sagitta)) for cut in section.faces]
    for (one, a), (other, b) in combinations(shapes, 2):
        assert a.intersection(b).area < 100 * sagitta, (section.letter, one, other)


def test_fillet_area_is_that_of_the_closed_form() -> None:
    # Square corner less a quarter disc: radius² (1 − π/4), elementary geometry.
    plain, filled = detail_of(), detail_of(recess="depth = 15, landing = 40, fillet = 4")
    for before, after in zip(plain.sections, filled.sections, strict=True):
        assert face_area(after, "frame") - face_area(before, "frame") == pytest.approx(16 * (1 - math.pi / 4), abs=1e-9)
        assert arcs(face(after, "frame")) == [(pytest.approx(4), pytest.approx(-90))]  # concave: clockwise in the frame's loop


@pytest.mark.parametrize("draft", [1.0, 3.0, 10.0, 30.0])
def test_drafted_frame_and_backfill_are_trapezoids(draft: float) -> None:
    slope = math.tan(math.radians(draft))
    plain, leant = detail_of(), detail_of(recess=f"depth = 15, landing = 40, draft = {draft}")
    for before, after in zip(plain.sections, leant.sections, strict=True):
        # The joint is wider by the height times the tangent; the break line of the frame moves out with its top edge.
        moved = 15 * slope
        assert face_area(after, "frame") == pytest.approx(
            face_area(before, "frame") + moved * (15 + FRAME_BELOW) - moved * 15 / 2
        )
        low, high = after.levels.backfill, 15.0
        assert face_area(after, "sealant") == pytest.approx((high - low) * (6 + slope * low + 6 + slope * high) / 2)
        if after.chock is not None:
            assert face_area(after, "chock") == pytest.approx(low * (6 + 6 + slope * low) / 2)


def test_upright_faces_are_rectangles() -> None:
    sections = {section.letter: section for section in detail_of().sections}
    for section in sections.values():
        assert face_area(section, "adhesive") == pytest.approx(15 * 5)
        assert face_area(section, "frame") == pytest.approx((FRAME_BEYOND + 40) * FRAME_BELOW + FRAME_BEYOND * 15)
    assert face_area(sections["A"], "chock") == pytest.approx(6 * 9)
    assert face_area(sections["B"], "spacer") == pytest.approx(5 * 5)
    assert face_area(sections["C"], "sealant") == pytest.approx(6 * 6)


@pytest.mark.parametrize(
    ("joint", "top", "draft", "fillet"), [(6, 9, 0, 0), (6, 9, 3, 0), (8, 14, 1.5, 2), (12, 24, 5, 3), (5, 12, 0, 1)]
)
def test_pressed_backer_keeps_the_area_of_the_rod(joint: float, top: float, draft: float, fillet: float) -> None:
    diameter = 1.25 * joint
    nodes = backer_nodes(joint, top, diameter, RecessProfile(draft, fillet))
    assert area(Outline(tuple(Vertex(*node) for node in nodes))) == pytest.approx(math.pi * diameter**2 / 4, rel=1e-12)


def test_backer_in_a_wider_joint_is_a_circle_and_without_room_none() -> None:
    assert backer_nodes(12, 20, 8, RecessProfile()) == ((4.0, 16.0, 1.0), (12, 16.0, 1.0))
    assert backer_nodes(6, 0.5, 7.5, RecessProfile()) == ()
    assert backer_nodes(6, 0, 7.5, RecessProfile()) == ()


@pytest.mark.parametrize(
    ("top", "foot", "depth"),
    [
        # Joint 6, rod 7,5: 44,179 mm². Under a foot of bulge f lies a segment of radius 6 (1 + f²) / 4 f and sweep 4 arctan f: 6,290 mm²
        # for 0,5 and 2,419 mm² for 0,2. What is left, over 6, is the depth of the rectangle; the foot reaches 6 f / 2 lower.
        (7.9, 0.5, (44.179 - 6.290) / 6),  # from 1,585 the foot of 1,5 stays above the landing
        (
            7.7,
            0.2,
            (44.179 - 2.419) / 6,
        ),  # from 1,385 it would not, nor a half circle of 3 from 2,694; one of 0,6 from 0,740 does
        (7.0, 0.2, 6.4),  # from 0,040 not even that: its foam is pressed together, the foot of 0,6 on the landing
    ],
)
def test_a_pressed_backer_stays_above_the_landing(top: float, foot: float, depth: float) -> None:
    level = pytest.approx(top - depth, abs=2e-4)
    assert backer_nodes(6, top, 7.5, RecessProfile()) == (
        (0, level, foot),
        (6, level, 0),
        (6, top, 0),
        (0, top, 0),
    )


@pytest.mark.parametrize(("top", "profile"), [(6.0, RecessProfile()), (7.0, RecessProfile()), (6.5, RecessProfile(2, 3))])
def test_a_backer_that_fits_by_its_rule_is_squeezed_into_the_room_there_is(top: float, profile: RecessProfile) -> None:
    """Joint 6, rod 7,5: 0,8 of it, 6, is room enough, and it stands on the landing or clear of the fillet, less than its own area."""
    nodes = backer_nodes(6, top, 7.5, profile)
    taken = Outline(tuple(Vertex(*node) for node in nodes))
    assert 0.6 * math.pi * 7.5**2 / 4 < area(taken) < math.pi * 7.5**2 / 4
    assert bounding_box(taken).top == pytest.approx(top)
    assert bounding_box(taken).bottom == pytest.approx(profile.floor_at(6), abs=1e-6)
    frame = ((-40.0, -7.0, 0.0), (60.0, -7.0, 0.0), (60.0, 0.0, 0.0), *profile.up(0.0, top), (-40.0, top, 0.0))
    backer, cut = (to_polygon(outline(CutFace("backer", run)), sagitta=1e-5) for run in (nodes, frame))
    assert backer.intersection(cut).area < 1e-3


@pytest.mark.parametrize(("depth", "fits"), [(9, False), (6, True)])
def test_a_backer_is_drawn_where_it_fits_by_its_rule_and_nothing_where_it_does_not(depth: float, fits: bool) -> None:
    """Joint 8, rod 10: its 8 under a backfill of 9 wants 17 of a joint that is 4 + 12 deep, under one of 6 only 14."""
    detail = detail_of(plies="[12]", joint=f"width = 8, backfill_depth = {depth}", bond="thickness = 4", recess="")
    assert detail.sizes.backer_fits == fits
    for section in detail.sections:
        drawn = [face for face in section.faces if face.material == "backer"]
        assert bool(drawn) == (fits and section.chock is None), section.letter


@pytest.mark.parametrize(("draft", "fillet", "joint", "top"), [(0, 12, 8, 20), (8, 6, 8, 12), (15, 10, 10, 14), (20, 12, 10, 14)])
def test_the_roundest_backer_leaves_the_wall_along_the_wall(draft: float, fillet: float, joint: float, top: float) -> None:
    """Over a fillet that leaves no room for a flatter foot: its circle touches the drafted wall and does not go through it."""
    profile = RecessProfile(draft, fillet)
    nodes = backer_nodes(joint, top, 1.25 * joint, profile)
    (left, level, bulge), (right, _, _) = nodes[:2]
    assert bulge > 0.5
    radius = (right - left) * (1 + bulge**2) / (4 * bulge)
    sink = radius - (right - left) * bulge / 2  # of the centre, under the chord
    turn = math.radians(draft)
    assert (left + right) / 2 * math.cos(turn) + (level + sink) * math.sin(turn) == pytest.approx(radius)
    frame = ((-40.0, -7.0, 0.0), (60.0, -7.0, 0.0), (60.0, 0.0, 0.0), *profile.up(0.0, top), (-40.0, top, 0.0))
    backer, cut = (to_polygon(outline(CutFace("backer", run)), sagitta=1e-5) for run in (nodes, frame))
    assert backer.intersection(cut).area < 1e-3


@settings(max_examples=200, deadline=None, derandomize=True)
@given(st.floats(0, 30), st.floats(0.1, 30))
def test_fillet_is_tangent_to_landing_and_wall(draft: float, fillet: float) -> None:
    profile = RecessProfile(draft, fillet)
    length, turn = profile.tangent_length, math.radians(draft)
    upper = (profile.wall_at(profile.wall_end), profile.wall_end)
    # Distances of the centre from landing and wall are the radius; both ends lie on it and on their lines.
    assert length * math.cos(turn) + fillet * math.sin(turn) == pytest.approx(fillet)
    assert math.dist(upper, (length, fillet)) == pytest.approx(fillet)
    assert upper[0] * math.cos(turn) + upper[1] * math.sin(turn) == pytest.approx(0, abs=1e-9)
    assert math.hypot(*upper) == pytest.approx(length)


@settings(max_examples=200, deadline=None, derandomize=True)
@given(st.floats(0, 30), st.floats(0.5, 20), st.floats(0.02, 1.5), st.floats(0.02, 1.5))
def test_runs_lie_on_the_arc_and_go_both_ways(draft: float, fillet: float, one: float, other: float) -> None:
    profile = RecessProfile(draft, fillet)
    low, high = sorted((one * profile.wall_end, other * profile.wall_end))
    if high - low < 1e-6:
        high = low + 1e-3
    down, up = profile.down(high, low), profile.up(low, high)
    assert [node[:2] for node in up] == [node[:2] for node in down[::-1]]
    for x, z, _ in down:
        on_wall = z >= profile.wall_end and x == pytest.approx(-z * profile.slope, abs=1e-9)
        assert on_wall or math.dist((x, z), (profile.tangent_length, fillet)) == pytest.approx(fillet, abs=1e-7)
    shape = CutFace("frame", (*down, (down[-1][0] - 50, low, 0.0), (down[0][0] - 50, high, 0.0)))
    assert all(radius == pytest.approx(fillet, rel=1e-6) for radius, _ in arcs(shape))
    x = max(1e-3, profile.tangent_length * min(one, 0.999))
    assert profile.wall_at(profile.floor_at(x)) == pytest.approx(x, abs=1e-6)


@pytest.mark.parametrize(
    "recess", ["draft = 0", "draft = 2, fillet = 3", "draft = 3, fillet = 10", "fillet = 14", "draft = 12", "fillet = 6"]
)
@pytest.mark.parametrize("depth", [15, 14.5, 16])
def test_faces_touch_and_do_not_overlap(recess: str, depth: float) -> None:
    for section in detail_of(recess=f"depth = {depth}, landing = 40, {recess}").sections:
        assert_apart(section)
        for cut in section.faces:
            assert area(outline(cut)) > 0  # counter-clockwise


@pytest.mark.parametrize(
    ("plies", "interlayers", "bond", "depth", "joint"),
    [
        ("[3]", "[]", "width = 10, thickness = 3, set_back = 6", 6, "width = 5, backfill_depth = 2"),
        ("[12, 12, 12]", "[1.52, 2.28]", "width = 20, thickness = 8, set_back = 9", 48, "width = 12, backfill_depth = 12"),
    ],
)
@pytest.mark.parametrize("shape", ["draft = 0", "draft = 2, fillet = 3"])
def test_thin_and_thick_glass(plies: str, interlayers: str, bond: str, depth: float, joint: str, shape: str) -> None:
    detail = detail_of(
        plies=plies, interlayers=interlayers, bond=bond, joint=joint, recess=f"depth = {depth}, landing = 50, {shape}"
    )
    for section in detail.sections:
        assert_apart(section)
        assert section.levels.glass_face == pytest.approx(detail.sizes.bond_thickness.value + detail.glass.thickness)


@pytest.mark.parametrize("code", [pane.code for pane in JOB.panes])
def test_sample_faces_do_not_overlap(code: str) -> None:
    detail = build_detail(JOB, next(pane for pane in JOB.panes if pane.code == code))
    for section in detail.sections:
        if section.joint_width > 0:
            assert_apart(section)


def test_bead_on_a_fillet_stands_on_its_arc() -> None:
    # A fillet of 16 mm reaches 2 mm under a bead that begins 14 mm from the foot: circle of radius 16 about (16, 16).
    detail = detail_of(
        recess="depth = 22, landing = 40, fillet = 16", plies="[12]", bond="width = 15, thickness = 10, set_back = 8"
    )
    under = 16**2 * math.asin(2 / 16) / 2 + 2 * math.sqrt(16**2 - 4) / 2  # area under the arc, from its centre line down
    for section in detail.sections:
        bead = face(section, "adhesive")
        assert arcs(bead) == [(pytest.approx(16), pytest.approx(math.degrees(math.asin(2 / 16))))]
        assert face_area(section, "adhesive") == pytest.approx(15 * 10 - (2 * 16 - under))
        assert_apart(section)


def test_chock_clears_the_fillet() -> None:
    section = detail_of(recess="depth = 15, landing = 40, fillet = 4").sections[0]
    assert face_area(section, "chock") == pytest.approx(6 * 9 - 16 * (1 - math.pi / 4))


def test_backfill_over_a_chock_begins_on_it_when_the_glass_stands_proud() -> None:
    section = detail_of(recess="depth = 14.5, landing = 40").sections[0]
    assert section.chock is not None
    assert section.levels.chock == section.chock.depth == section.levels.backfill == pytest.approx(9)
    assert face_area(section, "sealant") == pytest.approx(6 * (5.5 + 6) / 2)


def test_fillet_into_the_glass_is_refused_with_the_largest_that_fits() -> None:
    # The largest circle that touches landing and wall and leaves the corner (6, 5) free: radius 6 + 5 + √(2 · 6 · 5).
    most = 11 + math.sqrt(60)
    with pytest.raises(DetailError, match=rf"reaches into the glass.*allowed is a recess.fillet up to {most:.1f} mm"):
        detail_of(recess=f"depth = 20, landing = 40, fillet = {most + 0.1}")
    detail_of(recess=f"depth = 20, landing = 40, fillet = {most - 0.1}", joint="width = 6, backfill_depth = 4")


def test_a_fillet_that_just_reaches_the_glass_is_taken() -> None:
    """9, 12 and 15 are a right triangle: 6 from the wall a fillet of 15 stands 15 - 12 = 3 high, as high as the bond."""
    bond = "width = 15, thickness = 3, set_back = 8"
    assert detail_of(recess="depth = 20, landing = 40, fillet = 15", bond=bond).sections
    with pytest.raises(DetailError, match="reaches into the glass"):
        detail_of(recess="depth = 20, landing = 40, fillet = 15.01", bond=bond)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.floats(0, 30), st.floats(2, 20), st.floats(2, 15))
def test_greatest_fillet_reaches_the_place(draft: float, x: float, z: float) -> None:
    most = RecessProfile(draft, 1).greatest_fillet(x=x, z=z)
    profile = RecessProfile(draft, most)
    assert Spot(profile.tangent_length, most).distance(Spot(x, z)) == pytest.approx(most)
    assert profile.floor_at(x) == pytest.approx(z) or z >= profile.wall_end


def test_fillet_backfill_and_chock_without_room_are_refused() -> None:
    with pytest.raises(DetailError, match=r"up a wall of 15\.0 mm"):
        detail_of(recess="depth = 15, landing = 40, fillet = 15.5")
    with pytest.raises(DetailError, match=r"of a landing of 40\.0 mm"):
        detail_of(recess="depth = 15, landing = 40, fillet = 41")
    with pytest.raises(
        DetailError, match=r"backfill of 16 mm is deeper than the joint; allowed is a joint\.backfill_depth up to 15 mm"
    ):
        detail_of(joint="width = 6, backfill_depth = 16")
    assert issubclass(SectionError, ValueError)


def test_draft_widens_the_joint_towards_the_skin() -> None:
    for section in detail_of(recess="depth = 15, landing = 40, draft = 3").sections:
        sealant = face(section, "sealant")
        assert min(x for x, _, _ in sealant.nodes) == pytest.approx(-15 * math.tan(math.radians(3)))
        assert section.joint_width == pytest.approx(6)
