"""The plate on its bead: mesh, two solutions and every figure, next to scikit-fem alone on the finer mesh of the two."""

from __future__ import annotations

import time

import numpy as np
import pytest

from geometry.outline.offset import offset
from geometry.outline.shapes import rectangle
from geometry.plate.bond import bond_stress, sizes_for
from geometry.plate.glass import GlassBuildUp, bending_stiffness
from geometry.plate.mesh import coarse_and_fine
from geometry.plate.system import AreaBed, Plate

MODULUS, THICKNESS = 2.0, 5.0


def whole(loops, build_up):
    """Everything the figures of one pane take."""
    return lambda: bond_stress(
        *loops, build_up=build_up, bond_thickness=THICKNESS, effective_modulus=MODULUS, outward=3, inward=15
    )


def bare(loops, build_up):
    """Bending, springs and load put together and solved by scikit-fem as in its own examples, and the number of triangles."""
    from skfem import BilinearForm, CellBasis, ElementTriMorley, LinearForm, MeshTri, solve
    from skfem.helpers import dd, ddot, eye, trace

    plate, bed = Plate(bending_stiffness(build_up), build_up.poisson), AreaBed(MODULUS / THICKNESS)
    mesh = coarse_and_fine(loops[0], loops[1:], sizes_for(*loops, plate, bed))[1]
    length = float(np.max(mesh.points))
    scale = plate.bending_stiffness / length**4

    @BilinearForm
    def bending(u, v, _):
        return ddot((1 - plate.poisson) * dd(u) + plate.poisson * eye(trace(dd(u)), 2), dd(v))

    @BilinearForm
    def springs(u, v, _):
        return bed.stiffness / scale * u * v

    @LinearForm
    def load(v, _):
        return 1.0 / scale * v

    def work():
        skmesh = MeshTri((mesh.points.T / length).copy(), mesh.triangles.T.copy())
        element = ElementTriMorley()
        basis = CellBasis(skmesh, element)
        band = CellBasis(skmesh, element, elements=np.flatnonzero(mesh.band))
        solve(bending.assemble(basis) + springs.assemble(band), load.assemble(basis))

    return work, len(mesh.triangles)


def loops_of(glass, set_back, width):
    return glass, offset(glass, -set_back), offset(glass, -set_back - width)


SIZES = {
    "1200 x 600 x 10": (rectangle(1200, 600, radius=60), 8, 15, 10.0),
    "3000 x 1500 x 12": (rectangle(3000, 1500, radius=60), 8, 15, 12.0),
    "6000 x 2500 x 19": (rectangle(6000, 2500, radius=60), 8, 20, 19.0),
    "6000 x 2500 x 10, bond 12": (rectangle(6000, 2500, radius=60), 8, 12, 10.0),
}


@pytest.mark.parametrize("name", SIZES)
def test_plate_next_to_scikit_fem_alone(compare, name, forget):
    glass, set_back, width, thickness = SIZES[name]
    loops, build_up = loops_of(glass, set_back, width), GlassBuildUp((thickness,))
    yardstick, triangles = bare(loops, build_up)
    plate = whole(loops, build_up)

    def work():
        forget()  # the mesh is kept
        plate()

    compare(f"plate {name}", work, f"scikit-fem alone, {triangles} triangles", yardstick, target=1.5, rounds=3)


@pytest.mark.parametrize("number", range(10))
def test_plate_of_each_sample_pane(benchmark, row, panes, number, forget):
    """Each pane of the vessel as it stands in the job, next to the two seconds one pane may take."""
    _, _, detail = panes[number]
    curves = detail.curves
    plies = tuple(ply.thickness for ply in detail.glass.plies if ply.material == "glass")
    films = tuple(ply.thickness for ply in detail.glass.plies if ply.material != "glass")
    pressure = panes[number][1].pressure
    loops, build_up = (curves.glass, curves.bead_outer, curves.bead_inner), GlassBuildUp(plies, films)

    def work():
        return bond_stress(
            *loops,
            build_up=build_up,
            bond_thickness=THICKNESS,
            effective_modulus=MODULUS,
            outward=pressure.outward,
            inward=pressure.inward,
            printed_inside=curves.frit_inner,
        )

    work()
    found: list[float] = []
    benchmark.pedantic(lambda: found.append(processor_seconds(work)), setup=forget, rounds=3, iterations=1)
    row(f"plate of pane {detail.code}", min(found), "what one pane may take", 2.0, target=1)


@pytest.mark.parametrize("inward", [0.5, 20.0])
def test_large_deflection_of_a_large_pane(benchmark, row, inward, forget):
    """A pane of 3000 x 1500 x 12 that bends little and one that bends far, next to the four seconds it may take."""
    loops = loops_of(rectangle(3000, 1500, radius=60), 8, 15)

    def work():
        return bond_stress(
            *loops,
            build_up=GlassBuildUp((12.0,)),
            bond_thickness=THICKNESS,
            effective_modulus=MODULUS,
            outward=0.2,
            inward=inward,
        )

    theory = work().inward.theory
    found: list[float] = []
    benchmark.pedantic(lambda: found.append(processor_seconds(work)), setup=forget, rounds=3, iterations=1)
    row(f"plate 3000 x 1500 x 12 at {inward:g} kPa, {theory}", min(found), "what it may take", 4.0, target=1)


def processor_seconds(work):
    start = time.process_time()
    work()
    return time.process_time() - start
