"""The pane as a rigid plate on a bed of shear springs: where it goes under heat and its own weight.

Terms
-----
station
    A point of the bead's centre line with the length of bead it stands for.
shear vector
    Movement of the glass against the frame at a station, in the plane of the pane, mm.
differential strain
    Free strain of the frame less that of the glass; positive: the frame grows away.
racking
    Shear of the frame in its plane, half of it either way; how far the pane turns with it follows from the balance.
chock contact
    A point where a chock, fixed to the frame, can push the glass in one direction but never pull it. Friction is ignored.

The pane turns and shifts until forces and moment balance: three equations for two shifts and one turn, and one more for each
chock that pushes. Which chocks push is found by trying every combination: the one in which no chock pulls and no chock is driven
into is the only one, the bed being elastic. The glass is taken as stiff in its plane, the frame as stretching freely. Chocks are
taken as stiff too: the bead then moves most. A rubber chock (some hundred N for each mm) gives so much more than the bead that heat
presses it no harder than the pane's weight does; a chock of wood or hard plastic does feel these forces.

Lengths mm, forces N, stresses MPa, angles degrees.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.holding.chocks import Contact  # noqa: TC001  the record asks the rules for their units
from geometry.rules.kept import Kept
from geometry.rules.units import Degrees, Megapascals, Millimetres, Newtons, Radians, Strain

if TYPE_CHECKING:
    import numpy


MOST_CONTACTS = 8


class Station(NamedTuple):
    """A point of the bead's centre line, mm, and the length of bead it stands for, mm."""

    x: float
    y: float
    length: float


class Stations(Kept[Station]):
    """The stations of one bead; as text only their number and the bead they stand for.

    >>> print(Stations([Station(0, 0, 60), Station(10, 0, 40)]))
    2 stations on 100 mm of bead
    """

    def __str__(self) -> str:
        return f"{len(self)} stations on {math.fsum(station.length for station in self):.0f} mm of bead"

    __repr__ = __str__


@dataclass(frozen=True, slots=True)
class ShearBed:
    """What the pane does against the frame.

    ``shift`` is that of the bead's centroid, mm; ``turn`` in radians, counter-clockwise; ``shears`` one vector for each station
    in the order given; ``worst`` is the number of the station that shears most, ``largest`` its shear in mm and ``direction``
    where it points, degrees counter-clockwise from the right, seen from outside; ``contact_forces`` in N in the order given, 0
    where a chock does not push.
    """

    shift: tuple[Millimetres, Millimetres]
    turn: Radians
    shears: tuple[tuple[Millimetres, Millimetres], ...]
    contact_forces: tuple[Newtons, ...]
    worst: int
    largest: Millimetres
    direction: Degrees
    shear_strain: Strain
    shear_stress: Megapascals

    def __hash__(self) -> int:
        return hash((self.shift, self.turn, self.largest))

    def __str__(self) -> str:
        return f"{self.largest:.3f} mm towards {self.direction:.0f}°"


@calculation(
    title="Movement of the bead under heat and weight",
    formula="at each station: movement = shift + turn × arm, square to it, - differential strain × arm - racking / 2 × arm of the other "
    "axis, arm from the middle of the bead (centroid of the stations by their lengths); shift and turn by Σ shear modulus × bond width / "
    "bond thickness × length × movement = weight, acting at the centroid, + pushes of the contacts (the chocks), and the same of the "
    "moments; a contact pushes only where the glass would enter it; racking is 0, the weight is left out, where it is not listed; worst: "
    "number of the station that moves most. A pane held down on its chocks while the frame grows: the strain is taken the other way round, "
    "and the movement turned round after it",
    unit="mm",
    source="rigid plate on an elastic shear bed, 8 to 12 % stiffer than a bead of 2 to 3 times its thickness that is free at its flanks "
    "(computed), which is the safe side for stress; chocks push, do not pull and do not give, friction ignored: the movement is on the "
    "safe side, and the forces of the chocks under heat are upper bounds that rubber chocks do not reach",
    status=Status.DERIVED,
)
def shear_bed(
    *,
    stations: Sequence[Station],
    differential_strain: Strain,
    shear_modulus: Megapascals,
    bond_width: Millimetres,
    bond_thickness: Millimetres,
    contacts: Sequence[Contact] = (),
    weight: tuple[Newtons, Newtons] = (0.0, 0.0),
    centroid: tuple[Millimetres, Millimetres] | None = None,
    racking: Strain = 0.0,
) -> ShearBed:
    """Shear of the bead at every station.

    ``contacts`` give the place of each chock on the glass edge and the direction of its push; leave them out for a free pane.
    ``weight`` is the part of the weight the bead or the chocks have to carry, as a vector in the plane of the pane, N, acting at
    ``centroid`` (of the pane; left out: the bead's own). ``racking`` is the shear of the frame, head to the right over sill, as a
    share of its height: 0 where it keeps its angles. Raises ``ValueError`` for stations that all lie on one point.
    """
    import numpy as np

    require.finite(differential_strain=differential_strain, racking=racking, weight_right=weight[0], weight_up=weight[1])
    require.positive(shear_modulus=shear_modulus, bond_width=bond_width, bond_thickness=bond_thickness)
    if not stations:
        raise ValueError("stations: found none, allowed: one or more")
    if len(contacts) > MOST_CONTACTS:
        raise ValueError(f"contacts: found {len(contacts)}, allowed: up to {MOST_CONTACTS}")
    table = np.array(stations, dtype=float)
    if not np.isfinite(table).all() or (table[:, 2] <= 0).any():
        raise ValueError(
            "stations: found one that is not finite or stands for no length, allowed: finite places and lengths above 0"
        )
    lengths = table[:, 2]
    middle = lengths @ table[:, :2] / lengths.sum()
    arms = table[:, :2] - middle
    reach = math.sqrt(float(lengths @ (arms**2).sum(axis=1) / lengths.sum()))
    if reach < 1e-9:
        raise ValueError("stations: found all on one point, allowed: a line round the pane")

    # unknowns: shift right, shift up, turn × reach; all mm, so that the equations are of one size
    stiffness = shear_modulus * bond_width / bond_thickness * lengths
    rows_x = np.column_stack([np.ones_like(lengths), np.zeros_like(lengths), -arms[:, 1] / reach])
    rows_y = np.column_stack([np.zeros_like(lengths), np.ones_like(lengths), arms[:, 0] / reach])
    grows = np.array([[differential_strain, racking / 2], [racking / 2, differential_strain]])  # what the frame does at an arm
    free = -arms @ grows
    matrix = rows_x.T @ (stiffness[:, None] * rows_x) + rows_y.T @ (stiffness[:, None] * rows_y)
    spot = (np.array(centroid, dtype=float) - middle) if centroid is not None else np.zeros(2)
    load = np.array([weight[0], weight[1], (spot[0] * weight[1] - spot[1] * weight[0]) / reach])
    load = load - rows_x.T @ (stiffness * free[:, 0]) - rows_y.T @ (stiffness * free[:, 1])

    pushes = np.zeros((len(contacts), 3))
    closed = np.zeros(len(contacts))
    for place, contact in enumerate(contacts):
        size = math.hypot(contact.push_x, contact.push_y)
        require.positive(push=size)
        right, up = contact.push_x / size, contact.push_y / size
        arm_x, arm_y = contact.x - middle[0], contact.y - middle[1]
        pushes[place] = (right, up, (arm_x * up - arm_y * right) / reach)
        # the glass may leave the chock but not enter it: push · unknowns >= what the frame does there · push
        closed[place] = np.array([arm_x, arm_y]) @ grows @ np.array([right, up])

    unknowns, forces = _balance(matrix, load, pushes, closed)
    shears = np.column_stack([rows_x @ unknowns, rows_y @ unknowns]) + free
    sizes = np.hypot(shears[:, 0], shears[:, 1])
    largest = float(sizes.max())
    # the first of equals, so that rounding does not choose
    worst = int(np.flatnonzero(sizes >= largest - 1e-9 * max(1.0, largest))[0])
    strain = largest / bond_thickness
    return ShearBed(
        shift=(float(unknowns[0]), float(unknowns[1])),
        turn=float(unknowns[2]) / reach,
        shears=tuple((float(x), float(y)) for x, y in shears),
        contact_forces=tuple(float(force) for force in forces),
        worst=worst,
        largest=largest,
        direction=math.degrees(math.atan2(float(shears[worst, 1]), float(shears[worst, 0]))),
        shear_strain=strain,
        shear_stress=shear_modulus * strain,
    )


def _balance(
    matrix: numpy.ndarray, load: numpy.ndarray, pushes: numpy.ndarray, closed: numpy.ndarray
) -> tuple[numpy.ndarray, numpy.ndarray]:
    """Unknowns and chock forces: least energy under push · unknowns >= closed."""
    import numpy as np

    soft = np.linalg.solve(matrix, load)
    scale = float(np.abs(soft).max(initial=0.0) + np.abs(closed).max(initial=0.0))
    force_scale = float(np.abs(load).max(initial=0.0) + np.abs(matrix).max() * scale)
    for size in range(min(3, len(pushes)) + 1):
        for chosen in combinations(range(len(pushes)), size):
            active = list(chosen)
            rows = pushes[active]
            forces = np.zeros(len(pushes))
            unknowns = soft
            if active:
                back = np.linalg.solve(matrix, rows.T)
                coupling = rows @ back
                if np.linalg.cond(coupling) > 1e12:
                    continue
                forces[active] = np.linalg.solve(coupling, closed[active] - rows @ soft)
                unknowns = soft + back @ forces[active]
            if (forces >= -1e-9 * force_scale).all() and (pushes @ unknowns >= closed - 1e-9 * scale).all():
                return unknowns, np.maximum(forces, 0.0)
    raise ValueError("contacts: found chocks that leave the pane no room, allowed: chocks that can all be met at once")


__all__ = ["ShearBed", "Station", "Stations", "shear_bed"]
