"""Stiffness of the bead across its thickness: against a finite-element strip and against the closed forms at both ends.

The rule is that of a long rubber strip held on both faces (Gent and Lindley, The compression of bonded rubber blocks, 1959; from
memory). Checked here by what does not rest on that memory: an incompressible elastic strip solved with scikit-fem (plane strain is
Stokes flow with the shear modulus in place of the viscosity), and two limits worked by hand.
"""

from functools import cache

import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementQuad1, ElementQuad2, ElementVector, MeshQuad, bmat, condense, solve
from skfem.helpers import ddot, div, sym_grad

from geometry.rules.holding import bond
from geometry.rules.holding.shear_bed import Station, shear_bed

pytestmark = pytest.mark.computed


@cache
def strip(width, thickness, *, across=20, way="lift"):
    """Apparent modulus of an incompressible strip of shear modulus 1 between two stiff faces, by quadratic elements.

    The upper face is lifted, tilted about its middle or shifted sideways: force (or moment) over the movement, the area (or its second
    moment) and the thickness.
    """

    def graded(number):
        return (1 - np.cos(np.linspace(0, np.pi, number + 1))) / 2  # finest at the edges, where the faces let go

    mesh = MeshQuad.init_tensor((graded(2 * across) - 0.5) * width, graded(across) * thickness)
    moves = Basis(mesh, ElementVector(ElementQuad2()), intorder=4)
    presses = Basis(mesh, ElementQuad1(), intorder=4)

    @BilinearForm
    def shear(u, v, _):
        return 2 * ddot(sym_grad(u), sym_grad(v))

    @BilinearForm
    def volume(u, q, _):
        return -div(u) * q

    stiffness, kept = shear.assemble(moves), volume.assemble(moves, presses)
    upper = moves.get_dofs(lambda x: np.isclose(x[1], thickness))
    lower = moves.get_dofs(lambda x: np.isclose(x[1], 0.0))
    found = np.zeros(stiffness.shape[0] + kept.shape[0])
    lifted, level = upper.all("u^2"), width
    if way == "tilt":
        found[lifted], level = moves.doflocs[0, lifted], width**3 / 12
    else:
        found[lifted if way == "lift" else upper.all("u^1")] = 1.0
    held = np.unique(np.concatenate([upper.all(), lower.all()]))
    whole = bmat([[stiffness, kept.T], [kept, None]], "csr")
    moved = solve(*condense(whole, np.zeros(len(found)), x=found, D=held))[: stiffness.shape[0]]
    return moved @ (stiffness @ moved) * thickness / level  # twice the work of a movement of 1


@pytest.mark.parametrize(("width", "thickness"), [(10, 5), (15, 5), (18, 6), (14, 4), (20, 5)])
def test_a_strip_by_finite_elements(width, thickness):
    by_rule = bond.tension_modulus(shear_modulus=1, bond_width=width, bond_thickness=thickness)
    assert by_rule == pytest.approx(strip(width, thickness), rel=0.035)


def test_the_strip_itself_has_converged():
    assert strip(15, 5, across=10) == pytest.approx(strip(15, 5, across=20), rel=2e-3)


def test_a_tall_strip_is_in_plane_strain():
    """No holding by the faces: E / (1 - ν²) = 3 G / (1 - 1/4) = 4 G."""
    assert bond.tension_modulus(shear_modulus=0.8, bond_width=0.01, bond_thickness=10) == pytest.approx(4 * 0.8, rel=1e-5)


def test_a_flat_strip_is_a_squeezed_film():
    """The faces hold all: pressure p'' = -12 G v / t³ across the width, its mean G (w / t)² of the strain v / t."""
    width, thickness = 1000.0, 5.0
    x = np.linspace(-width / 2, width / 2, 2001)
    pressure = 6 / thickness**3 * (width**2 / 4 - x**2)  # of a movement of 1 and a shear modulus of 1
    by_hand = float(np.trapezoid(pressure, x) if hasattr(np, "trapezoid") else np.trapz(pressure, x)) / width * thickness
    assert bond.tension_modulus(shear_modulus=1, bond_width=width, bond_thickness=thickness) == pytest.approx(by_hand, rel=2e-4)


def test_the_usual_bead_is_several_times_stiffer_than_free_rubber():
    """Three times as wide as thick: 4 G (1 + 1.5²) = 13 G, where free rubber has 3 G."""
    assert bond.tension_modulus(shear_modulus=0.8, bond_width=15, bond_thickness=5) == pytest.approx(10.4)


WIDE = (1, 1.5, 2, 2.5, 3, 3.5, 4)  # times as wide as thick
ACROSS = {  # moduli over the shear modulus, computed by another hand with another program of two-dimensional elements
    "lift": (5.25, 6.39, 8.01, 10.12, 12.73, 15.83, 19.43),
    "tilt": (6.74, 5.86, 5.75, 5.95, 6.35, 6.88, 7.54),
    "shear": (0.76, 0.85, 0.885, 0.91, 0.92, 0.93, 0.94),
}


@pytest.mark.parametrize(("way", "figures"), ACROSS.items(), ids=list(ACROSS))
def test_a_strip_lifted_tilted_and_sheared(way, figures):
    """The table's digits; its elements are coarser at the flanks, where the faces let go."""
    assert [strip(wide * 5, 5, way=way) for wide in WIDE] == pytest.approx(figures, rel=0.012)


@pytest.mark.parametrize(("wide", "share"), [(1.5, 0.85), (2, 0.885), (2.5, 0.91), (3, 0.92)])
def test_a_shear_bed_is_no_softer_than_a_strip_that_is_free_at_its_flanks(wide, share):
    """The free flanks take a twelfth to a seventh of the stress: the bed, which has none, is on the safe side by that."""
    thickness = 5.0
    stations = [Station(x, y, 100.0) for x in (-300.0, 300.0) for y in (-200.0, 200.0)]
    bed = shear_bed(
        stations=stations, differential_strain=1e-3, shear_modulus=0.5, bond_width=wide * thickness, bond_thickness=thickness
    )
    by_strip = 0.5 * strip(wide * thickness, thickness, way="shear") * bed.largest / thickness
    assert by_strip == pytest.approx(bed.shear_stress * share, rel=0.012)
    assert by_strip < bed.shear_stress


@pytest.mark.parametrize("wide", [1.5, 2, 2.5, 3, 3.5, 4])
def test_a_bead_tilts_more_easily_than_it_lifts(wide):
    """The plate's bed has one modulus for both, that of lifting: the bound that gathers the load most."""
    by_rule = bond.tension_modulus(shear_modulus=1, bond_width=wide * 5, bond_thickness=5)
    assert strip(wide * 5, 5, way="tilt") < by_rule
