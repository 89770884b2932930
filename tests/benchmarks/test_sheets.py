"""One pane warm: its sheet in both files, and the way to it from the job."""

from __future__ import annotations

import io

import pytest


@pytest.fixture(scope="module")
def first(panes):
    """Job, pane, sheet of the first pane and the number of entities of its DXF."""
    import ezdxf

    from outputs.files.dxf import dxf_bytes
    from outputs.sheets.detail_sheet import detail_sheet

    job, pane, detail = panes[0]
    sheet = detail_sheet(job, pane, detail)
    entities = sum(1 for _ in ezdxf.read(io.StringIO(dxf_bytes(sheet).decode())).entitydb.values())
    return job, pane, sheet, entities


def ezdxf_alone(count):
    """Build and write as many lines with ezdxf and nothing else."""
    import ezdxf

    def work():
        doc = ezdxf.new("R2013")
        space = doc.modelspace()
        for index in range(count):
            space.add_line((index, 0), (index, 10))
        doc.write(io.StringIO())

    return work


def test_both_files_of_one_sheet(first, compare):
    from outputs.files.dxf import dxf_bytes
    from outputs.files.svg import svg_bytes

    _, _, sheet, count = first
    compare(
        "DXF and SVG of one sheet, warm",
        lambda: (dxf_bytes(sheet), svg_bytes(sheet)),
        f"ezdxf alone, {count} entities",
        ezdxf_alone(count),
        target=5,
    )


def test_one_pane_built_drawn_and_written(first, compare):
    from geometry.detail.build import build_detail
    from outputs.files.dxf import dxf_bytes
    from outputs.files.svg import svg_bytes
    from outputs.sheets.detail_sheet import detail_sheet

    job, pane, _, count = first

    def work():
        sheet = detail_sheet(job, pane, build_detail(job, pane))
        dxf_bytes(sheet), svg_bytes(sheet)

    compare("one pane built, drawn and written, warm", work, f"ezdxf alone, {count} entities", ezdxf_alone(count), target=5)


def test_one_pane_checked(first, compare):
    """The findings without the plate, next to building what they look at."""
    from geometry.detail.build import build_detail
    from geometry.findings.check import check_pane

    job, pane, _, _ = first
    detail = build_detail(job, pane)
    compare(
        "findings of one pane without the plate, warm",
        lambda: check_pane(job, pane, detail),
        "building its detail",
        lambda: build_detail(job, pane),
        target=0,
    )


def many_corners(count):
    """A pane of so many corners on an oval: its job."""
    import math

    from geometry.job.reading import job_of

    turns = [2 * math.pi * index / count for index in range(count)]
    places = ", ".join(f"[{1500 + 1500 * math.cos(turn):.3f}, {900 + 900 * math.sin(turn):.3f}]" for turn in turns)
    return job_of(
        f'[[pane]]\ncode = "X"\nframe = "aluminium"\nglass = {{ plies = [12] }}\n'
        f"outline = {{ polygon = [{places}] }}\npressure = {{ outward = 2 }}\n"
    )


def test_five_hundred_corners(compare):
    from geometry.detail.build import build_detail
    from outputs.files.svg import svg_bytes
    from outputs.sheets.detail_sheet import detail_sheet

    def drawn(job):
        return lambda: svg_bytes(detail_sheet(job, job.panes[0], build_detail(job, job.panes[0])))

    compare(
        "pane of 500 corners, built and drawn", drawn(many_corners(500)), "of 50", drawn(many_corners(50)), target=15, rounds=1
    )


def test_the_ten_panes(panes, row, benchmark):
    """Median of the ten: detail, findings without the plate, sheet and SVG, warm."""
    import statistics
    import time

    from geometry.detail.build import build_detail
    from geometry.findings.check import check_pane
    from outputs.files.svg import svg_bytes
    from outputs.sheets.detail_sheet import detail_sheet

    def seconds(job, pane):
        start = time.process_time()
        detail = build_detail(job, pane)
        svg_bytes(detail_sheet(job, pane, detail, check_pane(job, pane, detail, plate=False)))
        return time.process_time() - start

    def work():
        return statistics.median(min(seconds(job, pane) for _ in range(3)) for job, pane, _ in panes)

    median = benchmark.pedantic(work, rounds=1, iterations=1)
    alone = ezdxf_alone(2000)
    yardstick = min(_timed(alone) for _ in range(5))
    row("one pane with findings, sheet and SVG, warm, median of ten", median, "ezdxf alone, 2000 entities", yardstick, target=1.5)


def _timed(work):
    import time

    start = time.process_time()
    work()
    return time.process_time() - start
