"""A pane that came back as it was made: the supplier's documents show the order, all others show the pane where it lies."""

from __future__ import annotations

import re
from functools import cache
from io import StringIO
from pathlib import Path

import ezdxf
import pytest
from ezdxf.bbox import extents

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of, read_job
from outputs.documents import document_files
from outputs.sheets.contents import Contents
from outputs.sheets.label import label_sheets

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
WORKED_OUT = """
[[pane]]
code = "X"
frame = "grp"
glass = { plies = [10] }
outline = { rectangle = [900, 450], radius = 20 }
"""


@cache
def contents() -> Contents:
    job = read_job(SAMPLES / "as-made.toml")
    pane = job.panes[0]
    detail = build_detail(job, pane)
    return Contents(job, pane, detail, check_pane(job, pane, detail, plate=False))


@cache
def files() -> dict[str, bytes]:
    """By the end of their name."""
    found = document_files(contents(), ("detail", "pane", "glass", "print"), ("dxf", "svg"))
    return {name.removeprefix(contents().pane.file_stem): data for name, data in found.items()}


def told_in(name: str) -> list[str]:
    return re.findall(r"<text[^>]*>([^<]*)<", files()[name].decode("utf-8"))


def drawn(name: str, layers: str = ""):
    drawing = ezdxf.read(StringIO(files()[name].decode("utf-8")))
    return [each for each in drawing.modelspace() if not layers or each.dxf.layer == layers]


def test_the_file_to_cut_from_is_the_order_in_its_own_corner():
    """1000 × 700 as the job orders it, its lower left at the origin; 1002 × 701.5 were made, turned and shifted."""
    box = extents(drawn("-glass.dxf"))
    assert tuple(box.extmin)[:2] == pytest.approx((0, 0), abs=1e-6) and tuple(box.extmax)[:2] == pytest.approx(
        (1000, 700), abs=1e-6
    )


def test_the_pane_sheet_tells_the_order_and_its_tolerance():
    told = told_in("-pane.svg")
    assert {"1000 ±1", "700 ±1", contents().mark} <= set(told)  # one job, one mark
    assert not [each for each in told if "1002" in each or "701" in each or "as made, measured" in each]


def test_the_film_has_the_print_of_the_order():
    """The sample's print starts 1 mm from the glass edge, at right angles and in the corner of the order."""
    box = extents(drawn("-print.dxf", "PRINT_SOLID"))
    start = contents().pane.frit.start
    assert (*box.extmin.vec2, *box.extmax.vec2) == pytest.approx((start, start, 1000 - start, 700 - start), abs=1e-6)


def test_the_detail_sheet_shows_the_pane_where_it_lies():
    assert "Glass drawn as made" in " ".join(told_in("-detail.svg"))
    fit = contents().detail.placed
    for corner in contents().detail.corners:  # the way back undoes the way there
        there = corner.theoretical
        assert fit.place(fit.taken_back(there)) == pytest.approx(there, abs=1e-9)


def test_a_place_of_a_finding_goes_with_the_pane():
    ordered, fit = contents().as_ordered(), contents().detail.placed
    corner = contents().detail.corners[0].theoretical
    assert ordered.on_the_pane(corner) == pytest.approx((0, 0), abs=0.05)  # the corner of the order, which the making kept
    assert contents().on_the_pane(corner) == corner and fit is not None


def test_what_was_not_made_otherwise_is_drawn_as_it_was():
    job = job_of(WORKED_OUT)
    given = Contents(job, job.panes[0], build_detail(job, job.panes[0]))
    assert given.as_ordered() is given


def test_the_print_of_a_pane_that_came_back_is_that_of_the_order():
    """What the job leaves to be worked out may not come out otherwise because the pane is a little larger."""
    job = job_of(WORKED_OUT + "made = { width = 902, height = 451 }\n")
    pane = job.panes[0]
    given = Contents(job, pane, build_detail(job, pane))
    assert given.as_ordered().detail.sizes.frit_width.value == given.detail.sizes.frit_width.value


def test_labels_go_with_the_pane_that_is_lifted():
    from outputs.files.svg import svg_bytes

    mass = f"{contents().detail.glass.mass:.1f}".replace(".", ",")
    assert f"{mass} kg" in svg_bytes(label_sheets(contents())[0]).decode("utf-8")
