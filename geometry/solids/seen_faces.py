"""What is seen of the faces of bodies, by how much light falls on them: plane regions of the picture that do not overlap.

Terms
-----
light
    The share of full light on a face: the cosine between its normal and the way to the lamp.
tone
    The number of a step of light, 0 the brightest. A round face falls into several.
region
    Closed runs of the picture: an outer one and the holes in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.solids import kernel
from geometry.solids.areas import common, only_areas, polygons_of, together, without

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.solids.kernel import Shape
    from geometry.solids.seen import Sight, Way

ANGLE = 0.15
"""Greatest angle between two neighbouring facets of a round face, radians, as far as its tones go."""
GRID = 8
"""Parts of the tolerance to which corners of regions are rounded: sums of regions that touch stay sound."""
EDGE_ON = 1e-4
"""Cosine to the sight under which a facet is seen edge-on."""


@dataclass(frozen=True, slots=True)
class Lamp:
    """Where light comes from (a unit vector towards it), and the least light of each tone but the last, falling."""

    towards: Way
    steps: tuple[float, ...]

    def tone(self, light: float) -> int:
        """The number of the step into which light falls."""
        return len([step for step in self.steps if light < step])


@dataclass(frozen=True, slots=True)
class Region:
    """One visible region: its tone, its outer run and the holes in it, (x, y) mm of the picture."""

    tone: int
    outer: tuple[tuple[float, float], ...]
    holes: tuple[tuple[tuple[float, float], ...], ...]


@dataclass(frozen=True, eq=False)
class _Patch:
    """Facets of one face in one tone: their region, corners on the picture (n, 3, 2) and nearness (n, 3)."""

    body: int
    tone: int
    region: Any
    corners: Any
    near: Any

    def nearness(self, x: float, y: float) -> float | None:
        """How near the patch is at a place of the picture; None where it is not."""
        import numpy as np

        a, b, c = self.corners[:, 0], self.corners[:, 1], self.corners[:, 2]
        whole = _cross(b - a, c - a)
        place = np.array([x, y])
        u, v = _cross(b - place, c - place) / whole, _cross(c - place, a - place) / whole
        w = 1.0 - u - v
        inside = np.minimum(np.minimum(u, v), w)
        best = int(np.argmax(inside))
        if inside[best] < -1e-3:
            return None
        return float(u[best] * self.near[best, 0] + v[best] * self.near[best, 1] + w[best] * self.near[best, 2])


def _cross(one: Any, other: Any) -> Any:
    return one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]


def regions_seen(shapes: Sequence[Shape], sight: Sight, lamp: Lamp, *, within: float) -> tuple[tuple[Region, ...], ...]:
    """The visible regions of each of several shapes that hide one another, at most ``within`` mm from the true ones.

    Raises
    ------
    SolidError
        Where the kernel gives up.
    """
    from shapely import STRtree

    with kernel.explained("the shading of the bodies"):
        patches = [patch for body, shape in enumerate(shapes) for patch in _patches(body, shape, sight, lamp, within)]
    tree = STRtree([patch.region for patch in patches])
    found: list[list[Region]] = [[] for _ in shapes]
    for patch in patches:
        near = sorted(int(each) for each in tree.query(patch.region))
        left = _left_of(patch, [patches[each] for each in near if patches[each] is not patch], within)
        found[patch.body] += _regions(patch.tone, left, within)
    return tuple(tuple(each) for each in found)


def _left_of(patch: _Patch, others: Sequence[_Patch], within: float) -> Any:
    """What of a patch lies behind none of the others."""
    hiding, grid = [], within / GRID
    for other in others:
        for part in polygons_of(common(patch.region, other.region, grid)):
            if _is_sliver(part, within):
                continue
            at = part.representative_point()
            own, their = patch.nearness(at.x, at.y), other.nearness(at.x, at.y)
            if own is not None and their is not None and their > own + 1e-6:
                hiding.append(part)
    return without(patch.region, together(hiding, grid), grid) if hiding else patch.region


def _regions(tone: int, left: Any, within: float) -> Iterator[Region]:
    for part in sorted((each.normalize() for each in polygons_of(left.simplify(within / 2))), key=lambda each: each.bounds):
        if not _is_sliver(part, within):
            yield Region(
                tone,
                tuple((x, y) for x, y in part.exterior.coords[:-1]),
                tuple(tuple((x, y) for x, y in hole.coords[:-1]) for hole in part.interiors),
            )


def _is_sliver(part: Any, within: float) -> bool:
    """Whether a region is nothing but the roundness of its neighbours: narrower than the tolerance."""
    return bool(part.area < within * within or 2.0 * part.area < within * part.length)


def _patches(body: int, shape: Shape, sight: Sight, lamp: Lamp, within: float) -> Iterator[_Patch]:
    """What of a shape looks at the eye, face by face."""
    import numpy as np
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from shapely import polygons

    BRepMesh_IncrementalMesh(shape, within, False, ANGLE, False)
    axes = np.array([sight.right, sight.up, sight.towards])
    for face in kernel.faces_of(shape):
        facets = _facets(face)
        across = np.cross(facets[:, 1] - facets[:, 0], facets[:, 2] - facets[:, 0])
        size = np.linalg.norm(across, axis=1)
        facets, across, size = facets[size > 0], across[size > 0], size[size > 0]
        normals = across / size[:, None]
        seen = normals @ axes[2] > EDGE_ON
        if not seen.any():
            continue
        facets, lights = facets[seen], (normals[seen] @ np.array(lamp.towards)).tolist()
        tones = np.array([lamp.tone(round(light, 9)) for light in lights])
        placed = facets @ axes.T
        for tone in sorted(set(tones.tolist())):
            own = placed[tones == tone]
            region = _sum(polygons(own[:, :, :2]), within / GRID)
            if (
                not region.is_empty
            ):  # a face that is seen all but edge-on has no area on the grid: it shows nothing and hides nothing
                yield _Patch(body, tone, region, own[:, :, :2], own[:, :, 2])


def _sum(facets: Any, grid: float) -> Any:
    """The region of facets that touch along their edges, or, of a face that hides parts of itself, overlap."""
    from shapely import GEOSException, coverage_union_all, set_precision

    try:
        return only_areas(set_precision(coverage_union_all(facets), grid))
    except GEOSException:
        return together(facets, grid)


def _facets(face: Shape) -> Any:
    """The facets of a meshed face, (n, 3, 3), counter-clockwise seen from outside the body."""
    import numpy as np
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_REVERSED
    from OCP.TopLoc import TopLoc_Location
    from OCP.TopoDS import TopoDS

    location = TopLoc_Location()
    mesh = BRep_Tool.Triangulation_s(TopoDS.Face_s(face), location)
    if mesh is None:
        return np.empty((0, 3, 3))
    move = location.Transformation()
    places = []
    for number in range(1, mesh.NbNodes() + 1):
        at = mesh.Node(number).Transformed(move)
        places.append((at.X(), at.Y(), at.Z()))
    corners = [mesh.Triangle(number).Get() for number in range(1, mesh.NbTriangles() + 1)]
    if face.Orientation() == TopAbs_REVERSED:
        corners = [(a, c, b) for a, b, c in corners]
    return np.array(places)[np.array(corners) - 1]


__all__ = ["Lamp", "Region", "regions_seen"]
