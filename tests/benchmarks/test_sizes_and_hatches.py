"""Sizes that were left out next to building the detail they go into, and a long hatch next to a short one."""

from __future__ import annotations

from geometry.detail.build import build_detail
from geometry.job import job_of
from geometry.sizing.sizer import Sizer
from outputs.sheet.entities import Hatch
from outputs.sheet.patterns import hatch_segments

# A pane with parallel slanted sides has no single largest circle inside it, which takes the longest to find.
OUTLINES = (
    "rectangle = [{}, 450], radius = 50",
    "polygon = [[0, 0], [2250, 0], [2450, {}], [200, {}]], radius = 40",
    "circle = {}",
    "ellipse = [{}, 500]",
)


def box(left, bottom, right, top):
    return ((left, bottom, 0.0), (right, bottom, 0.0), (right, top, 0.0), (left, top, 0.0))


def jobs(first):
    """Jobs of the four panes, other sizes in each: what was worked out once is kept, and a round must not find it."""
    while True:
        first += 1
        yield [
            job_of(
                f'[[pane]]\ncode = "X"\nframe = "aluminium"\nglass = {{ plies = [8] }}\noutline = {{ {outline.format(first, first)} }}\n'
                "pressure = { outward = 3 }\n"
            )
            for outline in OUTLINES
        ]


def test_sizes_of_a_pane(compare):
    mine, other = jobs(700), jobs(900)
    compare(
        "four panes read and sized, every size worked out",
        lambda: [Sizer(job, job.panes[0], job.panes[0].glass_outline).sizes() for job in next(mine)],
        "read and built, sizes included",
        lambda: [build_detail(job, job.panes[0]) for job in next(other)],
        target=0.5,
    )


def test_a_long_backfill_ring(compare):
    """Ten times the length of the ring at the same width has ten times the strokes."""
    long, short = (
        Hatch("X", "sealant", (box(0, 0, 20 * side, 12 * side), box(6, 6, 20 * side - 6, 12 * side - 6))) for side in (100, 10)
    )
    compare(
        "hatch of a ring 2000 × 1200",
        lambda: [hatch_segments(long, 0.2) for _ in range(10)],
        "of one 200 × 120, ten times as often",
        lambda: [hatch_segments(short, 0.2) for _ in range(100)],
        target=2,
    )
