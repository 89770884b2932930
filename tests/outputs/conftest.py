"""One invented sheet with every kind of mark, for the writers to be tested on."""

from __future__ import annotations

import pytest

from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import (
    Attribute,
    Block,
    Dimension,
    Fill,
    Hatch,
    Insert,
    Mark,
    Node,
    Path,
    Sheet,
    Text,
    View,
)
from outputs.sheet.layers import LAYERS
from outputs.sheet.pencil import Pencil
from outputs.sheet.runs import box, circle, line, run

QUARTER = 2**0.5 - 1.0  # bulge of a quarter circle, tan(90° / 4)


def rounded(left: float, bottom: float, right: float, top: float, radius: float) -> tuple[Node, ...]:
    """A rectangle with round corners, counter-clockwise."""
    r = radius
    return (
        (left + r, bottom, 0.0),
        (right - r, bottom, QUARTER),
        (right, bottom + r, 0.0),
        (right, top - r, QUARTER),
        (right - r, top, 0.0),
        (left + r, top, QUARTER),
        (left, top - r, 0.0),
        (left, bottom + r, QUARTER),
    )


def _plan() -> View:
    pencil = Pencil(DraftingStyle(), 0.2)
    recess, glass = rounded(-6, -6, 1206, 606, 66), rounded(0, 0, 1200, 600, 60)
    spacer = Attribute("MARK", "S1", pencil.text("TEXT", (300, 55), "S1", align="middle"))
    diameter = Dimension(
        "DIMENSIONS",
        "diameter",
        (560.0, 300.0),
        (640.0, 300.0),
        (640.0, 300.0),
        0.0,
        80.0,
        "Ø80",
        (600.0, 300.0 + (0.8 + 1.25) * 5),
        (
            line("DIMENSIONS", (560.0, 300.0), (640.0, 300.0)),
            pencil.arrow("DIMENSIONS", (560.0, 300.0), 180.0),
            pencil.arrow("DIMENSIONS", (640.0, 300.0), 0.0),
            Text("DIMENSIONS", 600.0, 304.0, "Ø80", 2.5, "middle"),
        ),
    )
    marks: tuple[Mark, ...] = (
        Path("RECESS", recess, True),
        Path("GLASS", glass, True),
        Path("FRIT_INNER", rounded(40, 40, 1160, 560, 25), True),
        Path("BEAD_CENTRE", rounded(15.5, 15.5, 1184.5, 584.5, 44.5), True),
        circle("SEEN_OUTLINE", (600.0, 300.0), 40.0),
        Hatch("BACKFILL", "sealant", (recess, glass)),
        Hatch("MATERIAL_GLASS", "glass", (rounded(700, 200, 900, 400, 50), rounded(750, 250, 850, 350, 20))),
        Path("CUT_OUTLINE", ((100.0, 300.0, 0.3), (200.0, 340.0, -0.7), (300.0, 280.0, 0.0))),
        line("CENTRE_LINES", (100.0, 250.0), (400.0, 250.0)),
        pencil.linear((0.0, 0.0), (1200.0, 0.0), line_at=-60.0, tolerance=2.0),
        pencil.linear((0.0, 0.0), (0.0, 600.0), line_at=-60.0, angle=90.0),
        pencil.linear((300.0, 0.0), (303.25, 0.0), line_at=-30.0),
        pencil.linear((100.0, 450.0), (200.0, 520.0), line_at=400.0, angle=35.0),
        pencil.radius((1140.0, 540.0), 60.0, angle=45.0, reach=80.0),
        diameter,
        Insert(
            "SPACERS",
            "SPACER_20x8",
            300.0,
            30.0,
            30.0,
            (spacer, Attribute("KIND", "spacer block"), Attribute("SIZE", "20 × 8 × 5")),
        ),
        Insert("SPACERS", "SPACER_20x8", 900.0, 30.0, 0.0, (Attribute("MARK", "S2"),)),
        pencil.text("TEXT", (450.0, 450.0), "Saloon light, seen from outside", height=3.5),
        pencil.text("TEXT", (450.0, 120.0), "turned 30°", rotation=30.0, align="right"),
    )
    return View("plan", 0.2, (-120.0, -120.0, 1380.0, 680.0), (25.0, 245.0), marks)


def _section() -> View:
    pencil = Pencil(DraftingStyle(), 5.0)
    x, y = 3000.0, 0.0
    bead = ((x, y, 0.0), (x + 15.0, y, 0.2), (x + 15.0, y + 5.0, 0.0), (x, y + 5.0, 0.2))
    glass = ((x - 8.0, y + 5.0, 0.0), (x + 30.0, y + 5.0, 0.0), (x + 30.0, y + 15.0, 0.0), (x - 8.0, y + 15.0, 0.0))
    marks: tuple[Mark, ...] = (
        Hatch("MATERIAL_ADHESIVE", "adhesive", (bead,)),
        Path("CUT_OUTLINE", bead, True),
        Hatch("MATERIAL_GLASS", "glass", (glass,)),
        Hatch("MATERIAL_FRAME", "frame", (tuple((px, py - 10.0, b) for px, py, b in glass),)),
        Hatch(
            "MATERIAL_SPACER",
            "spacer",
            (((x - 11, y, 0.0), (x - 10.7, y, 0.0), (x - 10.7, y + 0.3, 0.0), (x - 11, y + 0.3, 0.0)),),
        ),
        Hatch("MATERIAL_FRIT", "frit", (((x, y + 16, 0.0), (x + 9, y + 16, 0.0), (x + 9, y + 16.2, 0.0), (x, y + 16.2, 0.0)),)),
        Fill("MATERIAL_BACKER", ((x - 15, y, 0.0), (x - 13, y, 0.0), (x - 12.5, y + 1, 0.0), (x - 15, y + 1, 0.0))),
        Fill("MATERIAL_BACKER", ((x - 15, y + 3, 1.0), (x - 13, y + 3, 1.0))),
        pencil.linear((x, y), (x + 15.0, y), line_at=y - 12.0, tolerance=0.5),
        pencil.linear((x + 30.0, y + 5.0), (x + 30.0, y + 15.0), line_at=x + 33.0, angle=90.0),
        pencil.linear((x - 8.0, y + 15.0), (x + 4.345, y + 15.0), line_at=y + 18.0),  # half-way between two roundings
        pencil.text("TEXT", (x, y + 22.0), "A-A (5:1)", height=5.0, align="middle"),
    )
    return View("section A", 5.0, (x - 18.0, y - 16.0, x + 37.0, y + 27.0), (30.0, 27.0), marks)


def rich_sheet() -> Sheet:
    """Two views, 1:5 and 5:1, with every kind of mark, and a paper with frame, scale bar and notes."""
    spacer = Block(
        "SPACER_20x8",
        (
            box("0", -10.0, -4.0, 10.0, 4.0),
            line("0", (-10.0, -4.0), (10.0, 4.0)),
            Path("0", ((-10.0, 4.0, 0.5), (10.0, 4.0, 0.0))),
        ),
        (("MARK", "Mark"), ("KIND", "Kind"), ("SIZE", "Size, mm")),
    )
    marks: tuple[Mark, ...] = (
        box("SHEET", 20.0, 10.0, 584.0, 410.0),
        Fill("SHEET", ((40.0, 20.0, 0.0), (140.0, 20.0, 0.0), (140.0, 22.0, 0.0), (40.0, 22.0, 0.0))),  # bar of 100 mm
        run("TABLES", ((400.0, 20.0), (580.0, 20.0), (580.0, 80.0))),
        Text("TITLE", 405.0, 70.0, "HIJ", 7.0),
        Text("TABLES", 575.0, 30.0, "an invented vessel", 2.5, "right"),
        Text("TABLES", 405.0, 40.0, '100 %% of 5 ^ <&> "it\'s"', 2.5),
    )
    views = (_plan(), _section())
    return Sheet("A2", 594.0, 420.0, "SW-01 rev A", "An invented pane, to test writers with.", LAYERS, (spacer,), views, marks)


@pytest.fixture(scope="session")
def sheet() -> Sheet:
    """The invented sheet."""
    return rich_sheet()


@pytest.fixture(scope="session")
def dxf_file(sheet: Sheet) -> bytes:
    """The invented sheet as DXF."""
    from outputs.files.dxf import dxf_bytes

    return dxf_bytes(sheet)


@pytest.fixture(scope="session")
def svg_file(sheet: Sheet) -> str:
    """The invented sheet as SVG."""
    from outputs.files.svg import svg_bytes

    return svg_bytes(sheet).decode("utf-8")
