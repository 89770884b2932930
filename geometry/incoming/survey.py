"""From the file of a survey to the outline of its opening: table, plane, order, walls, outline; every step tells what it did.

A point that stands out stays in the measured wall and is named; only the fits pass it over.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from geometry.incoming.survey_doubts import chamfers_told, refuse_corners_of_a_circle, spikes_of
from geometry.incoming.survey_faults import Fault, SurveyError
from geometry.incoming.survey_order import SAME, OrderError, ring_of
from geometry.incoming.survey_outline import MOST_WALL, OutlineFault, joined
from geometry.incoming.survey_plane import PlaneError, SurveyPlane, fit_plane, on_plane
from geometry.incoming.survey_table import SurveyPoint, SurveyTable, read_table
from geometry.incoming.survey_walls import OnePointError, stretches_of, whole_circle
from geometry.incoming.surveyed import MeasuredPoint, OutlyingPoint, Surveyed
from geometry.incoming.units import LEAST, MOST, usual, whole_shift
from geometry.outline.loop import Outline, OutlineError, Point, Vertex

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from geometry.incoming.survey_outline import SurveyedCorner, SurveyedEdge

    Points = NDArray[np.float64]
else:
    Points = Any

ACCURACY = 0.5
"""mm, of one surveyed point (common practice, no source)."""
PLANE_SIDES = ("outside", "inside")


def read_survey(
    path: Path | str | bytes,
    *,
    name: str = "",
    units: str | None = None,
    seen_from: str | None = None,
    radius: float | Sequence[float] | None = None,
    accuracy: float = ACCURACY,
) -> Surveyed:
    """The opening that a file of surveyed points shows.

    Parameters
    ----------
    path
        A file, or its bytes.
    name
        What sentences call it; without it the file's own name.
    units
        ``mm``, ``cm``, ``m``, ``in`` or ``ft``; without it the one in the file, else mm.
    seen_from
        Of points in the plane ``outside`` (without it as well) or ``inside``, which turns them round; of points in space ``+x``, ``-x``,
        ``+y``, ``-y``, ``+z`` or ``-z``, the way in which outside lies, unless a row of the file says so.
    radius
        Of every corner, or of each from the lower left counter-clockwise, mm; without it what the points show.
    accuracy
        Of one point, mm.

    Raises
    ------
    SurveyError
        With every fault, its line and column: a table that cannot be read, points that give no plane, no certain order or no outline.
    """
    import numpy as np

    if isinstance(path, bytes):
        data, called = path, name or "the survey"
    else:
        file = Path(path)
        called = name or file.name
        try:
            data = file.read_bytes()
        except OSError as error:
            raise SurveyError(called, [Fault(0, 0, f"the file cannot be read ({error.strerror or 'no file'})")]) from None
    table = read_table(data, name=called, units=units)
    notes = list(table.notes)
    seen_from = _side_of(table, seen_from, called)
    plane, flat = _flattened(table, seen_from, accuracy, called, notes)
    shift = _near(flat)
    flat = flat - np.array(shift)
    rows, names = _without_repeats(table.points, flat, called, notes)
    try:
        surveyed = _of_points(
            _Places(called, table.points, flat, plane, rows, names, plane is None and seen_from == "inside"),
            radius,
            accuracy,
            notes,
        )
        return surveyed if shift == (0.0, 0.0) else _shifted_back(surveyed, *shift)
    except OrderError as error:
        lines = sorted({table.points[rows[row]].line for row in error.rows})
        found = error.found + (f": lines {', '.join(map(str, lines))}" if lines else "")
        raise SurveyError(called, [Fault(lines[0] if lines else 0, 0, found, error.allowed)]) from None
    except OutlineFault as error:
        raise SurveyError(called, [Fault(0, 0, error.found, error.allowed)]) from None
    except OnePointError as error:
        line = next(point.line for point in table.points if point.edge == str(error))
        found = f"edge “{error}” has one point, and its neighbours are not on a line with it"
        raise SurveyError(called, [Fault(line, 0, found, "two points or more on each edge, or no names at all")]) from None


def _side_of(table: SurveyTable, seen_from: str | None, called: str) -> str | None:
    """From which side the points are seen: as asked for, else as the file says."""
    if not table.seen_from or table.in_space:
        return seen_from
    if seen_from in PLANE_SIDES and seen_from != table.seen_from:
        fault = Fault(0, 0, f"seen_from {seen_from!r}, and the file says seen from {table.seen_from}", "one side")
        raise SurveyError(called, [fault])
    return seen_from or table.seen_from


def _near(flat: Points) -> tuple[float, float]:
    """Whole millimetres from the coordinates of the survey to near its points; (0, 0) where they lie near them already."""
    left, bottom = (float(value) for value in flat.min(axis=0))
    return whole_shift(left, bottom)


def _shifted_back(found: Surveyed, x: float, y: float) -> Surveyed:
    from geometry.outline.measure import moved

    return replace(
        found,
        outline=moved(found.outline, x, y),
        wall=moved(found.wall, x, y),
        points=tuple(replace(point, at=Point(point.at.x + x, point.at.y + y)) for point in found.points),
        corners=tuple(replace(corner, place=Point(corner.place.x + x, corner.place.y + y)) for corner in found.corners),
    )


class _Places:
    """The points of a survey in the plane: ``rows`` are those that are no repeats, ``names`` their edges; ``turned``: typed as seen from inside."""

    def __init__(
        self,
        name: str,
        points: Sequence[SurveyPoint],
        flat: Points,
        plane: SurveyPlane | None,
        rows: list[int],
        names: list[frozenset[str]],
        turned: bool,
    ) -> None:
        self.name, self.points, self.flat, self.plane, self.rows, self.names = name, points, flat, plane, rows, names
        self.turned = turned

    def sorted_by_station(self) -> bool:
        """Put the rows in order of their stations, where each has a number of its own; whether that changed anything."""
        stations = [self.points[row].station for row in self.rows]
        if not all(station.isascii() and station.isdigit() for station in stations) or len(
            {int(each) for each in stations}
        ) < len(stations):
            return False
        order = sorted(range(len(stations)), key=lambda at: int(stations[at]))
        changed = order != list(range(len(order)))
        self.rows, self.names = [self.rows[at] for at in order], [self.names[at] for at in order]
        return changed


def _flattened(
    table: SurveyTable, seen_from: str | None, accuracy: float, called: str, notes: list[str]
) -> tuple[SurveyPlane | None, Points]:
    """The points in the plane, as seen from outside."""
    import numpy as np

    places = np.array([point.place for point in table.points])
    if not table.in_space:
        if seen_from not in (None, *PLANE_SIDES):
            raise SurveyError(called, [Fault(0, 0, f"seen_from {seen_from!r} of points in the plane", "outside or inside")])
        if table.sides:
            fault = Fault(
                table.sides[0].line, 0, f"a row {table.sides[0].edge} among points in the plane", "seen_from in the job"
            )
            raise SurveyError(called, [fault])
        if seen_from is None:
            notes.append("taken as seen from outside")
        if seen_from == "inside":
            places = places * np.array([-1.0, 1.0])
            notes.append("turned round: surveyed as seen from inside")
        return None, places
    sides = tuple((1.0 if point.edge.casefold() == "outside" else -1.0, np.array(point.place)) for point in table.sides)
    try:
        plane = fit_plane(places, seen_from=seen_from, sides=sides, accuracy=accuracy)
    except PlaneError as error:
        raise SurveyError(called, [Fault(0, 0, error.found, error.allowed)]) from None
    notes.append(f"laid into the plane of the points, none farther than {max(map(abs, plane.residuals)):.1f} mm from it")
    return plane, on_plane(places, plane)


def _without_repeats(
    points: Sequence[SurveyPoint], flat: Points, called: str, notes: list[str]
) -> tuple[list[int], list[frozenset[str]]]:
    """Places in the list of the points that stand nowhere twice, each with every edge it was taken for."""
    seen: dict[tuple[float, float], int] = {}
    rows: list[int] = []
    names: list[frozenset[str]] = []
    repeated: list[str] = []
    for index, point in enumerate(points):
        key = (round(float(flat[index][0]) / SAME), round(float(flat[index][1]) / SAME))
        if key not in seen:
            seen[key] = len(rows)
            rows.append(index)
            names.append(frozenset({point.edge} - {""}))
            continue
        first = points[rows[seen[key]]]
        names[seen[key]] |= {point.edge} - {""}
        for what in ("depth", "landing"):
            one, two = getattr(first, what), getattr(point, what)
            if one is not None and two is not None and one != two:
                fault = Fault(point.line, 0, f"the place of line {first.line} with another {what}: {two:g} and {one:g} mm", "one")
                raise SurveyError(called, [fault])
        if point.edge == first.edge:
            repeated.append(f"{point.line} ({first.line})")
    if repeated:
        notes.append("repeats left out: line " + ", ".join(repeated))
    if len(rows) < 3:
        raise SurveyError(called, [Fault(0, 0, f"{len(rows)} places", "three or more")])
    return rows, names


class _Walls(NamedTuple):
    """What was fitted to the ring: outline, the measured wall (places in the ring, vertices put in) and the places that those replace."""

    outline: Outline
    wall: tuple[int | Vertex, ...]
    edges: tuple[SurveyedEdge, ...] = ()
    corners: tuple[SurveyedCorner, ...] = ()
    radius_spread: float | None = None
    replaced: frozenset[int] = frozenset()


def _of_points(given: _Places, radius: float | Sequence[float] | None, accuracy: float, notes: list[str]) -> Surveyed:
    _asked_size(given)
    if given.sorted_by_station():
        notes.append("points put in order of their stations")
    order, told = ring_of(given.flat[given.rows], [min(name, default="") for name in given.names])
    if told:
        notes.append(told)
    whole = [given.rows[at] for at in order]  # places in the list, round the opening
    spikes = spikes_of(given.flat[whole], accuracy)
    clean = [at for at in range(len(whole)) if at not in spikes]
    lines = [given.points[whole[at]].line for at in clean]
    ring = given.flat[[whole[at] for at in clean]]
    walls = _walls(given.name, ring, [given.names[order[at]] for at in clean], lines, radius, accuracy, notes)
    off = _off(walls.outline, given.flat)
    if len(ring) > MOST_WALL and len(walls.wall) < len(ring):
        shown = sum(1 for each in walls.wall if isinstance(each, int))
        notes.append(f"the measured wall drawn by the innermost {shown} of {len(ring)} points")
    outlying = [OutlyingPoint(given.points[whole[at]].line, abs(off[whole[at]]), False) for at in spikes]
    plane = given.plane
    if plane is not None:
        outlying += [OutlyingPoint(given.points[at].line, abs(plane.residuals[at]), True) for at in plane.outliers]
    passed = {whole[clean[at]] for at in walls.replaced} | {whole[at] for at in spikes}
    return Surveyed(
        outline=walls.outline,
        source=given.name,
        mended=tuple(notes),
        deviation=max((abs(off[index]) for index in given.rows if index not in passed), default=0.0),
        wall=_wall_outline(given, walls.wall, clean, whole, spikes),
        points=_measured(given, off),
        edges=walls.edges,
        corners=walls.corners,
        plane=plane,
        outliers=tuple(sorted(outlying, key=lambda each: each.line)),
        radius_spread=walls.radius_spread,
        shape="" if walls.edges else "circle",
        mirror=0.0 if given.turned else None,
        from_vertical=None if plane is None else math.degrees(math.asin(max(-1.0, min(1.0, plane.normal[2])))),
    )


def _walls(
    called: str,
    ring: Points,
    names: Sequence[frozenset[str]],
    lines: Sequence[int],
    radius: float | Sequence[float] | None,
    accuracy: float,
    notes: list[str],
) -> _Walls:
    """A circle where the opening is one, else edges and corners; ``lines`` are those of the file."""
    all_round = len({name for each in names for name in each}) == 1
    found = whole_circle(ring, accuracy=accuracy, named=all_round)
    if found is not None:
        (x, y), reach = found.centre, found.radius
        notes.append(f"a circle of radius {reach:.1f} ± {found.radius_spread:.1f} mm")
        outline = Outline((Vertex(x, y - reach, 1.0), Vertex(x, y + reach, 1.0)))
        return _Walls(outline, tuple(range(len(ring))), radius_spread=found.radius_spread)
    refuse_corners_of_a_circle(called, ring, names, accuracy)
    joint = joined(ring, stretches_of(ring, names, accuracy=accuracy), radius=radius, accuracy=accuracy)
    radii = sorted({corner.radius for corner in joint.corners if corner.given})
    if radii:
        notes.append("corners of radius " + ", ".join(f"{each:g}" for each in radii) + " mm as given, not as measured")
    between = [sorted(lines[at] for at in pair) for pair in joint.between]
    if between:
        pairs = ", ".join(f"{a} and {b}" for a, b in between)
        notes.append(
            f"no point at the corner between lines {pairs}: the edges meet there, the measured wall goes straight; radius would tell"
        )
    notes += chamfers_told(ring, joint.edges, lines)
    return _Walls(joint.outline, joint.wall, joint.edges, joint.corners, None, joint.replaced)


def _asked_size(given: _Places) -> None:
    import numpy as np

    points = given.flat[given.rows]
    _, _, axes = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)
    width, height = (float(value) for value in np.ptp(points @ axes.T, axis=0))  # along the longest way and across it
    if not usual(width, height):
        fault = Fault(0, 0, f"an opening {width:.4g} × {height:.4g} mm: units?", f'{LEAST:g} to {MOST:g} mm, or units = "m"')
        raise SurveyError(given.name, [fault])


def _off(outline: Outline, flat: Points) -> list[float]:
    """Distance of each point from the fitted outline, positive inside the opening."""
    from geometry.outline.stations import nearest_station

    found = []
    for x, y in flat.tolist():
        station = nearest_station(outline, Point(x, y))
        apart = math.hypot(x - station.point.x, y - station.point.y)
        outwards = (x - station.point.x) * station.outward.x + (y - station.point.y) * station.outward.y
        found.append(-apart if outwards > 0 else apart)
    return found


def _measured(given: _Places, off: Sequence[float]) -> tuple[MeasuredPoint, ...]:
    plane = given.plane
    return tuple(
        MeasuredPoint(
            line=point.line,
            raw=point.place,
            at=Point(float(given.flat[index][0]), float(given.flat[index][1])),
            edge=point.edge,
            station=point.station,
            depth=point.depth,
            landing=point.landing,
            out_of_plane=None if plane is None else plane.residuals[index],
            off_wall=off[index],
        )
        for index, point in enumerate(given.points)
    )


def _wall_outline(
    given: _Places, wall: Sequence[int | Vertex], clean: Sequence[int], whole: Sequence[int], spikes: Sequence[int]
) -> Outline:
    """The measured wall with the points that stand out in their places; refused where it crosses itself."""
    from geometry.outline.soundness import sound

    left = sorted(spikes)
    vertices: list[Vertex] = []

    def add(at: int) -> None:
        x, y = given.flat[whole[at]]
        vertices.append(Vertex(float(x), float(y)))

    for each in wall:
        if isinstance(each, int):
            while left and left[0] < clean[each]:
                add(left.pop(0))
            add(clean[each])
        else:
            vertices.append(each)
    for at in left:
        add(at)
    kept = [
        v for at, v in enumerate(vertices) if math.hypot(v.x - vertices[at - 1].x, v.y - vertices[at - 1].y) > SAME or at == 0
    ]
    try:
        return sound(kept)
    except OutlineError as error:
        fault = Fault(0, 0, f"the measured wall makes no outline: {error}", "points in order round the opening")
        raise SurveyError(given.name, [fault]) from None


__all__ = ["ACCURACY", "read_survey"]
