"""The sizes of a section, each of them twice: along the landing from the recess wall and from the glass edge, across it from the landing
and from the outer faces.

Terms
-----
chain
    Dimensions in one direction from one datum, the shortest nearest to the section, each row with its name beside it.
row
    One level of a chain: a dimension from the datum, and where it has room the next size behind it.
column
    One level of the dimensions square to the landing; the first stands nearest to the section.
room
    What stands in the view already: a dimension takes the first column in which its text touches nothing and no line runs through a text.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice, permutations, product
from typing import TYPE_CHECKING, Literal

from outputs.drawing.boxes import Box, box_of_text, grown, overlap, texts_of
from outputs.drawing.pencil import Pencil, line, polar, run
from outputs.drawing.placer import Straight, crosses, facets
from outputs.sheet.drafting import number
from outputs.sheet.entities import Dimension, Fill, Mark, Path, Text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.detail.parts import Detail, Section
    from outputs.sheet.entities import Place

FigurePlace = tuple[float, float]  # of a dimension's figure: share of the line where it stands, or paper mm beyond its end

NAME_GAP = 3.0  # paper mm between the longest dimension of a chain and the names of its rows
LEFT_OF_FRAME, RIGHT_OF_GLASS = 5.0, 7.0  # paper mm from the break line to the first column
COLUMNS = 9
ORDERS = 24  # of the heights that are tried
PLACES: tuple[FigurePlace, ...] = ((0.5, 1.0), (0.25, 1.0), (0.75, 1.0), (0.5, 4.0), (0.5, 8.0), (0.5, 12.0), (0.5, 18.0))
CLEAR = 0.3  # paper mm round a text
ALIKE = 1e-6  # mm: two sizes are the same, or one is nothing


@dataclass(frozen=True, slots=True)
class Span:
    """What one dimension of a row measures: from and to (x), where its extension lines begin (z) and its tolerance."""

    first: float
    second: float
    start: float
    tolerance: float | None = None
    start_first: float | None = None
    text_share: float = 0.5


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a chain."""

    name: str
    spans: tuple[Span, ...]


class Room:
    """The texts and lines of a view while it is composed."""

    def __init__(self, scale: float) -> None:
        self.scale = scale
        self.clear = CLEAR / scale
        self._texts: list[Box] = []
        self._straights: list[Straight] = []
        self._leaders: list[Straight] = []

    def add(self, marks: Iterable[Mark]) -> None:
        """Count marks as standing."""
        marks = tuple(marks)
        self._texts += self._boxes(marks)
        self._straights += _straights(marks)

    def copy(self) -> Room:
        """The same room, to try something in."""
        other = Room(self.scale)
        other._texts, other._straights, other._leaders = [*self._texts], [*self._straights], [*self._leaders]
        return other

    def block(self, box: Box) -> None:
        """Count a whole box as taken."""
        self._texts.append(box)

    def lead(self, leader: Path) -> None:
        """Count a line as a leader, which no other leader may cross."""
        self._leaders += facets(leader.nodes, closed=False)

    def leads(self, leader: Path) -> bool:
        """Whether a leader crosses no other one."""
        return not any(meet(one, other) for one in facets(leader.nodes, closed=False) for other in self._leaders)

    def free(self, box: Box) -> bool:
        """Whether a box touches nothing that stands."""
        wide = grown(box, self.clear)
        return not any(overlap(wide, other) for other in self._texts) and not any(crosses(wide, line) for line in self._straights)

    def lettered(self, box: Box) -> bool:
        """Whether a box touches a text."""
        wide = grown(box, self.clear)
        return any(overlap(wide, other) for other in self._texts)

    def written_over(self, start: Place, end: Place) -> int:
        """How many texts a straight line runs through."""
        return sum(1 for box in self._texts if crosses(grown(box, self.clear), (*start, *end)))

    def takes(self, marks: Iterable[Mark]) -> bool:
        """Whether the texts of the marks touch nothing that stands, and none of their lines runs through a text that stands."""
        marks = tuple(marks)
        if not all(self.free(box) for box in self._boxes(marks)):
            return False
        standing = [grown(box, self.clear) for box in self._texts]
        return not any(crosses(box, straight) for straight in _straights(marks) for box in standing)

    def _boxes(self, marks: tuple[Mark, ...]) -> list[Box]:
        return [box_of_text(text, self.scale) for text in texts_of(marks)]


def meet(one: Straight, other: Straight) -> bool:
    """Whether two straight lines cross."""

    def side(line: Straight, x: float, z: float) -> float:
        return (line[2] - line[0]) * (z - line[1]) - (line[3] - line[1]) * (x - line[0])

    return side(one, *other[:2]) * side(one, *other[2:]) < 0 and side(other, *one[:2]) * side(other, *one[2:]) < 0


def _straights(marks: Iterable[Mark]) -> list[Straight]:
    found: list[Straight] = []
    for mark in marks:
        match mark:
            case Path(nodes=nodes, closed=closed):
                found += facets(nodes, closed=closed)
            case Fill(nodes=nodes):
                found += facets(nodes, closed=True)
            case Dimension(parts=parts):
                found += _straights(parts)
            case _:
                pass
    return found


def _spacer_faces(section: Section) -> tuple[float, float] | None:
    face = next((face for face in section.faces if face.material == "spacer"), None)
    return None if face is None else (min(x for x, _, _ in face.nodes), max(x for x, _, _ in face.nodes))


def rows_from_wall(section: Section, detail: Detail) -> tuple[Row, ...]:
    """Distances from the foot of the recess wall, the shortest first."""
    x, sizes, levels = section.crossing, detail.sizes, section.levels
    below = min(z for face in section.faces for _, z, _ in face.nodes)
    spacer = _spacer_faces(section)
    rows: list[tuple[str, float, float, float | None]] = [
        ("joint width", x.glass_edge, levels.bond_face, sizes.joint_width.tolerance),
        ("bead, outer edge", x.bead_outer, 0.0, None),
        ("bead, inner edge", x.bead_inner, 0.0, None),
        ("landing", x.landing, below, sizes.landing.tolerance),
        ("frit, inner edge", x.frit_inner, levels.bond_face, None),
    ]
    if spacer is not None:
        rows += [("spacer, outer face", spacer[0], 0.0, None), ("spacer, inner face", spacer[1], 0.0, None)]
    else:
        rows.append(("bead, centre line", x.bead_centre, 0.0, None))
        if x.frit_start - x.glass_edge > ALIKE:
            rows.append(("frit, outer edge", x.frit_start, levels.bond_face, None))
    if x.frit_fade is not None:
        rows.append(("frit, end of the solid", x.frit_fade, levels.bond_face, None))
    return tuple(
        Row(name, (Span(0.0, end, start, tolerance),))
        for name, end, start, tolerance in sorted(rows, key=lambda row: row[1])
        if end > ALIKE
    )


def rows_from_glass(section: Section, detail: Detail) -> tuple[Row, ...]:
    """Distances from the glass edge, the shortest first, with the bond width and what the frit covers beyond the landing."""
    x, sizes, levels = section.crossing, detail.sizes, section.levels
    edge, top = x.glass_edge, levels.glass_face
    spacer = _spacer_faces(section)
    # The bead's centre line runs through the middle of the bond width: the figure stands beside it.
    bond = Span(x.bead_outer, x.bead_inner, top, sizes.bond_width.tolerance, text_share=0.5 if spacer else 0.75)
    beyond = Span(min(x.landing, x.frit_inner), max(x.landing, x.frit_inner), top)
    shared: dict[str, tuple[str, Span]] = {"set-back": ("bond width", bond)}
    rows: list[tuple[str, float, float | None]] = [
        ("set-back", x.bead_outer, sizes.set_back.tolerance),
        ("bead, inner edge", x.bead_inner, None),
        ("landing, edge", x.landing, None),
        ("frit width", x.frit_inner, sizes.frit_width.tolerance),
    ]
    if spacer is not None:
        rows += [("spacer, outer face", spacer[0], None), ("spacer, inner face", spacer[1], None)]
    else:
        rows.append(("bead, centre line", x.bead_centre, None))
        if x.frit_start - edge > ALIKE:
            rows.append(("frit, outer edge", x.frit_start, None))
    if x.frit_fade is not None:
        rows.append(("solid frit", x.frit_fade, None))
    between = x.frit_fade is not None and beyond.first < x.frit_fade < beyond.second
    apart = beyond.second - beyond.first > ALIKE
    covers = x.frit_inner > x.landing
    word = "frit beyond it" if covers else "short of the landing"
    if apart and not between:
        shared["landing, edge" if covers else "frit width"] = (word, beyond)
    found: list[Row] = []
    if section.profile.draft > 0:
        skin = levels.skin
        joint = Span(section.profile.wall_at(skin), edge, top, None, skin)
        found.append(Row("joint at the skin", (joint,)))
    for name, end, tolerance in sorted(rows, key=lambda row: row[1]):
        if end - edge <= ALIKE:
            continue
        if apart and between and abs(end - beyond.second) < ALIKE:
            found.append(Row("frit beyond the landing" if covers else "frit short of the landing", (beyond,)))
        span = Span(edge, end, top, tolerance)
        if name in shared:
            found.append(Row(f"{name} / {shared[name][0]}", (span, shared[name][1])))
        else:
            found.append(Row(name, (span,)))
    return tuple(found)


def chain(rows: tuple[Row, ...], pencil: Pencil, *, level: float, sign: float) -> list[Mark]:
    """The rows of one chain, the first nearest to the section, the names in one line behind the longest.

    ``level`` is the z from which the rows are counted, ``sign`` +1 stacks them upwards, -1 downwards.
    """
    style = pencil.style
    dimensions: list[Dimension] = []
    names: list[tuple[str, float]] = []
    for index, row in enumerate(rows):
        z = level + sign * pencil.paper(style.first_row + index * style.row)
        for order, span in enumerate(row.spans):
            begin = span.start if span.start_first is None else span.start_first
            dimensions.append(
                pencil.linear(
                    (span.first, begin),
                    (span.second, span.start),
                    line_at=z,
                    tolerance=span.tolerance,
                    outside="second" if order else "first",
                    text_share=span.text_share,
                )
            )
        names.append((row.name, z))
    if not dimensions:
        return []
    reach = max(max(_reach(part, pencil.scale) for part in dimension.parts) for dimension in dimensions)
    at = reach + pencil.paper(NAME_GAP)
    return [*dimensions, *(pencil.text("TEXT", (at, z), name, centred=True) for name, z in names)]


def _reach(part: Path | Fill | Text, scale: float) -> float:
    """The greatest x of one part of a dimension."""
    return box_of_text(part, scale)[2] if isinstance(part, Text) else max(x for x, _, _ in part.nodes)


@dataclass(frozen=True, slots=True)
class Height:
    """One size square to the landing: from and to (z), where its extension lines begin (x), its tolerance and a word beside it."""

    low: float
    high: float
    start_low: float
    start_high: float
    tolerance: float | None = None
    word: str = ""


def heights_on_left(section: Section, detail: Detail) -> tuple[Height, ...]:
    """From the outer face down and from the landing up: backfill, chock and its bearing, recess depth, proud or sunk."""
    levels, profile, sizes = section.levels, section.profile, detail.sizes
    joint = section.crossing.glass_edge
    found: list[Height] = []
    if any(face.material == "sealant" for face in section.faces):
        wall = profile.wall_at(levels.backfill)
        if levels.chock is not None:
            found.append(Height(levels.chock, levels.glass_face, wall, joint))
            if levels.chock - levels.bond_face > ALIKE:
                found.append(Height(levels.bond_face, levels.chock, joint, wall))
        elif levels.glass_face < levels.skin:
            found.append(Height(levels.backfill, levels.glass_face, wall, joint))
        else:
            found.append(Height(levels.backfill, levels.skin, wall, profile.wall_at(levels.skin)))
        if levels.backfill > ALIKE:
            found.append(Height(0.0, levels.backfill, profile.tangent_length, wall))
    found.append(Height(0.0, levels.skin, profile.tangent_length, profile.wall_at(levels.skin), sizes.recess_depth.tolerance))
    if abs(levels.glass_face - levels.skin) > ALIKE:
        low, high = sorted((levels.glass_face, levels.skin))
        proud = levels.glass_face > levels.skin
        starts = (profile.wall_at(levels.skin), joint)
        found.append(Height(low, high, *(starts if proud else starts[::-1]), None, "proud" if proud else "sunk"))
    return tuple(found)


def heights_on_right(section: Section, detail: Detail) -> tuple[Height, ...]:
    """Bond and glass thickness, and both together from the landing where that is not the recess depth, which stands at the left."""
    levels, sizes = section.levels, detail.sizes
    landing, end = section.crossing.landing, max(x for face in section.faces for x, _, _ in face.nodes)
    found = [
        Height(0.0, levels.bond_face, landing, end, sizes.bond_thickness.tolerance),
        Height(levels.bond_face, levels.glass_face, end, end),
    ]
    if abs(levels.glass_face - levels.skin) > ALIKE:
        found.append(Height(0.0, levels.glass_face, landing, end))
    return tuple(found)


def columns(heights: tuple[Height, ...], pencil: Pencil, room: Room, *, first: float, sign: float) -> list[Mark]:
    """Every height in the first column that has room for it, outwards from ``first`` (x); ``sign`` -1 to the left, +1 to the right.

    Where one finds no room because of those before it, another order is tried, and then figures farther from the middle of their lines.
    """
    best: tuple[int, list[Mark]] | None = None
    for places, orders in ((PLACES[:1], ORDERS), (PLACES, ORDERS // 4)):
        for order in islice(permutations(heights), orders):
            found = _in_order(order, pencil, room.copy(), places, first=first, sign=sign, fewer_than=best[0] if best else None)
            if found is not None:
                best = found
            if best is not None and best[0] == 0:
                room.add(best[1])
                return best[1]
    marks = [] if best is None else best[1]
    room.add(marks)
    return marks


def _in_order(
    heights: tuple[Height, ...],
    pencil: Pencil,
    room: Room,
    places: tuple[FigurePlace, ...],
    *,
    first: float,
    sign: float,
    fewer_than: int | None,
) -> tuple[int, list[Mark]] | None:
    """The heights placed one after the other, and how many of them found no room; those stand in a column of their own.

    None where as many fail as ``fewer_than``.
    """
    taken: list[list[tuple[Height, float, float]]] = [[] for _ in range(COLUMNS)]
    found: list[Mark] = []
    failed = 0
    for height in heights:
        marks = _placed(height, heights, pencil, room, taken, places, first=first, sign=sign)
        if marks is None:
            failed += 1
            if fewer_than is not None and failed >= fewer_than:
                return None
            free = next(index for index in range(COLUMNS) if not taken[index])
            taken[free].append((height, height.low, height.high))
            marks = _height_marks(height, pencil, first + sign * pencil.paper(free * pencil.style.row), "second")
        room.add(marks)
        found += marks
    return failed, found


def _placed(
    height: Height,
    heights: tuple[Height, ...],
    pencil: Pencil,
    room: Room,
    taken: list[list[tuple[Height, float, float]]],
    places: tuple[FigurePlace, ...],
    *,
    first: float,
    sign: float,
) -> tuple[Mark, ...] | None:
    """One height in the first column that has room for it, or None."""
    for index in range(COLUMNS):
        at = first + sign * pencil.paper(index * pencil.style.row)
        for place, outside in product(places, _sides(height, heights)):
            marks = _height_marks(height, pencil, at, outside, place)
            reach = _run_of(marks, at, pencil.scale)
            if _column_free(height, reach, taken[index], pencil) and room.takes(marks):
                taken[index].append((height, *reach))
                return marks
    return None


def _sides(height: Height, heights: tuple[Height, ...]) -> tuple[Literal["first", "second"], ...]:
    """Beyond which end a figure may stand that finds no room between: upwards for what lies on top, else downwards first."""
    if height.word or height.high >= max(other.high for other in heights) - ALIKE:
        return ("second", "first")
    return ("first", "second")


def _height_marks(
    height: Height, pencil: Pencil, at: float, outside: Literal["first", "second"], place: FigurePlace = PLACES[0]
) -> tuple[Mark, ...]:
    dimension = pencil.linear(
        (height.start_low, height.low),
        (height.start_high, height.high),
        line_at=at,
        angle=90.0,
        tolerance=height.tolerance,
        outside=outside,
        text_share=place[0],
        text_beyond=place[1],
    )
    if not height.word:
        return (dimension,)
    figure = next(part for part in dimension.parts if isinstance(part, Text))
    low, high = _run_of((dimension,), at, pencil.scale)
    gap = pencil.paper(1.0)
    if outside == "second":
        word = pencil.text("TEXT", (figure.x, high + gap), height.word, rotation=90.0)
    else:
        word = pencil.text("TEXT", (figure.x, low - gap), height.word, rotation=90.0, align="right")
    return dimension, word


def _run_of(marks: tuple[Mark, ...], at: float, scale: float) -> tuple[float, float]:
    """From where to where a dimension takes its column: its line with its tails, and its texts."""
    zs: list[float] = []
    for mark in marks:
        for part in mark.parts if isinstance(mark, Dimension) else (mark,):
            if isinstance(part, Text):
                box = box_of_text(part, scale)
                zs += [box[1], box[3]]
            elif isinstance(part, Path) and all(abs(x - at) < 1e-9 for x, _, _ in part.nodes):
                zs += [z for _, z, _ in part.nodes]
    return min(zs), max(zs)


def _column_free(height: Height, reach: tuple[float, float], taken: list[tuple[Height, float, float]], pencil: Pencil) -> bool:
    """Whether a dimension may share a column: it keeps apart from the others, or meets one end to end and its tail lies on that one's line."""
    long = pencil.paper(2 * pencil.style.arrow + 1.0)
    for other, low, high in taken:
        if reach[0] >= high + pencil.paper(1.0) or reach[1] <= low - pencil.paper(1.0):
            continue
        if height.high > other.low + ALIKE and other.high > height.low + ALIKE:
            return False
        meet = abs(height.high - other.low) < ALIKE or abs(other.high - height.low) < ALIKE
        if not meet:
            return False
        short = min(height.high - height.low, other.high - other.low) < long
        if short and max(height.high - height.low, other.high - other.low) < long:
            return False
    return True


def fillet_marks(section: Section, pencil: Pencil, room: Room) -> list[Mark]:
    """The fillet's radius on a leader, and the foot where landing and wall would meet; nothing on a sharp foot."""
    profile = section.profile
    if profile.fillet <= 0:
        return []
    past = pencil.paper(1.5)
    length = profile.tangent_length
    upper = (profile.wall_at(profile.wall_end), profile.wall_end)
    foot = past / length
    marks: list[Mark] = [
        line("DIMENSIONS", (length, 0.0), (-past, 0.0)),
        line("DIMENSIONS", upper, (-upper[0] * foot, -upper[1] * foot)),
    ]
    centre = (length, profile.fillet)
    bottom = min(z for face in section.faces for _, z, _ in face.nodes)
    middle = 225.0 + profile.draft / 2
    for drop in (5.5, 4.5, 7.5, 10.0, 13.0, 16.0, 20.0):
        for turn in (0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0):
            angle = middle + turn
            if not 180.0 + profile.draft < angle < 270.0:
                continue
            tip = polar(centre, angle, profile.fillet)
            fall = tip[1] - (bottom - pencil.paper(drop))
            reach = fall / -polar((0.0, 0.0), angle, 1.0)[1]
            dimension = pencil.radius(centre, profile.fillet, angle=angle, reach=reach)
            if room.takes((dimension,)):
                room.add((dimension,))
                return [*marks, dimension]
    return marks


def draft_marks(section: Section, pencil: Pencil, room: Room) -> list[Mark]:
    """The draft of the wall on a leader, where the view has room for it; nothing on a wall square to the landing."""
    profile, levels = section.profile, section.levels
    if profile.draft <= 0:
        return []
    words = f"draft {number(profile.draft)}°"
    low = max(profile.wall_end, levels.backfill)
    z = levels.skin - min(pencil.paper(2.5), (levels.skin - low) / 2)
    tip = (profile.wall_at(z), z)
    for rise in (3.0, 4.5, 6.0, 8.0, 11.0, 14.0, 18.0, 22.0, 26.0):
        for back in (5.0, 8.0, 11.0, 3.0, 15.0, 19.0, 24.0):
            end = (profile.wall_at(levels.skin) - pencil.paper(back), levels.skin + pencil.paper(rise))
            text = pencil.text("DIMENSIONS", (end[0], end[1] + pencil.paper(pencil.style.text_gap)), words, align="right")
            leader = run("DIMENSIONS", ((end[0] - pencil.width(words), end[1]), end, tip))
            heading = _heading(end, tip)
            marks: list[Mark] = [leader, pencil.arrow("DIMENSIONS", tip, heading), text]
            if room.takes(marks) and room.leads(leader):
                room.add(marks)
                room.lead(leader)
                return marks
    return []


def _heading(start: Place, end: Place) -> float:
    from math import atan2, degrees

    return degrees(atan2(end[1] - start[1], end[0] - start[0]))
