"""Sections as a checker reads them: every figure is the geometry, both chains agree, no text touches a text or a line, numbers end on parts."""

from __future__ import annotations

import itertools
import math
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest
import shapely
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from geometry.detail.build import DetailError, build_detail
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.outline import Outline, Vertex
from geometry.outline.regions import to_polygon
from outputs.drawing.balloons import item_of_chock
from outputs.drawing.section_rows import rows_from_glass, rows_from_wall
from outputs.drawing.section_view import section_marks
from outputs.sheet.boxes import box_of_text, overlap, texts_of
from outputs.sheet.drafting import DraftingStyle, number
from outputs.sheet.entities import Dimension, Fill, Mark, Path, Text
from outputs.sheet.keep_clear import crosses, facets
from outputs.sheet.pencil import Pencil
from outputs.sheets.pictures import rough_sections, section_pictures
from outputs.sheets.sheet_tables import part_rows

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section

ROOT = File(__file__).parents[2]
JOBS = [read_job(ROOT / "samples" / name) for name in ("sallow-wren.toml", "minimal.toml", "every-key.toml")]
SAMPLES = {pane.code: build_detail(job, pane) for job in JOBS for pane in job.panes}
SCALES = (1.0, 2.0)


def detail_of(
    plies: str = "[10]",
    interlayers: str = "[]",
    recess: str = "depth = 15, landing = 42",
    joint: str = "width = 6, backfill_depth = 6",
    bond: str = "width = 15, thickness = 5, set_back = 8",
    frit: str = "width = 44",
    more: str = "",
) -> Detail:
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "grp"\nglass = {{ plies = {plies}, interlayers = {interlayers} }}\n'
        f"outline = {{ rectangle = [1200, 600], radius = 60 }}\nrecess = {{ {recess} }}\njoint = {{ {joint} }}\nbond = {{ {bond} }}\n"
        f"frit = {{ {frit} }}\n{more}\n"
    )
    return build_detail(job, job.panes[0])


MOULDED = detail_of(recess="depth = 15, landing = 42, draft = 2, fillet = 3", frit="width = 44, fade = 4")
CASES: dict[str, Detail] = {
    **SAMPLES,
    "moulded": MOULDED,
    "proud": detail_of(recess="depth = 14.2, landing = 42, draft = 1.5, fillet = 5"),
    "sunk": detail_of(recess="depth = 16, landing = 42"),
    "steep": detail_of(recess="depth = 15, landing = 42, draft = 12"),
    "thin": detail_of(
        "[3]", recess="depth = 6.5, landing = 30", joint="width = 5, backfill_depth = 2",
        bond="width = 10, thickness = 3, set_back = 6", frit="width = 24",
    ),
    "thin, flush": detail_of(
        "[3]", recess="depth = 6, landing = 30, draft = 3, fillet = 2", joint="width = 4, backfill_depth = 1.5",
        bond="width = 10, thickness = 3, set_back = 6", frit="width = 24",
    ),
    "three plies": detail_of(
        "[12, 12, 12]", "[2, 2]", recess="depth = 47, landing = 60, draft = 3, fillet = 5", joint="width = 12, backfill_depth = 12",
        bond="width = 20, thickness = 8, set_back = 10", frit="width = 52",
    ),
}  # fmt: skip
ALL = [(code, section.letter, scale) for code, detail in CASES.items() for section in detail.sections for scale in SCALES]


def drawn(code: str, letter: str, scale: float) -> tuple[Detail, Section, tuple[Mark, ...]]:
    detail = CASES[code]
    section = next(section for section in detail.sections if section.letter == letter)
    return detail, section, section_marks(section, detail, Pencil(DraftingStyle(), scale))


def dimensions(marks: tuple[Mark, ...]) -> list[Dimension]:
    return [mark for mark in marks if isinstance(mark, Dimension)]


def lines_of(marks: tuple[Mark, ...]) -> list[tuple[float, float, float, float]]:
    """Every line that is drawn but the balloons' circles, which stand round their numbers."""
    found = []
    for mark in marks:
        if isinstance(mark, Dimension):
            found += lines_of(mark.parts)
        elif isinstance(mark, Path) and not (mark.layer == "ITEM_LEADERS" and mark.closed):
            found += facets(mark.nodes, closed=mark.closed)
        elif isinstance(mark, Fill):
            found += facets(mark.nodes, closed=True)
    return found


def assert_clear(marks: tuple[Mark, ...], scale: float) -> None:
    texts = [(text.string, box_of_text(text, scale)) for text in texts_of(marks)]
    assert [(a, b) for (a, one), (b, other) in itertools.combinations(texts, 2) if overlap(one, other)] == []
    lines = lines_of(marks)
    assert [(name, line) for name, box in texts for line in lines if crosses(box, line)] == []


@pytest.mark.parametrize(("code", "letter", "scale"), ALL)
def test_no_text_touches_a_text_or_a_line(code: str, letter: str, scale: float) -> None:
    assert_clear(drawn(code, letter, scale)[2], scale)


@pytest.mark.parametrize(("code", "letter", "scale"), ALL)
def test_figures_are_the_geometry(code: str, letter: str, scale: float) -> None:
    _, section, marks = drawn(code, letter, scale)
    nodes = [(x, z) for face in section.faces for x, z, _ in face.nodes]
    x = section.crossing
    known_x = {0.0, *(p[0] for p in nodes), x.frit_start, x.frit_inner, x.bead_centre, x.frit_fade or 0.0}
    known_z = {0.0, *(p[1] for p in nodes)}
    for mark in dimensions(marks):
        if mark.kind == "radius":
            assert mark.measured == pytest.approx(section.profile.fillet, abs=1e-3)
            assert mark.text == f"R{number(section.profile.fillet)}"
            continue
        axis, known = (1, known_z) if mark.angle == 90 else (0, known_x)
        # Both ends lie on corners of the cut faces or on curves of the plan, and the figure is what lies between them.
        for end in (mark.first, mark.second):
            assert min(abs(end[axis] - value) for value in known) < 1e-3
        assert mark.measured == pytest.approx(abs(mark.second[axis] - mark.first[axis]), abs=1e-3)
        assert mark.text.split(" ±")[0] == number(mark.measured)


@pytest.mark.parametrize("code", list(CASES))
def test_both_chains_name_the_same_places_and_sum_alike(code: str) -> None:
    detail = CASES[code]
    for section in detail.sections:
        joint = section.crossing.glass_edge
        if joint <= 0:
            continue
        from_wall = [row.spans[0].second for row in rows_from_wall(section, detail)]
        from_glass = [row.spans[0].second - joint for row in rows_from_glass(section, detail) if row.spans[0].first == joint]
        assert from_wall[0] == pytest.approx(joint)
        assert [joint + distance for distance in from_glass] == pytest.approx(from_wall[1:])
        # The chain of sizes end to end comes to the same total.
        x = section.crossing
        chained = joint + detail.sizes.set_back.value + detail.sizes.bond_width.value
        if section.letter == "C" and code == "moulded":
            assert chained + (x.landing - x.bead_inner) + (x.frit_inner - x.landing) == pytest.approx(from_wall[-1])


@pytest.mark.parametrize("code", list(CASES))
def test_heights_from_landing_and_from_outer_face_sum_alike(code: str) -> None:
    for letter in "ABCD":
        _, section, marks = drawn(code, letter, 2.0)
        pairs = {
            (round(min(m.first[1], m.second[1]), 6), round(max(m.first[1], m.second[1]), 6))
            for m in dimensions(marks)
            if m.kind == "linear" and m.angle == 90
        }
        levels = section.levels
        bond, top, skin = (round(value, 6) for value in (levels.bond_face, levels.glass_face, levels.skin))
        assert {(0.0, bond), (bond, top), (0.0, top), (0.0, skin)} <= pairs
        if top != skin:
            assert (min(top, skin), max(top, skin)) in pairs
        if section.crossing.glass_edge > 0:
            start = round(levels.backfill, 6)
            outer = top if levels.chock is not None else min(top, skin)
            assert {(0.0, start), (start, outer)} <= pairs
            if levels.chock is not None and start > bond:
                assert (bond, start) in pairs
                assert section.chock is not None
                assert start == pytest.approx(section.chock.depth)
        assert len(pairs) == len([m for m in dimensions(marks) if m.kind == "linear" and m.angle == 90]), "a height stands twice"


def leaders(marks: tuple[Mark, ...]) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return [
        (mark.nodes[0][:2], mark.nodes[1][:2])
        for mark in marks
        if isinstance(mark, Path) and mark.layer == "ITEM_LEADERS" and not mark.closed
    ]


def numbers(marks: tuple[Mark, ...]) -> list[str]:
    return [mark.string for mark in marks if isinstance(mark, Text) and mark.height == DraftingStyle().label]


@pytest.mark.parametrize(("code", "letter", "scale"), [case for case in ALL if case[1] in "AB"])
def test_numbers_end_on_their_parts_and_are_those_of_the_list(code: str, letter: str, scale: float) -> None:
    detail, section, marks = drawn(code, letter, scale)
    listed = {row[0]: row[2] for row in part_rows(detail)}
    shapes = [
        (face.material, to_polygon(Outline(tuple(Vertex(*node) for node in face.nodes)), sagitta=1e-4)) for face in section.faces
    ]
    of_part = {
        "frame with recess": "frame", "glass pane": "glass", "adhesive bead": "adhesive", "backfill sealant": "sealant",
        "backer": "backer", "spacer block": "spacer",
        "setting chock": "chock", "side block": "chock", "location block": "chock",
    }  # fmt: skip
    found = numbers(marks)
    ends = leaders(marks)
    assert len(found) == len(ends) == len(set(found))
    for item, (_, end) in zip(found, ends, strict=True):
        part = listed[item]
        if part == "UV frit band":
            assert end[1] == pytest.approx(section.levels.bond_face)
            assert section.crossing.frit_start < end[0] < section.crossing.frit_inner
            continue
        covering = [name for name, shape in shapes if shape.buffer(-0.01).contains(shapely.Point(end))]
        assert covering == [of_part[part]]
    if letter == "A":
        assert section.chock is not None
        assert found == [item_of_chock(detail, section.chock.kind)]
        assert listed[found[0]] == section.chock.kind
    else:
        assert set(found) >= {"1", "2", "3", "4", "7"}
    for (a, b), (c, d) in itertools.combinations(ends, 2):
        assert not shapely.LineString([a, b]).crosses(shapely.LineString([c, d]))


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("code", ["moulded", "proud", "three plies", "thin, flush"])
def test_draft_and_fillet_are_told(code: str, scale: float) -> None:
    detail = CASES[code]
    for section in detail.sections:
        marks = drawn(code, section.letter, scale)[2]
        radii = [mark for mark in dimensions(marks) if mark.kind == "radius"]
        assert [mark.text for mark in radii] == [f"R{number(section.profile.fillet)}"]
        # The arrow stands on the arc, between its two ends.
        (tip_x, tip_z), centre = radii[0].second, radii[0].first
        assert math.dist((tip_x, tip_z), centre) == pytest.approx(section.profile.fillet)
        assert 0 < tip_z < section.profile.wall_end
        told = [text.string for text in texts_of(marks) if text.string.startswith("draft")]
        if section.letter in "CD":
            assert told == [f"draft {number(section.profile.draft)}°"]
        skin = next(row for row in rows_from_glass(section, detail) if row.name == "joint at the skin")
        wide = section.joint_width + section.levels.skin * math.tan(math.radians(section.profile.draft))
        assert skin.spans[0].second - skin.spans[0].first == pytest.approx(wide)


def test_upright_wall_and_sharp_foot_are_not_dimensioned() -> None:
    for section in CASES["sunk"].sections:
        marks = drawn("sunk", section.letter, 2.0)[2]
        assert all(mark.kind == "linear" for mark in dimensions(marks))
        assert not [text for text in texts_of(marks) if text.string.startswith("draft")]
        assert not [row for row in rows_from_glass(section, CASES["sunk"]) if row.name == "joint at the skin"]


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("code", CASES)
def test_the_room_told_before_drawing_is_never_more_than_the_drawn_one(code: str, scale: float) -> None:
    """A scale is passed over only where its sections cannot find room: told and drawn height agree, told width is at most the drawn."""
    style, detail = DraftingStyle(), CASES[code]
    for rough, section in zip(rough_sections(detail, scale, style), section_pictures(detail, scale, style), strict=True):
        (least_wide, least_high), (wide, high) = rough.paper_size(style), section.paper_size(style)
        assert rough.title == section.title
        assert high - 0.1 <= least_high <= high + 1e-9
        assert 0.8 * wide <= least_wide <= wide + 1e-9


@settings(max_examples=40, deadline=None, derandomize=True, phases=[Phase.generate], suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from([3, 4, 6, 8, 10, 12, 15, 19]),
    st.integers(3, 10),
    st.integers(3, 15),
    st.sampled_from([0, 1, 2, 3, 7]),
    st.sampled_from([0, 2, 3, 6]),
    st.sampled_from([-2, -0.4, 0, 0.1, 1]),
    st.sampled_from([0, 3]),
)
def test_random_sections_are_clear(
    glass: int, bond: int, joint: int, draft: float, fillet: float, proud: float, fade: float
) -> None:
    try:
        detail = detail_of(
            f"[{glass}]",
            recess=f"depth = {glass + bond - proud}, landing = {joint + 34}, draft = {draft}, fillet = {fillet}",
            joint=f"width = {joint}, backfill_depth = {min(joint, glass - 1)}",
            bond=f"width = 15, thickness = {bond}, set_back = 8",
            frit=f"width = 36, fade = {fade}",
        )
    except DetailError as error:
        assert "fillet" in str(error)  # the only one of these that may not fit
        return
    for section in detail.sections:
        for scale in SCALES:
            assert_clear(section_marks(section, detail, Pencil(DraftingStyle(), scale)), scale)
