"""A sheet that has every kind of mark: two views at 1:5 and 5:1 and a paper with a bar of 100 mm. Everything in it is invented.

It stands in a module of its own so that a fresh process can build it too.
"""

from __future__ import annotations

import math

from outputs.sheet.entities import Attribute, Block, Dimension, Fill, Hatch, Insert, Path, Sheet, Text, View
from outputs.sheet.layers import LAYERS
from outputs.sheet.patterns import PATTERNS

QUARTER = math.tan(math.radians(90.0) / 4.0)  # bulge of a quarter of a circle

WIDTH, HEIGHT = 594.0, 420.0
PLAN = (-100.0, -100.0, 1300.0, 800.0)
SECTION_ORIGIN = 2000.0

GLASS = (1200.0, 600.0, 60.0)  # length, height, corner radius
RECESS = (1212.0, 612.0, 66.0)


def rounded(width, height, radius, x=0.0, y=0.0):
    """A rectangle with round corners, counter-clockwise from the start of its lower side."""
    b = QUARTER
    return (
        (x + radius, y, 0.0),
        (x + width - radius, y, b),
        (x + width, y + radius, 0.0),
        (x + width, y + height - radius, b),
        (x + width - radius, y + height, 0.0),
        (x + radius, y + height, b),
        (x, y + height - radius, 0.0),
        (x, y + radius, b),
    )


def rounded_area(width, height, radius):
    """Exact area of a rectangle with round corners."""
    return width * height - (4.0 - math.pi) * radius * radius


def box(x0, y0, x1, y1):
    return ((x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0))


def circle(x, y, radius):
    return ((x - radius, y, 1.0), (x + radius, y, 1.0))


def line(layer, x0, y0, x1, y1):
    return Path(layer, ((x0, y0, 0.0), (x1, y1, 0.0)))


def arrow(layer, x, y, angle, scale):
    """An arrowhead 2.5 mm long on paper whose point is at x, y and looks along ``angle``."""
    turn, length = math.radians(angle), 2.5 / scale
    back_x, back_y = x - length * math.cos(turn), y - length * math.sin(turn)
    half = length * math.tan(math.radians(7.5))
    side_x, side_y = -half * math.sin(turn), half * math.cos(turn)
    return Fill(layer, ((x, y, 0.0), (back_x + side_x, back_y + side_y, 0.0), (back_x - side_x, back_y - side_y, 0.0)))


def linear(x0, x1, foot, level, text, scale, *, measured=None, layer="DIMENSIONS"):
    """A level dimension with extension lines, two arrows and its text above the line."""
    middle = (x0 + x1) / 2.0
    parts = (
        line(layer, x0, foot, x0, level - 2.0 / scale),
        line(layer, x1, foot, x1, level - 2.0 / scale),
        line(layer, x0, level, x1, level),
        arrow(layer, x0, level, 180.0, scale),
        arrow(layer, x1, level, 0.0, scale),
        Text(layer, middle, level + 0.8 / scale, text, 2.5, "middle"),
    )
    measured = x1 - x0 if measured is None else measured
    return Dimension(
        layer, "linear", (x0, foot), (x1, foot), (x0, level), 0.0, measured, text, (middle, level + 2.05 / scale), parts
    )


def upright(y0, y1, foot, level, text, scale):
    """A standing dimension, read from the right."""
    middle = (y0 + y1) / 2.0
    parts = (
        line("DIMENSIONS", foot, y0, level - 2.0 / scale, y0),
        line("DIMENSIONS", foot, y1, level - 2.0 / scale, y1),
        line("DIMENSIONS", level, y0, level, y1),
        arrow("DIMENSIONS", level, y0, 270.0, scale),
        arrow("DIMENSIONS", level, y1, 90.0, scale),
        Text("DIMENSIONS", level - 0.8 / scale, middle, text, 2.5, "middle", 90.0),
    )
    at = (level - 2.05 / scale, middle)
    return Dimension("DIMENSIONS", "linear", (foot, y0), (foot, y1), (level, y0), 90.0, y1 - y0, text, at, parts)


def plan():
    scale = 0.2
    glass, recess = rounded(*GLASS), rounded(*RECESS, -6.0, -6.0)
    tip = (60.0 - 60.0 * math.sqrt(0.5), 60.0 - 60.0 * math.sqrt(0.5))
    marks = [
        Path("RECESS", recess, True),
        Path("GLASS", glass, True),
        Path("FRIT_INNER", rounded(1120.0, 520.0, 20.0, 40.0, 40.0), True),
        Path("BEAD_CENTRE", rounded(1169.0, 569.0, 44.5, 15.5, 15.5), True),
        Path("SIGHT_LINE", circle(600.0, 300.0, 150.0), True),
        Path("BREAK_LINES", ((100.0, 100.0, 0.3), (200.0, 150.0, -0.3), (300.0, 100.0, 0.0), (400.0, 140.0, 0.0))),
        Hatch("BACKFILL", "sealant", (recess, glass)),
        linear(0.0, 1200.0, -11.0, -60.0, "1200", scale),
        linear(40.0, 50.125, 40.0, 80.0, "10,1", scale),
        upright(0.0, 600.0, 1205.0, 1250.0, "600 ±0,5", scale),
        Dimension(
            "DIMENSIONS",
            "radius",
            (60.0, 60.0),
            tip,
            (90.0, 120.0),
            0.0,
            60.0,
            "R60",
            (105.0, 130.0),
            (
                Path("DIMENSIONS", ((*tip, 0.0), (90.0, 120.0, 0.0), (120.0, 120.0, 0.0))),
                arrow("DIMENSIONS", *tip, 225.0, scale),
                Text("DIMENSIONS", 92.0, 124.0, "R60", 2.5),
            ),
        ),
        Dimension(
            "DIMENSIONS",
            "diameter",
            (450.0, 300.0),
            (750.0, 300.0),
            (750.0, 300.0),
            0.0,
            300.0,
            "Ø300 clear view",
            (600.0, 311.0),
            (
                line("DIMENSIONS", 450.0, 300.0, 750.0, 300.0),
                arrow("DIMENSIONS", 450.0, 300.0, 180.0, scale),
                arrow("DIMENSIONS", 750.0, 300.0, 0.0, scale),
                Text("DIMENSIONS", 600.0, 304.0, "Ø300 clear view", 2.5, "middle"),
            ),
        ),
        Path("SECTION_MARKS", ((700.0, -20.0, 0.0), (700.0, 50.0, 0.0))),
        Text("SECTION_MARKS", 716.0, 10.0, "A", 5.0),
        Text("TEXT", 600.0, 700.0, "Plan, seen from outside; glass (toughened) & frit <40>", 3.5, "middle"),
        Text("TEXT", 1190.0, 500.0, "right end 45°", 2.5, "right", 45.0),
    ]
    for number, (x, y, turn) in enumerate(
        ((200.0, 20.0, 0.0), (900.0, 20.0, 0.0), (20.0, 300.0, 90.0), (1100.0, 560.0, 30.0)), 1
    ):
        marks.append(
            Insert(
                "CHOCKS",
                "CHOCK",
                x,
                y,
                turn,
                (
                    Attribute("ITEM", str(number), Text("CHOCKS", x, y + 30.0, str(number), 3.5, "middle")),
                    Attribute("MATERIAL", "EPDM 70 Shore A"),
                ),
            )
        )
        marks.append(Insert("SPACERS", "SPACER", x, y + 60.0, turn))
    return View("plan", scale, PLAN, (30.0, 200.0), tuple(marks))


def section():
    """Faces of every material, side by side, at 5:1 somewhere else in the model."""
    scale, origin = 5.0, SECTION_ORIGIN
    marks = []
    for number, material in enumerate(PATTERNS):
        x = origin + 6.0 * number
        face = box(x, 0.0, x + 5.0, 12.0)
        hole = circle(x + 2.5, 6.0, 1.5)
        layer = "BACKFILL" if material == "sealant" else f"MATERIAL_{material.upper()}"
        marks.append(Path("CUT_OUTLINE", face, True))
        marks.append(Hatch(layer, material, (face, hole)))
    marks.append(Path("SEEN_OUTLINE", rounded(50.0, 3.0, 1.0, origin, 14.0), True))
    # the same outline started at another corner and run the other way still bounds this hatch
    marks.append(Hatch("MATERIAL_ADHESIVE", "adhesive", (_backwards(rounded(50.0, 3.0, 1.0, origin, 14.0)),)))
    marks.append(Hatch("MATERIAL_GLASS", "glass", (box(origin + 52.0, 14.0, origin + 52.1, 14.2),)))  # too small for its pattern
    marks.append(linear(origin, origin + 5.0, -0.2, -3.0, "5", scale))
    marks.append(linear(origin + 6.0, origin + 11.0, -0.2, -3.0, "5 ±0,25", scale))
    marks.append(linear(origin + 12.0, origin + 14.3456, -0.2, -3.0, "2,346", scale))
    marks.append(linear(origin + 18.0, origin + 24.0, -0.2, -3.0, "worked out", scale))
    marks.append(Fill("CUT_OUTLINE", ((origin + 55.0, 14.0, 0.0), (origin + 57.0, 14.0, 1.0), (origin + 55.0, 15.0, 0.0))))
    marks.append(Insert("CHOCKS", "CHOCK_SMALL", origin + 30.0, -4.0, 15.0))
    marks.append(Text("TEXT", origin, 19.0, "A-A (5:1) jpqgy, ÅÄÖ éü 60° ± 2", 5.0))
    return View("A-A", scale, (origin - 2.0, -8.0, origin + 62.0, 24.0), (30.0, 20.0), tuple(marks))


def _backwards(nodes):
    turned = [(*nodes[i][:2], -nodes[i - 1][2]) for i in range(len(nodes) - 1, -1, -1)]
    return tuple(turned[3:] + turned[:3])


def paper():
    return (
        Path("SHEET", box(20.0, 10.0, WIDTH - 10.0, HEIGHT - 10.0), True),
        Fill("TITLE", box(400.0, 40.0, 500.0, 41.0)),  # the bar of 100 mm
        Text("TITLE", 400.0, 43.0, "100 mm", 2.5),
        Text("TITLE", 400.0, 60.0, "HEH", 10.0),
        Text("TABLES", 400.0, 80.0, "Setting chock, 80 × 25 × 6, EPDM 70 Shore A", 3.5),
        Text("TABLES", 584.0, 95.0, "", 3.5, "right"),
        Insert(
            "TITLE",
            "TITLE_BLOCK",
            404.0,
            10.0,
            0.0,
            (Attribute("OWNER", "Demo office", Text("TITLE", 406.0, 12.0, "Demo office", 2.5)),),
        ),
    )


BLOCKS = (
    Block(
        "CHOCK",
        (Path("0", box(-40.0, -12.5, 40.0, 12.5), True), line("0", -40.0, -12.5, 40.0, 12.5)),
        (("ITEM", "Item"), ("MATERIAL", "Material")),
    ),
    Block("SPACER", (Path("0", circle(0.0, 0.0, 10.0), True), Fill("0", circle(0.0, 0.0, 3.0)))),
    Block("CHOCK_SMALL", (Path("0", box(-2.0, -1.0, 2.0, 1.0), True), Text("0", 0.0, -0.25, "c", 2.5, "middle", 30.0))),
    Block("TITLE_BLOCK", (Path("0", box(0.0, 0.0, 180.0, 20.0), True),), (("OWNER", "Legal owner"),)),
)


def rich_sheet() -> Sheet:
    return Sheet(
        "A2",
        WIDTH,
        HEIGHT,
        "DEMO-01 sheet 1",
        "A demonstration pane, plan 1:5 and section 5:1 <invented>",
        LAYERS,
        BLOCKS,
        (plan(), section()),
        paper(),
    )
