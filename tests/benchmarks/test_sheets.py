"""One pane warm: its sheet in both files, and the way to it from the job."""

from __future__ import annotations

import io

import pytest


@pytest.fixture(scope="module")
def first(panes):
    """Job, pane, sheet of the first pane and the number of entities of its DXF."""
    import ezdxf

    from outputs.files.dxf import dxf_bytes
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_sheet import detail_of

    job, pane, detail = panes[0]
    sheet = detail_of(Contents(job, pane, detail))
    entities = sum(1 for _ in ezdxf.read(io.StringIO(dxf_bytes(sheet).decode())).entitydb.values())
    return job, pane, sheet, entities


def test_both_files_of_one_sheet(first, compare, ezdxf_alone):
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


def test_one_pane_built_drawn_and_written(first, compare, ezdxf_alone):
    from geometry.detail.build import build_detail
    from outputs.files.dxf import dxf_bytes
    from outputs.files.svg import svg_bytes
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_sheet import detail_of

    job, pane, _, count = first

    def work():
        sheet = detail_of(Contents(job, pane, build_detail(job, pane)))
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
