"""Large deflection of a simply supported rectangle by Ritz: what the finite elements of the plate are held against.

Terms
-----
Ritz solution
    Products of Legendre polynomials that make the energy of von Karman's plate least; no triangle in it. Deflection
    ``(1 - x2)(1 - y2)`` times even ones; movements in the plane odd along themselves and even across.
straight edges
    Edges that move in the plane as a whole, so that they stay straight; else every point of them is free.
load, deflection, stress
    ``Q = q a4 / (E h4)``, ``w / h`` and ``S = sigma a2 / (E h2)`` of short side a, thickness h.
"""

from __future__ import annotations

import numpy as np
from numpy.polynomial import legendre


def _table(orders, at, factor=None):
    """Values and derivatives (2, k, places) of Legendre polynomials of these orders, times a polynomial ``factor``."""
    rows = []
    for order in orders:
        series = np.zeros(order + 1)
        series[-1] = 1
        if factor is not None:
            series = legendre.legmul(series, legendre.poly2leg(factor))
        rows.append(
            (
                legendre.legval(at, series),
                legendre.legval(at, legendre.legder(series)),
                legendre.legval(at, legendre.legder(series, 2)),
            )
        )
    return np.array(rows).transpose(1, 0, 2)


class Ritz:
    """A rectangle of sides ``ratio`` (along x) and 1, thickness and modulus 1; ``count`` polynomials each way."""

    def __init__(self, ratio, poisson, *, straight=False, count=7):
        nodes, weights = legendre.leggauss(4 * count)
        keep = nodes > 0
        self.nodes, weights = nodes[keep], weights[keep]
        self.half, self.poisson, self.count = (ratio / 2, 0.5), poisson, count
        self.weights = 4 * np.outer(weights, weights).ravel() * self.half[0] * self.half[1]
        even, odd = [2 * i for i in range(count)], [2 * i + 1 for i in range(count)]
        self.kinds = {
            "bent": (even, (1, 0, -1)),
            "even": (even, None),
            "odd": (odd, None),
            "clear": (odd, (1, 0, -1)),  # nothing at the edge
        }
        self.straight = straight
        self._at(self.nodes, self.nodes)
        nu = poisson
        self.plane = np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]]) / (1 - nu**2)
        stiff = np.array([[1, nu, 0], [nu, 1, 0], [0, 0, 2 * (1 - nu)]]) / (12 * (1 - nu**2))
        self.bending = np.einsum("ksi,kl,lsj,s->ij", self.bend, stiff, self.bend, self.weights, optimize=True)
        self.load = self.value.T @ self.weights
        self._within = np.einsum("ksi,kl,lsj,s->ij", self.stretch, self.plane, self.stretch, self.weights, optimize=True)

    def _products(self, along, across, x, y):
        """Value and derivatives 0, x, y, xx, yy, xy of the products of two kinds, each (places, functions)."""
        f, g = (_table(self.kinds[kind][0], at, self.kinds[kind][1]) for kind, at in ((along, x), (across, y)))
        a, b = self.half

        def product(i, j):
            return np.einsum("kp,lq->pqkl", f[i], g[j]).reshape(len(x) * len(y), -1) / (a**i * b**j)

        return product(0, 0), product(1, 0), product(0, 1), product(2, 0), product(0, 2), product(1, 1)

    def _at(self, x, y):
        self.value, *slope, xx, yy, xy = self._products("bent", "bent", x, y)
        self.slope = np.array(slope)
        self.bend = np.array([xx, yy, xy])
        edge = "clear" if self.straight else "odd"
        _, ux, uy, *_ = self._products(edge, "even", x, y)
        _, vx, vy, *_ = self._products("even", edge, x, y)
        if self.straight:
            # a movement of the whole edge: the coordinate itself
            one, none = np.ones((len(ux), 1)), np.zeros((len(ux), 1))
            ux, uy = np.hstack((ux, one / self.half[0])), np.hstack((uy, none))
            vx, vy = np.hstack((vx, none)), np.hstack((vy, one / self.half[1]))
        zero_u, zero_v = np.zeros_like(ux), np.zeros_like(vx)
        self.stretch = np.array([np.hstack((ux, zero_v)), np.hstack((zero_u, vy)), np.hstack((uy, vx))])

    def _strain(self, w, u):
        x, y = self.slope @ w
        return self.stretch @ u + np.array([x * x / 2, y * y / 2, x * y]), x, y

    def solved(self, load):
        """Freedoms of deflection and of movement in the plane at a load Q, by Newton from nothing in steps of the load."""
        w, u = np.zeros(self.slope.shape[2]), np.zeros(self.stretch.shape[2])
        within = self._within
        for part in (0.05, 0.2, 0.5, 1.0):
            for _ in range(30):
                strain, x, y = self._strain(w, u)
                force = self.plane @ strain * self.weights
                moved = np.array(
                    [
                        self.slope[0] * x[:, None],
                        self.slope[1] * y[:, None],
                        self.slope[0] * y[:, None] + self.slope[1] * x[:, None],
                    ]
                )
                left = np.concatenate(
                    (
                        self.bending @ w + np.einsum("ks,ksi->i", force, moved) - part * load * self.load,
                        np.einsum("ks,ksi->i", force, self.stretch),
                    )
                )
                if np.max(np.abs(left)) < 1e-11 * load:
                    break
                stiff = np.tensordot(self.plane, moved, 1) * self.weights[:, None]
                flat = moved.reshape(-1, len(w))
                ww = self.bending + stiff.reshape(-1, len(w)).T @ flat
                for i, j, k in ((0, 0, 0), (1, 1, 1), (0, 1, 2), (1, 0, 2)):
                    ww += self.slope[i].T @ (force[k][:, None] * self.slope[j])
                wu = stiff.reshape(-1, len(w)).T @ self.stretch.reshape(-1, len(u))
                step = np.linalg.solve(np.block([[ww, wu], [wu.T, within]]), left)
                w, u = w - step[: len(w)], u - step[len(w) :]
        return w, u

    def figures(self, load, places=41):
        """Deflection w / h and stress S of the stretched face at the centre, and the greatest S anywhere."""
        w, u = self.solved(load)
        at = np.linspace(0, 1, places)
        self._at(at, at)
        strain, _, _ = self._strain(w, u)
        nu = self.poisson
        bend = -(self.bend @ w)
        moment = np.array([bend[0] + nu * bend[1], bend[1] + nu * bend[0], (1 - nu) * bend[2]]) / (12 * (1 - nu**2))
        pull = self.plane @ strain
        greatest = []
        for face in (1, -1):
            xx, yy, xy = pull + face * 6 * moment
            greatest.append((xx + yy) / 2 + np.hypot((xx - yy) / 2, xy))
        found = float((self.value @ w)[0]), float(greatest[0][0]), float(np.max(greatest))
        self._at(self.nodes, self.nodes)
        return found
