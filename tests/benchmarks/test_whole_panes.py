"""Whole panes in a warm process, from the job to the sheet: detail, findings without the plate, sheet, SVG.

Every round draws a pane as one that was never seen: what the program keeps of an outline is forgotten before.
"""

from __future__ import annotations

import io
import math
import runpy
import statistics
from pathlib import Path

import pytest


def whole_pane(job, pane):
    """Detail, findings without the plate, sheet and SVG; the sheet."""
    from geometry.detail.build import build_detail
    from geometry.findings.check import check_pane
    from outputs.files.svg import svg_bytes
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_sheet import detail_of

    detail = build_detail(job, pane)
    sheet = detail_of(Contents(job, pane, detail, check_pane(job, pane, detail)))
    svg_bytes(sheet)
    return sheet


def with_dxf(job, pane):
    """The whole pane and its DXF: the files that ``draw`` writes."""
    from outputs.files.dxf import dxf_bytes

    dxf_bytes(whole_pane(job, pane))


def drawn_entities(sheet):
    """How many entities the DXF of a sheet holds that are drawn: those of model, paper and blocks."""
    import ezdxf

    from outputs.files.dxf import dxf_bytes

    return sum(len(block) for block in ezdxf.read(io.StringIO(dxf_bytes(sheet).decode())).blocks)


def drawn_alike(sheet):
    """Work that makes and writes with ezdxf alone the entities of the DXF of a sheet, kind by kind, and how many there are.

    Lines, polylines, letters, hatches and arrowheads as they stand there; each dimension as ezdxf draws one, with its own
    lines and letters in place of ours.
    """
    import ezdxf

    from outputs.files.dxf import dxf_bytes

    theirs = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode()))
    drawn = [
        [(each.dxftype(), given) for each in block for given in (as_given(each),)]
        for block in theirs.blocks
        if not block.name.startswith("*D")
    ]

    def work():
        document = ezdxf.new("R2013")
        space = document.modelspace()
        for number, block in enumerate(drawn):
            if number > 1:  # what stands in a block of its own does here, too
                space = document.blocks.new(f"B{number}")
            for kind, given in block:
                make(space, kind, given)
        document.write(io.StringIO())

    return work, sum(len(block) for block in drawn)


def as_given(entity):
    """What ezdxf needs to make such an entity again."""
    kind = entity.dxftype()
    if kind == "LINE":
        return entity.dxf.start, entity.dxf.end
    if kind == "LWPOLYLINE":
        return list(entity.get_points("xyb")), entity.closed
    if kind == "TEXT":
        return entity.dxf.text, entity.dxf.insert
    if kind == "HATCH":
        return [path.vertices if hasattr(path, "vertices") else [(0, 0), (1, 0), (1, 1)] for path in entity.paths]
    if kind == "DIMENSION" and entity.dimtype in (0, 1):
        return entity.dxf.defpoint2, entity.dxf.defpoint3, entity.dxf.defpoint, entity.dxf.get("angle", 0)
    if kind == "SOLID":
        return [entity.dxf.vtx0, entity.dxf.vtx1, entity.dxf.vtx2, entity.dxf.vtx3]
    return None


def make(space, kind, given):
    """One entity of a kind by ezdxf's own maker; a plain line where it needs a place that only a whole drawing has."""
    if given is None:
        space.add_line((0, 0), (1, 1))
    elif kind == "LINE":
        space.add_line(*given)
    elif kind == "LWPOLYLINE":
        space.add_lwpolyline(given[0], format="xyb", close=given[1])
    elif kind == "TEXT":
        space.add_text(given[0], height=3).set_placement(given[1])
    elif kind == "SOLID":
        space.add_solid(given)
    elif kind == "HATCH":
        hatch = space.add_hatch()
        hatch.set_pattern_fill("ANSI31")
        for path in given:
            hatch.paths.add_polyline_path(path)
    else:
        first, second, base, angle = given
        space.add_linear_dim(base=base, p1=first, p2=second, angle=angle).render()


def face_area(nodes):
    """Area of a closed run of lines and arcs, mm²: the polygon and the segment of circle on each bulge."""
    found = 0.0
    for (x, y, bulge), (x2, y2, _) in zip(nodes, (*nodes[1:], nodes[0]), strict=True):
        found += (x * y2 - x2 * y) / 2
        if bulge:
            radius = math.hypot(x2 - x, y2 - y) * (1 + bulge**2) / (4 * bulge)
            found += radius**2 * (4 * math.atan(bulge) - math.sin(4 * math.atan(bulge))) / 2
    return found


@pytest.fixture(scope="module", autouse=True)
def as_the_command_does():
    """The command leaves what it imported out of the search for dead circles."""
    import outputs.files.dxf
    import outputs.sheets.detail_sheet  # noqa: F401
    from outputs.commands.memory import spare_imports

    spare_imports()



ONE_SHEET_FOR_ALL = 2058
"""Entities in the median of the ten sheets of 0.1, which served all readers on A1: the yardstick of the target."""


@pytest.fixture(scope="module")
def first(unseen, sample):
    """The clean pane of the sample: its job and pane anew at every call."""
    return lambda: unseen(sample, 0)


@pytest.mark.parametrize("work, what", [(whole_pane, "SVG"), (with_dxf, "SVG and DXF")], ids=["svg", "svg and dxf"])
def test_a_pane_next_to_solids(compare_prepared, first, tmp_path, work, what):
    """The yardstick starts from the finished outlines and writes SVG and DXF of four cuts and a top view; ours letters them, too."""
    from geometry.detail.build import build_detail

    export = runpy.run_path(str(Path(__file__).with_name("scripted_solids.py")))["export"]
    detail = build_detail(*first())
    areas = export(detail, tmp_path)
    assert len(list(tmp_path.iterdir())) == 2 * (len(detail.sections) + 1)
    for section in detail.sections:  # both have drawn the same pane: the kernel's cuts are as large as the faces of the sections
        for material, cut in areas[section.letter].items():
            ours = sum(face_area(face.nodes) for face in section.faces if face.material == material)
            assert cut == pytest.approx(ours, abs=1e-6), (section.letter, material)
    compare_prepared(
        f"one pane with findings, sheet, {what}",
        first,
        work,
        "the same pane scripted with cadquery",
        lambda: (detail, tmp_path),
        export,
        target=0.5,
    )


def test_the_ten_panes_warm(panes, row, benchmark, seconds):
    """Panes that the process has drawn before, next to ezdxf making and writing the same entities, in turn."""
    alike = [drawn_alike(whole_pane(job, pane)) for job, pane, _ in panes]
    mine: list[list[float]] = [[] for _ in panes]
    other: list[list[float]] = [[] for _ in panes]

    def work():
        for number, (job, pane, _) in enumerate(panes):
            other[number].append(seconds(alike[number][0]))
            mine[number].append(seconds(lambda given=(job, pane): whole_pane(*given)))

    benchmark.pedantic(work, rounds=5, iterations=1)
    row(
        "the same, warm: a pane drawn before",
        statistics.median(min(each) for each in mine),
        f"ezdxf alone, the same entities kind by kind ({statistics.median(count for _, count in alike):.0f}, dimensions drawn by it)",
        statistics.median(min(each) for each in other),
        target=1.5,
    )


def test_the_ten_panes(unseen, sample, panes, row, benchmark, seconds, ezdxf_alone):
    """Median of the ten panes next to the median of writing with ezdxf as many entities as the DXF of each has."""
    jobs = [unseen(sample, number) for number in range(len(panes))]
    counts = [drawn_entities(whole_pane(*each)) for each in jobs]
    mine: list[list[float]] = [[] for _ in counts]
    other: list[list[float]] = [[] for _ in counts]

    def work():
        for number, count in enumerate(counts):
            alone = ezdxf_alone(count)
            other[number].append(seconds(alone))
            each = unseen(sample, number)
            mine[number].append(seconds(lambda given=each: whole_pane(*given)))

    benchmark.pedantic(work, rounds=3, iterations=1)
    against = f"ezdxf alone, as many entities ({statistics.median(counts):.0f})"
    least, yardstick = [min(each) for each in mine], [min(each) for each in other]
    row(
        "one pane with findings, sheet, SVG, median of ten",
        statistics.median(least),
        against,
        statistics.median(yardstick),
        target=1.5,
    )
    alone = ezdxf_alone(ONE_SHEET_FOR_ALL)
    whole = min(seconds(alone) for _ in range(5))
    row(
        "the same, next to the one sheet for all readers that stood before the four documents",
        statistics.median(least),
        f"ezdxf alone, its {ONE_SHEET_FOR_ALL} entities",
        whole,
        target=1.5,
    )
    row("the slowest of the ten", max(least), "the median of the ten", statistics.median(least))


def many_corners(count):
    """A job of one pane of so many corners on an oval."""
    from geometry.job.reading import job_of

    turns = [2 * math.pi * index / count for index in range(count)]
    places = ", ".join(f"[{1500 + 1500 * math.cos(turn):.3f}, {900 + 900 * math.sin(turn):.3f}]" for turn in turns)
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "aluminium"\nglass = {{ plies = [12] }}\n'
        f"outline = {{ polygon = [{places}] }}\npressure = {{ outward = 2 }}\n"
    )
    return job, job.panes[0]


def test_five_hundred_corners(compare_prepared, forget):
    def prepared(count):
        def anew():
            forget()
            return many_corners(count)

        return anew

    compare_prepared(
        "pane of 500 corners with findings, sheet, SVG",
        prepared(500),
        whole_pane,
        "of 50",
        prepared(50),
        whole_pane,
        target=15,
        rounds=2,
    )
