"""Panes on an elastic edge or bead, against closed forms and a Ritz solution worked out here from first principles.

Terms
-----
Ritz solution
    Products of even Legendre polynomials that make the energy of plate and springs least; no triangle in it.
stiffness ratio
    k a3 / D of springs k, N/mm2, along the edge of a pane of short side a.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from numpy.polynomial import legendre

from geometry.outline.measure import moved
from geometry.outline.shapes import circle, rectangle
from geometry.plate.bond import bond_stress
from geometry.plate.glass import GlassBuildUp, bending_stiffness
from geometry.plate.mesh import mesh_of, refined
from geometry.plate.nodes import Sizes
from geometry.plate.solve import solve
from geometry.plate.system import AreaBed, LineBed, Plate

computed = pytest.mark.computed
GLASS = 0.23


def _basis(count, at, order=0):
    """Even Legendre polynomials 0, 2, 4, ... and their derivatives at places, (count, places)."""
    rows = []
    for i in range(count):
        series = np.zeros(2 * i + 1)
        series[-1] = 1
        rows.append(legendre.legval(at, legendre.legder(series, order) if order else series))
    return np.array(rows)


class Ritz:
    """A rectangle of half sides A (along x) and B, D = q = 1, on line springs at the edge or on a frame-shaped area bed."""

    def __init__(self, half_x, half_y, poisson, *, line=0.0, area=0.0, frame=None, count=14):
        self.half = (half_x, half_y)
        self.count = count
        nodes, weights = legendre.leggauss(4 * count + 4)
        values = [_basis(count, nodes, order) for order in range(3)]

        def product(i, j, half, reach=1.0):
            if i == j == 0 and reach < 1:
                inside = _basis(count, reach * nodes)
                return half * reach * (inside * weights) @ inside.T
            return half * (values[i] * weights) @ values[j].T / half ** (i + j)

        x = {(i, j): product(i, j, half_x) for i in range(3) for j in range(3)}
        y = {(i, j): product(i, j, half_y) for i in range(3) for j in range(3)}
        cross = np.kron(x[2, 0], y[0, 2])
        self.matrix = (
            np.kron(x[2, 2], y[0, 0])
            + np.kron(x[0, 0], y[2, 2])
            + poisson * (cross + cross.T)
            + 2 * (1 - poisson) * np.kron(x[1, 1], y[1, 1])
        )
        end = _basis(count, np.array([1.0]))
        edge = end @ end.T
        self.matrix += line * 2 * (np.kron(x[0, 0], edge) + np.kron(edge, y[0, 0]))
        if area:
            outer, inner = frame
            for setback, sign in ((outer, 1.0), (inner, -1.0)):
                self.matrix += (
                    sign
                    * area
                    * np.kron(
                        product(0, 0, half_x, 1 - setback / half_x) if setback else x[0, 0],
                        product(0, 0, half_y, 1 - setback / half_y) if setback else y[0, 0],
                    )
                )
        load = np.zeros(count * count)
        load[0] = 4 * half_x * half_y
        self.shape = np.linalg.solve(self.matrix, load).reshape(count, count)

    def at(self, x, y):
        """Deflection at a place measured from the middle."""
        return float(
            _basis(self.count, np.array([x / self.half[0]]))[:, 0]
            @ self.shape
            @ _basis(self.count, np.array([y / self.half[1]]))[:, 0]
        )

    def bend(self, order_x, order_y):
        """A derivative at the middle."""
        zero = np.array([0.0])
        return float(_basis(self.count, zero, order_x)[:, 0] @ self.shape @ _basis(self.count, zero, order_y)[:, 0]) / (
            self.half[0] ** order_x * self.half[1] ** order_y
        )


@computed
@pytest.mark.parametrize(
    ("ratio", "stiffness", "centre", "moment", "mid_long", "mid_short", "corner", "long_total", "short_total"),
    [
        (1.0, 30, 0.015280, 0.06315, 0.3014, 0.3014, 0.1582, 0.2500, 0.2500),
        (1.0, 100, 0.008629, 0.05812, 0.3683, 0.3683, 0.0278, 0.2500, 0.2500),
        (1.0, 300, 0.006063, 0.05259, 0.4323, 0.4323, -0.1387, 0.2500, 0.2500),
        (1.0, 1000, 0.004810, 0.04845, 0.4546, 0.4546, -0.3416, 0.2500, 0.2500),
        (1.0, 3000, 0.004357, 0.04668, 0.4409, 0.4409, -0.5716, 0.2500, 0.2500),
        (1.5, 30, 0.023107, 0.09132, 0.4495, 0.3109, 0.1257, 0.5055, 0.2445),
        (1.5, 100, 0.013586, 0.08976, 0.5078, 0.3977, -0.0386, 0.5035, 0.2465),
        (1.5, 300, 0.010080, 0.08584, 0.5214, 0.4849, -0.2308, 0.4927, 0.2573),
        (1.5, 1000, 0.008555, 0.08237, 0.5045, 0.5183, -0.4810, 0.4865, 0.2635),
        (1.5, 3000, 0.008045, 0.08066, 0.4956, 0.5038, -0.7774, 0.4846, 0.2654),
        (2.0, 30, 0.027672, 0.10869, 0.5184, 0.3035, 0.1048, 0.7676, 0.2324),
        (2.0, 100, 0.016136, 0.10783, 0.5360, 0.4023, -0.0554, 0.7561, 0.2439),
        (2.0, 300, 0.012354, 0.10508, 0.5236, 0.4978, -0.2553, 0.7414, 0.2586),
        (2.0, 1000, 0.010871, 0.10261, 0.5113, 0.5353, -0.5233, 0.7338, 0.2662),
        (2.0, 3000, 0.010405, 0.10144, 0.5087, 0.5209, -0.8418, 0.7314, 0.2686),
    ],
)
def test_ritz_has_converged(ratio, stiffness, centre, moment, mid_long, mid_short, corner, long_total, short_total):
    """Figures worked out apart from this test with 20 x 20 terms: the same to the last digit with other terms here."""
    ritz = Ritz(ratio / 2, 0.5, GLASS, line=stiffness)
    assert ritz.at(0, 0) == pytest.approx(centre, abs=6e-7)
    assert -ritz.bend(0, 2) - GLASS * ritz.bend(2, 0) == pytest.approx(moment, abs=6e-6)
    assert stiffness * ritz.at(0, 0.5) == pytest.approx(mid_long, abs=6e-5)
    assert stiffness * ritz.at(ratio / 2, 0) == pytest.approx(mid_short, abs=6e-5)
    assert stiffness * ritz.at(ratio / 2, 0.5) == pytest.approx(corner, abs=6e-5)
    nodes, weights = legendre.leggauss(40)
    on_long = stiffness * sum(w * ritz.at(ratio / 2 * n, 0.5) for n, w in zip(nodes, weights, strict=True)) * ratio / 2
    on_short = stiffness * sum(w * ritz.at(ratio / 2, n / 2) for n, w in zip(nodes, weights, strict=True)) / 2
    assert (on_long, on_short) == pytest.approx((long_total, short_total), abs=6e-5)
    assert 2 * (on_long + on_short) == pytest.approx(ratio, rel=1e-9)


@computed
@pytest.mark.parametrize("stiffness", [30, 100, 300, 1000, 3000])
@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
def test_pane_on_line_springs(ratio, stiffness):
    """Centre, moment, reactions at the middles and at the corner, and the totals of the edges, within 1 % of the Ritz solution."""
    ritz = Ritz(ratio / 2, 0.5, GLASS, line=stiffness)
    a, b = 1000.0, 1000.0 * ratio
    mesh = refined(mesh_of(rectangle(b, a), None, Sizes(a / 40, 1, a / 20)))
    solution = solve(mesh, Plate(a**4, GLASS), LineBed(stiffness * a))
    assert solution.at_place(b / 2, a / 2) == pytest.approx(ritz.at(0, 0), rel=0.005)
    near = np.hypot(mesh.points[:, 0] - b / 2, mesh.points[:, 1] - a / 2) < a / 40
    moment = np.mean(solution.point_moments()[near, 1]) / a**2
    assert moment == pytest.approx(-ritz.bend(0, 2) - GLASS * ritz.bend(2, 0), rel=0.01)
    at = {
        name: int(np.argmin(np.hypot(mesh.points[:, 0] - x, mesh.points[:, 1] - y)))
        for name, x, y in (("long", b / 2, 0), ("short", 0, a / 2), ("corner", 0, 0))
    }
    assert stiffness * solution.deflection[at["long"]] == pytest.approx(stiffness * ritz.at(0, 0.5), rel=0.01)
    assert stiffness * solution.deflection[at["short"]] == pytest.approx(stiffness * ritz.at(ratio / 2, 0), rel=0.01)
    # the corner reaction passes through nought between these rows: 1 % of it, or 0.1 % of q a
    assert stiffness * solution.deflection[at["corner"]] == pytest.approx(
        stiffness * ritz.at(ratio / 2, 0.5), rel=0.01, abs=0.001
    )
    nodes, weights = legendre.leggauss(40)
    along = stiffness * sum(w * ritz.at(ratio / 2 * n, 0.5) for n, w in zip(nodes, weights, strict=True)) * ratio / 2
    on_long = np.abs(mesh.points[:, 1]) < 1e-6
    # half of what the two corner nodes carry comes from the short edges
    found = np.sum(solution.support[on_long]) - solution.support[at["corner"]]
    assert found / a**2 == pytest.approx(along, rel=0.01)
    assert solution.reaction == pytest.approx(a * b, rel=1e-6)
    assert np.sum(solution.support) == pytest.approx(a * b, rel=1e-6)


@computed
@pytest.mark.parametrize("stiffness", [0.5, 8.0, 200.0])
def test_disc_on_line_springs(stiffness):
    """Reaction q R/2 all round whatever the springs; the centre sinks q R/(2 k) more than on a rigid edge (equilibrium)."""
    radius = 300.0
    plate = Plate(bending_stiffness(GlassBuildUp((10.0,))), GLASS)
    # stiff springs feel the chords, whose middles lie inside the arc, so the edge is divided finely
    mesh = refined(mesh_of(circle(600), None, Sizes(8, 1, 20)))
    solution = solve(mesh, plate, LineBed(stiffness))
    exact = (5 + GLASS) / (64 * (1 + GLASS)) * radius**4 / plate.bending_stiffness + radius / 2 / stiffness
    assert solution.at_place(radius, radius) == pytest.approx(exact, rel=0.005)
    assert stiffness * solution.deflection[mesh.edge_nodes()] == pytest.approx(radius / 2, rel=0.005)


class Disc:
    """Closed form of a disc on a ring-shaped area bed between two radii: D = 1, q = 1.

    Unbonded middle: q r4/64 + A + B r2. Bed: q/k + the four Kelvin functions of r/l, l = (D/k)^(1/4). Free rim: q r4/64 + C + E r2
    + F ln r + G r2 ln r. Ten constants from deflection, slope, moment and shear on both sides of each joint and no moment and no
    shear at the edge. The parts are those of Timoshenko and Woinowsky-Krieger, art. 15 and 57 (from memory), put together here.
    """

    def __init__(self, radius, outer, inner, stiffness, poisson):
        self.inner, self.outer, self.k = inner, outer, stiffness
        self.root = [cmath.exp(1j * math.pi / 4) * stiffness**0.25, cmath.exp(-1j * math.pi / 4) * stiffness**0.25]
        rows, right = [], []

        def add(pieces, given):
            row = np.zeros(10)
            for start, values in pieces:
                row[start : start + len(values)] += values
            rows.append(row)
            right.append(given)

        for r, start, free in ((inner, 0, self._middle), (outer, 6, self._rim)):
            one, bed = free(r, poisson), self._bed(r, poisson)
            for i in range(4):
                add([(start, one[i]), (2, [-v for v in bed[i]])], (1 / stiffness if i == 0 else 0.0) - self._load(r, poisson)[i])
        rim, load = self._rim(radius, poisson), self._load(radius, poisson)
        for i in (2, 3):
            add([(6, rim[i])], -load[i])
        matrix = np.array(rows)
        scale = np.max(np.abs(matrix), axis=0)
        size = np.max(np.abs(matrix / scale), axis=1)
        self.constants = np.linalg.solve(matrix / scale / size[:, None], np.array(right) / size) / scale

    @staticmethod
    def _four(w, w1, w2, lap1, r, nu):
        """Deflection, slope, radial moment and shear (both as derivatives, D = 1)."""
        return w, w1, w2 + nu * w1 / r, lap1

    def _load(self, r, nu):
        return self._four(r**4 / 64, r**3 / 16, 3 * r**2 / 16, r / 2, r, nu)

    def _middle(self, r, nu):
        return list(zip(self._four(1, 0, 0, 0, r, nu), self._four(r**2, 2 * r, 2, 0, r, nu), strict=True))

    def _rim(self, r, nu):
        log = math.log(r)
        return list(
            zip(
                self._four(1, 0, 0, 0, r, nu),
                self._four(r**2, 2 * r, 2, 0, r, nu),
                self._four(log, 1 / r, -1 / r**2, 0, r, nu),
                self._four(r**2 * log, 2 * r * log + r, 2 * log + 3, 4 / r, r, nu),
                strict=True,
            )
        )

    def _bed(self, r, nu):
        """Real and imaginary parts of I0 and K0 of r times the root; their Laplacian is the function times the root squared."""
        from scipy.special import iv, kv

        columns = []
        s = self.root[0]
        z = s * r
        first = iv(0, z), s * iv(1, z)
        second = kv(0, z), -s * kv(1, z)
        for w, w1 in (first, second):
            w2 = s**2 * w - w1 / r
            four = self._four(w, w1, w2, s**2 * w1, r, nu)
            columns += [[v.real for v in four], [v.imag for v in four]]
        return list(zip(*columns, strict=True))

    def at(self, r, nu=GLASS):
        """Deflection at a radius."""
        if r < self.inner:
            return r**4 / 64 + float(np.dot(self._middle(max(r, 1e-9), nu)[0], self.constants[:2]))
        if r <= self.outer:
            return 1 / self.k + float(np.dot(self._bed(r, nu)[0], self.constants[2:6]))
        return r**4 / 64 + float(np.dot(self._rim(r, nu)[0], self.constants[6:]))


@computed
@pytest.mark.parametrize(("thickness", "bed"), [(10.0, 0.4), (6.0, 0.4), (4.0, 4.0)])
def test_disc_on_a_bead_of_true_width(thickness, bed):
    """Bond stress across the bead and deflection of a disc against the closed form; the closed form first carries its own load."""
    radius, outer, inner = 250.0, 242.0, 227.0
    build_up = GlassBuildUp((thickness,))
    stiffness = bending_stiffness(build_up)
    exact = Disc(radius, outer, inner, bed / stiffness, GLASS)
    nodes, weights = legendre.leggauss(40)
    r = (outer + inner) / 2 + (outer - inner) / 2 * nodes
    carried = (
        2 * math.pi * bed / stiffness * sum(w * x * exact.at(x) for w, x in zip(weights, r, strict=True)) * (outer - inner) / 2
    )
    assert carried == pytest.approx(math.pi * radius**2, rel=1e-6)

    result = bond_stress(
        circle(500),
        moved(circle(2 * outer), radius - outer, radius - outer),
        moved(circle(2 * inner), radius - inner, radius - inner),
        build_up=build_up,
        bond_thickness=5,
        effective_modulus=5 * bed,
        outward=0.1,  # so little that the figures are those of linear theory, as the closed form's
        inward=0.1,
    )
    across = [bed * exact.at(x) / stiffness * 0.0001 for x in np.linspace(inner, outer, 61)]
    assert result.outward.peak_tension.value == pytest.approx(max(across), rel=0.005)
    assert result.outward.peak_compression.value == pytest.approx(max(0.0, -min(across)), rel=0.01, abs=0.002 * max(across))
    assert result.outward.deflection_centre == pytest.approx(exact.at(0.0) / stiffness * 0.0001, rel=0.005)
    edge = max(0.0, exact.at(radius)) / stiffness * 0.0001
    assert max(0.0, result.outward.deflection_edge.value) == pytest.approx(edge, rel=0.01, abs=1e-6)


@computed
@pytest.mark.parametrize(("frame", "bed"), [((0.0, 20.0), 0.4), ((8.0, 23.0), 0.4), ((8.0, 23.0), 0.1)])
def test_rectangle_on_a_bead_of_true_width(frame, bed):
    """800 x 1200 x 10 mm on a frame-shaped bead with sharp corners: stress at the middles and at the corner against Ritz."""
    build_up = GlassBuildUp((10.0,))
    stiffness = bending_stiffness(build_up)
    outer, inner = frame
    ritz = Ritz(600.0, 400.0, GLASS, area=bed / stiffness, frame=frame, count=16)
    coarser = Ritz(600.0, 400.0, GLASS, area=bed / stiffness, frame=frame, count=12)
    glass = rectangle(1200, 800)
    edges = [moved(rectangle(1200 - 2 * s, 800 - 2 * s), s, s) for s in (outer, inner)]
    result = bond_stress(
        glass, edges[0], edges[1], build_up=build_up, bond_thickness=5, effective_modulus=5 * bed, outward=0.1, inward=0.1
    )
    stress = result.stress_map
    places = {
        "inner edge, middle of the long side": (0.0, 400 - inner),
        "inner edge, middle of the short side": (600 - inner, 0.0),
        "outer corner": (600 - outer, 400 - outer),
    }
    for name, (x, y) in places.items():
        exact = bed * ritz.at(x, y) / stiffness * 0.0001
        assert exact == pytest.approx(bed * coarser.at(x, y) / stiffness * 0.0001, rel=0.004), name
        node = int(np.argmin(np.hypot(stress.points[:, 0] - 600 - x, stress.points[:, 1] - 400 - y)))
        assert stress.outward[node] == pytest.approx(exact, rel=0.01), name
    assert result.outward.deflection_centre == pytest.approx(ritz.at(0, 0) / stiffness * 0.0001, rel=0.005)
    assert result.load_balance < 1e-6


@computed
def test_a_narrow_bead_is_a_line_of_springs():
    """As a bead at the edge grows narrow with k x width kept, the area bed goes over into line springs (limit of both models)."""
    plate = Plate(bending_stiffness(GlassBuildUp((10.0,))), GLASS)
    glass, width = rectangle(1200, 800), 4.0
    inner = moved(rectangle(1200 - 2 * width, 800 - 2 * width), width, width)
    area = solve(refined(mesh_of(glass, (glass, inner), Sizes(12, 2, 40))), plate, AreaBed(8.0 / width))
    line = solve(refined(mesh_of(glass, None, Sizes(12, 1, 40))), plate, LineBed(8.0))
    assert area.at_place(600, 400) == pytest.approx(line.at_place(600, 400), rel=0.03)
    ends = [8.0 * s.deflection[int(np.argmin(np.hypot(*s.mesh.points.T)))] for s in (area, line)]
    assert ends[0] == pytest.approx(ends[1], rel=0.05)
