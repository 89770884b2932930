"""Outlines out of faces of STEP files: held against closed forms, against the geometry kernel as a second reader, and against damage."""

from __future__ import annotations

import math
import random
import re
import subprocess
import sys
from pathlib import Path

import pytest
from step_files import FRONT, PLAN, SAMPLE, SIDE, Seat, StepFile, deckhouse, leaning, rounded

from geometry.incoming import Incoming, IncomingError
from geometry.incoming.solid import SolidPick, read_solid, solid_of
from geometry.incoming.solid_text import decoded
from geometry.outline.loop import Arc, segments
from geometry.outline.measure import area, bounding_box, centroid, perimeter

TRAPEZOID = [(0.0, 0.0), (900.0, 0.0), (760.0, 420.0), (60.0, 420.0)]
HULL = leaning((22_000.0, -3_100.0, 4_700.0), -70.0, 12.0)
"""A plane askew to every axis of the ship."""


def read(made: StepFile | str | bytes, **pick) -> Incoming:
    data = made.text().encode("ascii") if isinstance(made, StepFile) else made.encode("ascii") if isinstance(made, str) else made
    return read_solid(solid_of(data, "frame.step"), SolidPick(**pick))


def refused(made, **pick) -> IncomingError:
    with pytest.raises(IncomingError) as caught:
        read(made, **pick)
    return caught.value


def one_face(path=None, seat=HULL, *, unit="mm", loop=None, name="GLASS", **more) -> StepFile:
    made = StepFile(unit)
    made.sheet("FRONT", [made.face(name, seat, [made.loop(path, seat) if loop is None else loop(made)], **more)])
    return made


def in_space_at(found: Incoming, x: float, y: float) -> tuple[float, ...]:
    """A place of the plan in the file's own axes."""
    assert found.in_space is not None
    origin, along, up = found.in_space
    return tuple(origin[n] + x * along[n] + y * up[n] for n in range(3))


def kernel_faces(data: bytes, folder: Path) -> list[tuple[float, tuple[float, float, float]]]:
    """Area and centre of every face as the geometry kernel reads them."""
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.STEPControl import STEPControl_Reader

    from geometry.solids import kernel

    path = folder / "again.step"
    path.write_bytes(data)
    reader = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_RetDone
    reader.TransferRoots()
    shape = reader.OneShape()
    assert kernel.valid(shape)
    return [tuple(kernel.surface(face)) for face in kernel.faces_of(shape)]  # type: ignore[misc]


@pytest.mark.parametrize("turned", [False, True], ids=["edges along the loop", "edges against it"])
@pytest.mark.parametrize(("unit", "scale"), [("mm", 1.0), ("in", 25.4), ("m", 1000.0), ("cm", 10.0)])
def test_a_rounded_rectangle_in_space_in_every_unit(unit: str, scale: float, turned: bool) -> None:
    seat = Seat(tuple(each / scale for each in HULL.origin), HULL.x, HULL.y)  # type: ignore[arg-type]
    path = [(x / scale, y / scale, *bulge) for x, y, *bulge in rounded(1200, 700, 80)]
    found = read(one_face(seat=seat, unit=unit, loop=lambda made: made.loop(path, seat, turned=turned)))
    box = bounding_box(found.outline)
    assert (box.width, box.height) == pytest.approx((1200, 700), abs=1e-8)
    assert area(found.outline) == pytest.approx(1200 * 700 - (4 - math.pi) * 80**2, rel=1e-12)
    assert perimeter(found.outline) == pytest.approx(2 * (1040 + 540) + 2 * math.pi * 80, rel=1e-12)
    arcs = [part for part in segments(found.outline) if isinstance(part, Arc)]
    assert len(arcs) == 4 and all(part.radius == pytest.approx(80, rel=1e-9) and part.bulge > 0 for part in arcs)
    assert (found.deviation, found.mended, found.from_vertical) == (0.0, (), pytest.approx(12.0))
    words = {"in": "inches"}.get(unit, unit)
    assert found.source == (
        f"frame.step, face GLASS of FRONT, the only flat one, in {words} by the file, seen from outside by the face's normal, "
        "its plane leans 12 deg from upright"
    )


@pytest.mark.parametrize("against", [False, True])
@pytest.mark.parametrize("turned", [False, True])
def test_the_side_that_is_outside_is_that_of_the_normal_or_the_other_one(turned: bool, against: bool) -> None:
    found = read(one_face(TRAPEZOID, turned=turned), seen_from="inside" if against else "outside")
    assert found.in_space is not None
    looks = -1.0 if turned != against else 1.0
    _, x, y = found.in_space
    assert x == pytest.approx([looks * each for each in HULL.x], abs=1e-12)  # Y goes upwards whichever side is looked at
    assert y == pytest.approx(HULL.y, abs=1e-12)
    corners = {tuple(round(each, 6) for each in in_space_at(found, v.x, v.y)) for v in found.outline.vertices}
    assert corners == {tuple(round(each, 6) for each in HULL.at(*place)) for place in TRAPEZOID}
    assert found.from_vertical == pytest.approx(12.0 * looks)
    assert ("against the face's normal" if against else "by the face's normal") in found.source


@pytest.mark.parametrize("sense", ["T", "F"])
def test_a_shell_that_is_taken_the_other_way_round_turns_its_faces(sense: str) -> None:
    """ISO 10303-42, oriented_open_shell: the orientation .F. reverses the topological normal of every face."""
    made = one_face(TRAPEZOID)
    place = next(index for index, line in enumerate(made.lines) if line.startswith("SHELL_BASED_SURFACE_MODEL"))
    shell = made.lines[place].partition("#")[2].rstrip(")")
    oriented = made.add(f"ORIENTED_OPEN_SHELL('',*,#{shell},.{sense}.)")
    made.lines[place] = f"SHELL_BASED_SURFACE_MODEL('',(#{oriented}))"
    found = read(made)
    assert found.in_space is not None
    assert found.in_space.x == pytest.approx([(1.0 if sense == "T" else -1.0) * each for each in HULL.x], abs=1e-12)
    corners = {tuple(round(each, 6) for each in in_space_at(found, v.x, v.y)) for v in found.outline.vertices}
    assert corners == {tuple(round(each, 6) for each in HULL.at(*place)) for place in TRAPEZOID}


def test_faces_of_a_hollow_look_into_it(tmp_path: Path) -> None:
    """A cube with a cube cut out of its middle, written by the geometry kernel: every face looks away from the material."""
    import cadquery

    path = tmp_path / "hollow.step"
    cadquery.exporters.export(cadquery.Workplane().box(100, 100, 100).cut(cadquery.Workplane().box(40, 40, 40)), str(path))
    flat = solid_of(path.read_bytes(), "hollow.step").faces("").flat
    assert len(flat) == 12
    out = [sum(a * b for a, b in zip(each.middle, each.normal, strict=True)) for each in flat]
    assert out == pytest.approx([50.0] * 6 + [-20.0] * 6, abs=1e-9)


@pytest.mark.parametrize("same", [True, False])
@pytest.mark.parametrize("sense", ["T", "F"])
def test_a_trimmed_curve_runs_as_it_says(sense: str, same: bool) -> None:
    """ISO 10303-42, trimmed_curve: with sense_agreement .F. it runs against its basis curve. Areas by the segment of a circle."""
    radius, up = 300.0, 100.0
    half = math.acos(up / radius)  # of the angle over the chord
    cap = radius**2 * (half - math.sin(2 * half) / 2)
    end = (radius * math.sin(half), up, 0.0)
    start = (-end[0], up, 0.0)
    made = StepFile()
    circle = made.add(f"CIRCLE('',#{made.axes((0.0, 0.0, 0.0))},{radius})")
    part = made.add(f"TRIMMED_CURVE('',#{circle},(PARAMETER_VALUE(0.)),(PARAMETER_VALUE(1.)),.{sense}.,.PARAMETER.)")
    edges = made.edge(start, end, part, same=same), made.edge(end, start, made.line(end, start))
    loop = made.add(f"EDGE_LOOP('',(#{edges[0]},#{edges[1]}))")
    made.sheet("SIDE", [made.face("LIGHT", PLAN, [loop])])
    known = math.pi * radius**2 - cap if (sense == "T") == same else cap
    assert area(read(made, units="mm").outline) == pytest.approx(known, rel=1e-9)


def test_seen_from_a_side_by_name_and_up_by_name() -> None:
    level = one_face(TRAPEZOID, PLAN)
    assert read(level).in_space[1:] == ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    # a model whose Y is upwards: the same face is an upright wall that looks along Z
    found = read(level, up="+y")
    assert (found.from_vertical, found.in_space[2]) == (pytest.approx(0.0), (0.0, 1.0, 0.0)) and found.source.endswith(", +y up")
    assert read(level, seen_from="-z").in_space[1:] == ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
    error = refused(level, seen_from="+x")
    assert (error.key, "stands edge-on to +x" in error.found) == ("seen_from", True)


@pytest.mark.parametrize("same", [True, False])
def test_a_circle_is_a_circle_wherever_it_lies(same: bool) -> None:
    found = read(one_face(seat=SIDE, loop=lambda made: made.ring((30.0, -40.0), 220.0, SIDE, same=same)))
    assert (found.shape, found.deviation) == ("circle", 0.0)
    assert area(found.outline) == pytest.approx(math.pi * 220**2, rel=1e-12)
    assert bounding_box(found.outline).middle == pytest.approx((30 - 9_000, 5_900 - 40), abs=1e-6)


def edge_between(made: StepFile, start, end, curve: str, *, same: bool = True) -> int:
    return made.edge(start, end, made.add(curve), same=same)


def round_and_straight(made: StepFile, curve: str, start, end, *, same: bool = True) -> int:
    """A loop of a curve from start to end and a line back."""
    edges = (edge_between(made, start, end, curve, same=same), made.edge(end, start, made.line(end, start)))
    return made.add(f"EDGE_LOOP('',({','.join(f'#{each}' for each in edges)}))")


def spline(made: StepFile, points, knots: str, weights: str = "") -> str:
    rows = ",".join(f"#{made.point((x, y, 0.0))}" for x, y in points)
    if weights:
        return (
            f"(BOUNDED_CURVE() B_SPLINE_CURVE(2,({rows}),.UNSPECIFIED.,.F.,.F.) B_SPLINE_CURVE_WITH_KNOTS({knots},.UNSPECIFIED.) "
            f"CURVE() GEOMETRIC_REPRESENTATION_ITEM() RATIONAL_B_SPLINE_CURVE({weights}) REPRESENTATION_ITEM(''))"
        )
    return f"B_SPLINE_CURVE_WITH_KNOTS('',3,({rows}),.UNSPECIFIED.,.F.,.F.,{knots},.UNSPECIFIED.)"


ROOF = ((0.0, 300.0), (150.0, 700.0), (500.0, 820.0), (900.0, 640.0), (1000.0, 300.0))


def ellipse_loop(made: StepFile) -> int:
    ellipse = f"ELLIPSE('',#{made.axes((0.0, 0.0, 0.0))},500.,250.)"
    return round_and_straight(made, ellipse, (500.0, 0.0, 0.0), (-500.0, 0.0, 0.0))


def whole_ellipse(made: StepFile) -> int:
    at = (0.0, 250.0, 0.0)
    edge = edge_between(made, at, at, f"ELLIPSE('',#{made.axes((0.0, 0.0, 0.0))},500.,250.)")
    return made.add(f"EDGE_LOOP('',(#{edge}))")


def spline_loop(made: StepFile) -> int:
    return round_and_straight(
        made, spline(made, ROOF, "(4,1,4),(0.,0.5,1.)"), (1000.0, 300.0, 0.0), (0.0, 300.0, 0.0), same=False
    )


def rational_loop(made: StepFile) -> int:
    quarter = spline(made, ((600.0, 0.0), (600.0, 600.0), (0.0, 600.0)), "(3,3),(0.,1.)", "(1.,0.707106781186548,1.)")
    return round_and_straight(made, quarter, (600.0, 0.0, 0.0), (0.0, 600.0, 0.0))


@pytest.mark.parametrize(
    ("loop", "known"),
    [(ellipse_loop, math.pi * 500 * 250 / 2), (whole_ellipse, math.pi * 500 * 250), (spline_loop, None),
     (rational_loop, math.pi * 600**2 / 4 - 600**2 / 2)],
)  # fmt: skip
def test_ellipses_and_splines_are_followed_as_near_as_is_told(loop, known: float | None, tmp_path: Path) -> None:
    made = one_face(seat=PLAN, loop=loop)
    found = read(made, within=0.02)
    ((by_kernel, centre),) = kernel_faces(made.text().encode(), tmp_path)
    near = found.deviation * perimeter(found.outline) + 1e-9 * by_kernel  # the kernel integrates by figures
    assert abs(area(found.outline) - by_kernel) <= near
    assert known is None or by_kernel == pytest.approx(known, rel=1e-6)
    assert 0 < found.deviation <= 0.02 or (loop is rational_loop and found.deviation <= 0.02)
    assert (found.shape == "ellipse") == (loop is whole_ellipse)
    assert bounding_box(found.outline).left - 1 <= centre[0] <= bounding_box(found.outline).right + 1


def test_an_arc_of_next_to_no_length_is_no_full_circle() -> None:
    """Programs leave slivers: an arc of a ten-millionth of a millimetre between two lines that run on into each other."""
    made = StepFile()
    sliver = 1e-7
    places = [(0.0, 0.0, 0.0), (900.0, 0.0, 0.0), (900.0, sliver, 0.0), (900.0, 450.0, 0.0), (0.0, 450.0, 0.0)]
    axes = made.axes((850.0, 0.0, 0.0))
    curves = [made.line(*places[0:2]), made.add(f"CIRCLE('',#{axes},50.)"), *(made.line(*places[k : k + 2]) for k in (2, 3))]
    curves.append(made.line(places[4], places[0]))
    edges = [made.edge(a, b, c) for a, b, c in zip(places, (*places[1:], places[0]), curves, strict=True)]
    loop = made.add(f"EDGE_LOOP('',({','.join(f'#{each}' for each in edges)}))")
    made.sheet("SIDE", [made.face("GLASS", PLAN, [loop])])
    assert area(read(made).outline) == pytest.approx(900 * 450, rel=1e-9)


def test_an_edge_that_takes_a_part_of_its_spline(tmp_path: Path) -> None:
    # the edge ends on the curve a good way inside both of its ends: parameters 0.2 and 0.9 of a plain cubic
    def at(share: float) -> tuple[float, float, float]:
        p = ((0.0, 0.0), (200.0, 500.0), (700.0, 600.0), (1000.0, 100.0))
        b = [(1 - share) ** 3, 3 * share * (1 - share) ** 2, 3 * share**2 * (1 - share), share**3]
        return (
            math.fsum(w * x for w, (x, _) in zip(b, p, strict=True)),
            math.fsum(w * y for w, (_, y) in zip(b, p, strict=True)),
            0.0,
        )

    points = ((0.0, 0.0), (200.0, 500.0), (700.0, 600.0), (1000.0, 100.0))
    made = one_face(
        seat=PLAN, loop=lambda made: round_and_straight(made, spline(made, points, "(4,4),(0.,1.)"), at(0.2), at(0.9))
    )
    found = read(made, within=0.01)
    ((by_kernel, _),) = kernel_faces(made.text().encode(), tmp_path)
    assert abs(area(found.outline) - by_kernel) <= found.deviation * perimeter(found.outline) + 1e-4
    ends = {(round(x, 5), round(y, 5)) for x, y, _ in found.outline.vertices}
    assert {(round(at(share)[0], 5), round(at(share)[1], 5)) for share in (0.2, 0.9)} <= ends


def test_holes_are_named_and_the_outer_loop_is_found_without_being_told() -> None:
    made = StepFile()
    loops = [made.ring((300.0, 200.0), 30.0), made.loop(rounded(900, 450, 40)), made.loop(rounded(60, 60, 5)[::-1])]
    made.sheet("PLATE", [made.face("", PLAN, loops, outer=False)])
    found = read(made)
    assert area(found.outline) == pytest.approx(900 * 450 - (4 - math.pi) * 40**2)
    assert found.mended == ("2 holes in the face not read: 60 × 60 mm round X 300, Y 200, 60 × 60 mm round X 30, Y 30",)
    assert found.source.startswith("frame.step, face without a name of PLATE, the only flat one, ")


def test_several_faces_are_listed_and_never_guessed() -> None:
    error = refused(deckhouse())
    assert error.key == "face"
    assert error.found == (
        "frame.step shows 3 flat faces, and none is clearly the largest: "
        "(1) face LANDING of DECKHOUSE FRONT, 1220 × 720 mm, 0.8714 m2 with 1 hole, middle at (13804.2, 0, 6491.1), looks to (0.866, 0, 0.5); "
        "(2) face GLASS of DECKHOUSE FRONT, 1200 × 700 mm, 0.8345 m2, middle at (13825, 0, 6503.1), looks to (0.866, 0, 0.5); "
        "(3) face PORT LIGHT of DECKHOUSE SIDE, 440 × 440 mm, 0.1521 m2, middle at (9000, 2400, 5900), looks to (0, 1, 0)"
    )
    glass = read(deckhouse(), face="GLASS")
    assert read(deckhouse(), face=2).outline == glass.outline == read(deckhouse(), face="  glass ").outline
    assert read(deckhouse(), face="DECKHOUSE SIDE").shape == "circle"  # a part with one flat face
    for face, words in (
        (4, "found face = 4"),
        ("DECKHOUSE FRONT", "the part of this name has 2 flat faces: (1)"),
        ("GLAS", "no face and no part"),
    ):
        assert words in refused(deckhouse(), face=face).found
    assert refused(deckhouse(), face="GLAS").hint == "did you mean GLASS?"


def test_the_largest_is_taken_only_by_a_clear_margin() -> None:
    def plates(second: float) -> StepFile:
        made = StepFile()
        wide = [made.face("", PLAN, [made.loop([(0.0, 0.0), (w, 0.0), (w, 500.0), (0.0, 500.0)])]) for w in (1000.0, second)]
        made.sheet("PLATES", wide)
        return made

    assert bounding_box(read(plates(490.0)).outline).width == pytest.approx(1000)
    assert "clearly the largest flat one" in read(plates(490.0)).source
    assert "none is clearly the largest" in refused(plates(510.0)).found


def test_a_name_that_stands_twice_is_told_with_the_numbers() -> None:
    made = StepFile()
    faces = [made.face("GLASS", PLAN, [made.loop(rounded(w, 300, 20))]) for w in (400, 900)]
    made.sheet("SIDE", [*faces, made.face("OTHER", PLAN, [made.loop(rounded(600, 300, 20))])])
    found = refused(made, face="GLASS").found
    assert found.startswith("the name 'GLASS' stands at 2 flat faces of frame.step: (1) face GLASS of SIDE, 900 × 300 mm")
    assert "; (3) face GLASS of SIDE, 400 × 300 mm" in found and "(2)" not in found
    assert bounding_box(read(made, face=3).outline).width == pytest.approx(400)


def test_a_curved_face_says_on_what_it_lies() -> None:
    text = one_face(rounded(900, 450, 40)).text()
    curved = re.sub(r"PLANE\('',(#\d+)\)", r"CYLINDRICAL_SURFACE('',\1,2500.)", text)
    error = refused(curved, face="GLASS")
    assert error.found == "the face 'GLASS' of frame.step is not flat: it lies on a cylinder of radius 2500 mm"
    assert refused(curved).found == "frame.step shows 0 flat faces and 1 curved"


def test_a_feature_gives_its_face_a_name() -> None:
    made = StepFile()
    face, other = (made.face("", PLAN, [made.loop(rounded(wide, 450, 40))]) for wide in (900, 800))
    shape, definition = made.sheet("SIDE", [face, other])
    told = made.add(f"PRODUCT_DEFINITION_SHAPE('','',#{definition})")
    aspect = made.add(f"SHAPE_ASPECT('GLASS','',#{told},.T.)")
    made.add(f"GEOMETRIC_ITEM_SPECIFIC_USAGE('','',#{aspect},#{shape},#{other})")
    assert bounding_box(read(made, face="GLASS").outline).width == pytest.approx(800)


def test_ends_off_their_curves_are_told_and_far_ones_refused() -> None:
    path = [(0, 0), (1000, 0, 0.2), (1000, 500), (0, 500)]
    text = one_face(path, PLAN).text()
    radius = re.search(r"CIRCLE\('',#\d+,([\d.]+)\)", text)
    assert radius is not None and float(radius[1]) == pytest.approx(500 * (1 + 0.2**2) / (4 * 0.2))  # chord (1 + b²) / 4 b
    near, far = (text.replace(radius[1], f"{float(radius[1]) + by:.9f}") for by in (0.02, 0.2))
    assert read(near).mended == ("ends of its edges lie up to 0.02 mm off their curves",)
    assert "0.2 mm off its curve" in refused(far).found


@pytest.mark.parametrize(("by", "told"), [(0.02, "its edges lie up to 0.02 mm off its plane"), (3.0, "")])
def test_edges_off_the_plane_of_their_face_are_told_or_refused(by: float, told: str) -> None:
    made = StepFile()
    plane = made.add(f"PLANE('',#{made.axes((0.0, 0.0, by))})")
    bound = made.add(f"FACE_OUTER_BOUND('',#{made.loop(rounded(900, 450, 40))},.T.)")
    made.sheet("SIDE", [made.add(f"ADVANCED_FACE('GLASS',(#{bound}),#{plane},.T.)")])
    if told:
        assert read(made).mended == (told,)
    else:
        assert refused(made).found == "the edges of the face lie 3 mm off its plane"


def test_a_body_in_two_representations_of_one_shape_is_one() -> None:
    made = StepFile()
    shape, _ = made.sheet("SIDE", [made.face("GLASS", PLAN, [made.loop(rounded(900, 450, 40))])])
    model = made.lines.index(next(line for line in made.lines if line.startswith("SHELL_BASED"))) + 1
    twin = made.add(f"SHAPE_REPRESENTATION('',(#{model}),#{made.context()})")
    made.add(f"SHAPE_REPRESENTATION_RELATIONSHIP('','',#{twin},#{shape})")
    assert "the only flat one" in read(made).source


def test_no_kernel_is_loaded_to_read_a_face() -> None:
    script = (
        "import sys; from geometry.job import read_job; from pathlib import Path; "
        f"pane = read_job(Path({str(SAMPLE.parent / 'from-solid.toml')!r})).panes[0]; assert pane.outline.form == 'solid'; "
        "print(sorted({'OCP', 'cadquery', 'ezdxf', 'skfem'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=SAMPLE.parents[1])
    assert done.stdout.strip() == "[]"


def test_a_part_that_is_used_twice_has_its_face_in_both_places(tmp_path: Path) -> None:
    made = StepFile()
    shape, pane = made.sheet("PANE", [made.face("GLASS", PLAN, [made.loop(rounded(900, 450, 40))])])
    zero = made.axes((0.0, 0.0, 0.0))
    seats = (HULL, SIDE)
    places = [made.axes(seat.origin, seat.normal, seat.x) for seat in seats]
    whole = made.add(f"SHAPE_REPRESENTATION('',(#{zero},#{places[0]},#{places[1]}),#{made.context()})")
    ship = made.product("SHIP", whole)
    for name, place in zip(("P1", "S1"), places, strict=True):
        move = made.add(f"ITEM_DEFINED_TRANSFORMATION('','',#{zero},#{place})")
        made.use(name, (shape, pane), (whole, ship), move)
    assert "stands at 2 flat faces" in refused(made, face="GLASS").found
    centres = sorted(tuple(round(each, 6) for each in at) for _, at in kernel_faces(made.text().encode(), tmp_path))
    assert centres == sorted(tuple(round(each, 6) for each in seat.at(450, 225)) for seat in seats)
    for name, seat in zip(("P1", "S1"), seats, strict=True):
        found = read(made, face=name)
        middle = bounding_box(found.outline).middle
        assert in_space_at(found, *middle) == pytest.approx(seat.at(450, 225), abs=1e-8)
        assert f"face GLASS of {name}" in found.source


def test_two_uses_in_one_place_have_a_number_each() -> None:
    """A part that an assembly puts into one seat twice, once as a spare: each use is a candidate of the list."""
    made = StepFile()
    shape, pane = made.sheet("PANE", [made.face("GLASS", PLAN, [made.loop(rounded(900, 450, 40))])])
    zero, place = made.axes((0.0, 0.0, 0.0)), made.axes(HULL.origin, HULL.normal, HULL.x)
    whole = made.add(f"SHAPE_REPRESENTATION('',(#{zero},#{place}),#{made.context()})")
    ship = made.product("SHIP", whole)
    for name in ("P1", "SPARE"):
        move = made.add(f"ITEM_DEFINED_TRANSFORMATION('','',#{zero},#{place})")
        made.use(name, (shape, pane), (whole, ship), move)
    said = refused(made, face="GLASS").found
    for number in (1, 2):
        name = re.search(rf"\({number}\) face GLASS of (P1|SPARE),", said)[1]  # type: ignore[index]
        assert f"face GLASS of {name}," in read(made, face=number).source
    assert {read(made, face=number).source for number in (1, 2)} == {read(made, face=name).source for name in ("P1", "SPARE")}


def assembled(seat: Seat, transformation) -> StepFile:
    """One part in an assembly; ``transformation`` writes how it is placed, of the axes of the part and those of its seat."""
    made = StepFile()
    shape, pane = made.sheet("PANE", [made.face("GLASS", PLAN, [made.loop(rounded(900, 450, 40))])])
    own = int(re.search(r"\(#(\d+),", made.lines[shape - 1])[1])  # type: ignore[index]
    place = made.axes(seat.origin, seat.normal, seat.x)
    whole = made.add(f"SHAPE_REPRESENTATION('',(#{made.axes((0.0, 0.0, 0.0))},#{place}),#{made.context()})")
    ship = made.product("SHIP", whole)
    made.use("P1", (shape, pane), (whole, ship), transformation(made, own, place))
    return made


@pytest.mark.parametrize("swapped", [False, True])
def test_the_axes_of_a_place_belong_to_the_shape_that_holds_them(swapped: bool, tmp_path: Path) -> None:
    """Some programs write the two axes of a transformation in the other order; the geometry kernel puts the part in the same place."""
    made = assembled(
        HULL,
        lambda made, own, place: made.add(
            f"ITEM_DEFINED_TRANSFORMATION('','',#{place if swapped else own},#{own if swapped else place})"
        ),
    )
    found = read(made)
    ((_, centre),) = kernel_faces(made.text().encode(), tmp_path)
    assert in_space_at(found, *bounding_box(found.outline).middle) == pytest.approx(centre, abs=1e-8)
    assert centre == pytest.approx(HULL.at(450, 225), abs=1e-8)


def test_a_part_that_is_only_placed_to_another_scale_stands_nowhere() -> None:
    def doubled(made: StepFile, _own: int, _place: int) -> int:
        origin, x, y, z = made.point((0, 0, 0)), made.way((1, 0, 0)), made.way((0, 1, 0)), made.way((0, 0, 1))
        return made.add(
            f"(CARTESIAN_TRANSFORMATION_OPERATOR(#{x},#{y},#{origin},2.) CARTESIAN_TRANSFORMATION_OPERATOR_3D(#{z}) "
            "FUNCTIONALLY_DEFINED_TRANSFORMATION('',''))"
        )

    made = assembled(HULL, doubled)
    told = "1 place of parts that scale or mirror not read"
    assert refused(made).found == f"frame.step shows 0 flat faces; {told}"
    assert refused(made, face="glass").found == f"the face 'glass' of frame.step stands in no place that is read; {told}"
    assert refused(made, face="PANE").found == f"the part 'PANE' of frame.step has no flat face; {told}"


@pytest.mark.parametrize("unit", ["MM", "INCH", "M"])
def test_a_solid_that_the_kernel_wrote(unit: str, tmp_path: Path) -> None:
    """A plate with rounded corners, turned and moved in space: both large faces, by number, against the kernel's own figures."""
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
    from OCP.Interface import Interface_Static
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer
    from OCP.TopLoc import TopLoc_Location

    from geometry.outline.shapes import rectangle
    from geometry.solids import kernel

    turn, move = gp_Trsf(), gp_Trsf()
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(1, 2, 0.5)), 1.1)
    move.SetTranslation(gp_Vec(3000, -500, 800))
    plate = kernel.prism(rectangle(1100, 600, radius=70), 0, 12).Moved(TopLoc_Location(move * turn))
    writer = STEPControl_Writer()
    Interface_Static.SetCVal_s("write.step.unit", unit)
    try:
        writer.Transfer(plate, STEPControl_AsIs)
        writer.Write(str(tmp_path / "plate.step"))
    finally:
        Interface_Static.SetCVal_s("write.step.unit", "MM")
    data = (tmp_path / "plate.step").read_bytes()
    assert "6 flat faces and 4 curved" in refused(data).found
    by_kernel = sorted((kernel.surface(face) for face in kernel.faces_of(plate)), key=lambda each: -each.value)[:2]
    found = [read(data, face=number) for number in (1, 2)]
    for each in found:
        assert area(each.outline) == pytest.approx(by_kernel[0].value, rel=1e-9)
        assert {round(part.radius, 6) for part in segments(each.outline) if isinstance(part, Arc)} == {70.0}
    centres = {tuple(round(value, 5) for value in each.centre) for each in by_kernel}
    middles = set()
    for each in found:
        middles.add(tuple(round(value, 5) for value in in_space_at(each, *centroid(each.outline))))
    assert middles == centres
    assert found[0].from_vertical == pytest.approx(-found[1].from_vertical)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"0\nSECTION\n", "is no STEP file: it does not begin with ISO-10303-21"),
        (b"PK\x03\x04", "is a packed file: no STEP file"),
        (b"ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n", "holds no data"),
        (b"ISO-10303-21;\nDATA;\n#1=POINT('a);\n", "line 3: a text in quotes begins and does not end"),
        (b"ISO-10303-21;\nDATA;\n#1=A();\n#1=A();\nENDSEC;\nEND-ISO-10303-21;\n", "#1 stands twice"),
        (b"ISO-10303-21;\nDATA;\n#1=A();\nENDSEC;\nEND-ISO-10303-21;\n", "shows no solid and no sheet with faces"),
        (
            b"ISO-10303-21;\nDATA;\n#1=TESSELLATED_SOLID();\nENDSEC;\nEND-ISO-10303-21;\n",
            "shows no solid and no sheet with faces, only a mesh of triangles",
        ),
    ],
)
def test_what_is_no_step_file_or_has_no_face(data: bytes, words: str) -> None:
    error = refused(data)
    assert words in error.found and error.allowed


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("END-ISO-10303-21;", "", "END-ISO-10303-21 is missing at its end"),
        ("CIRCLE('',#", "HYPERBOLA('',#", "runs along a hyperbola"),
        (",80.)", ",81.)", "mm off its curve"),
        ("VECTOR('',", "VECTOR('',$,", ""),
        ("SI_UNIT(.MILLI.,.METRE.)", "SI_UNIT(.MILLY.,.METRE.)", "the unit of length"),
        ("GLOBAL_UNIT_ASSIGNED_CONTEXT", "GLOBAL_ASSIGNED_CONTEXT", "states no unit of length"),
        ("PLANE('',#", "PLANE('',#9", "is named, and is not in it"),
        ("EDGE_LOOP('',(#", "EDGE_LOOP('',(#1,#", "and ORIENTED_EDGE is needed"),
    ],
)
def test_what_is_damaged_says_where(old: str, new: str, words: str) -> None:
    text = one_face(rounded(1200, 700, 80)).text()
    assert old in text
    broken = text.replace(old, new) if old.startswith(("END", "CIRCLE", ",80", "SI", "GLOBAL")) else text.replace(old, new, 1)
    if not words:  # what a line's vector says beside its direction is not needed
        assert area(read(broken).outline) > 0
        return
    error = refused(broken)
    assert words in error.found, error.found
    assert error.allowed


def test_the_jobs_unit_holds_and_it_is_told_and_odd_sizes_are_asked_about() -> None:
    inches = one_face([(x / 25.4, y / 25.4, *bulge) for x, y, *bulge in rounded(1200, 700, 80)], PLAN)
    error = refused(inches)
    assert error.key == "units" and error.hint == "it would be a pane in cm (472.4 × 275.6 mm) or in (1200 × 700 mm)"
    found = read(inches, units="in")
    assert bounding_box(found.outline).width == pytest.approx(1200, abs=1e-8)
    assert found.mended == ("the file states mm, the job inches: the job's unit holds",)


def test_where_the_file_tells_no_unit_or_none_that_can_be_read_the_jobs_is_taken_and_said() -> None:
    whole = one_face(rounded(1200, 700, 80), PLAN).text()
    none = whole.replace("(LENGTH_UNIT() NAMED_UNIT(*)", "(NAMED_UNIT(*)")
    odd = whole.replace(".MILLI.,.METRE.", ".MILLI.,.AMPERE.")
    assert none != whole != odd
    assert "states no unit of length" in refused(none).found and "cannot be read" in refused(odd).found
    for text, told in (
        (none, "the file states no unit of length: the job's unit holds, cm"),
        (odd, "the file's unit of length cannot be read: the job's unit holds, cm"),
    ):
        found = read(text, units="cm")
        assert bounding_box(found.outline).width == pytest.approx(12_000, abs=1e-8)
        assert found.mended == (told,)
    assert read(whole, units="mm").mended == ()  # both say the same


def test_texts_comments_and_strings_of_the_format_are_read() -> None:
    text = one_face(rounded(900, 450, 40), name="L''\\X2\\00E9\\X0\\t\\X2\\00E9\\X0\\ /* no comment; */").text()
    text = text.replace("DATA;\n", "DATA;\n/* a comment; with 'a quote */\n").replace(
        "ADVANCED_FACE(", "ADVANCED_FACE /* here; */\n ( "
    )
    assert read(text, face="L'été /* no comment; */").outline == read(one_face(rounded(900, 450, 40))).outline
    assert decoded("\\S\\d \\X4\\0001F6A2\\X0\\ \\\\") == "ä \U0001f6a2 \\"


def test_a_broken_file_ends_in_one_sentence_whatever_is_broken() -> None:
    whole, chance = deckhouse(), random.Random(4711)
    lines = whole.splitlines(keepends=True)
    ends = {"read": 0, "refused": 0}
    for turn in range(400):
        kind = turn % 5
        if kind == 0:
            text = whole[: chance.randrange(len(whole))]
        elif kind == 1:
            place = chance.randrange(len(lines))
            text = "".join(lines[:place] + lines[place + 1 :])
        elif kind == 2:
            place = chance.randrange(len(whole))
            text = whole[:place] + chance.choice("#',();.$*0A-\x00") + whole[place + 1 :]
        elif kind == 3:
            place = chance.randrange(len(lines))
            line = re.sub(r"#\d+(?=[,)])", lambda _: f"#{chance.randrange(1, 240)}", lines[place])
            text = "".join([*lines[:place], line, *lines[place + 1 :]])
        else:
            text = re.sub(
                r"\d+\.",
                lambda part: part[0] if chance.random() > 0.01 else chance.choice(("1E308", "-0.", "1E-300", "7")),
                whole,
            )
        for face in ("GLASS", None, "DECKHOUSE FRONT"):
            try:
                read_solid(solid_of(text.encode("latin-1"), "frame.step"), SolidPick(face=face))
                ends["read"] += 1
            except IncomingError as error:
                assert str(error).isprintable() and len(str(error)) < 4000
                ends["refused"] += 1
    assert ends["read"] > 100 and ends["refused"] > 300


def test_the_sample_is_what_the_script_writes() -> None:
    assert SAMPLE.read_bytes() == deckhouse().encode("ascii") and b"Invented data" in SAMPLE.read_bytes()


def test_the_kernel_reads_the_sample_with_the_same_areas(tmp_path: Path) -> None:
    faces = kernel_faces(SAMPLE.read_bytes(), tmp_path)
    assert faces[0][0] == pytest.approx(area(read(SAMPLE.read_bytes(), face="GLASS").outline), rel=1e-9)
    assert faces[0][1] == pytest.approx(FRONT.at(600, 350), abs=1e-6)
    assert faces[2][0] == pytest.approx(math.pi * 220**2, rel=1e-9)
