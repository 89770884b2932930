"""What a job knows: where each value comes from, what a pane takes from the vessel, and where outlines lie."""

from __future__ import annotations

import pytest
from shapely import Polygon

from geometry.job import JobError, job_of
from geometry.outline.measure import bounding_box, centroid
from outputs.sheet.layers import LAYERS as DRAWN_LAYERS

PANE = """
[[pane]]
code = "W1"
frame = "steel"
glass = { plies = [8] }
"""
RECTANGLE = "outline = { rectangle = [900, 450] }\n"


def job(shared: str = "", pane: str = RECTANGLE):
    return job_of(shared + PANE + pane)


# ---------------------------------------------------------------- where a value comes from


def test_given_default_worked_out_and_left_out():
    it = job('[adhesive]\nshear_modulus = "0.8 MPa"\n', RECTANGLE + "bond = { width = 12 }\nname = ''\n")
    assert it.source_of("adhesive.shear_modulus") == "given"  # although it equals the default
    assert it.source_of("adhesive.open_time") == "default"
    assert it.source_of("pane[0].bond.width") == "given"
    assert it.source_of("pane[0].bond.thickness") == "worked out"
    assert it.source_of("pane[0].pressure.inward") == "left out"
    assert it.source_of("sheet.approved_by") == "left out"
    assert it.source_of("sheet.owner") == "left out"
    assert it.panes[0].source_of("recess.depth") == "worked out"
    assert it.panes[0].source_of("timber.stile_width") == "left out"
    assert it.panes[0].source_of("name") == "given"
    assert it.was_given("climate.air") is False


@pytest.mark.parametrize("path", ["adhesive.glue", "pane[1].bond.width", "pane[0].bond.breadth", "nothing"])
def test_asking_for_a_key_that_does_not_exist_is_an_error(path):
    with pytest.raises(KeyError):
        job().was_given(path)


def test_a_job_cannot_be_changed():
    it = job()
    with pytest.raises(ValueError, match="frozen"):
        it.adhesive.pack = 310.0
    with pytest.raises(ValueError, match="frozen"):
        it.panes[0].bond.width = 1.0


# ---------------------------------------------------------------- the pane's own tables


def test_a_pane_takes_key_by_key_its_own_then_the_vessels_then_the_default():
    shared = "[climate]\nair = 21\nhumidity = 55\n[spacers]\nwidth = 6\n[chocks]\nlength = 60\n[temperatures]\nbonding = 20\n"
    own = RECTANGLE + "climate = { air = 28 }\nchocks = { at = [200, 700], hardness = 75 }\n"
    pane = job(shared, own).panes[0]
    assert (pane.climate.air, pane.climate.humidity, pane.climate.surface) == (28.0, 55.0, None)
    assert (pane.spacers.width, pane.spacers.length) == (6.0, 25.0)
    assert (pane.chocks.length, pane.chocks.hardness, pane.chocks.at) == (60.0, 75.0, (200.0, 700.0))
    assert pane.temperatures.bonding == 20.0
    assert pane.temperatures.cases is None and pane.source_of("temperatures.cases") == "worked out"
    assert pane.was_given("climate.humidity")
    assert pane.was_given("chocks.length")
    assert not pane.was_given("spacers.length")
    assert pane.source_of("climate.surface") == "worked out"


def test_given_temperature_cases_replace_the_three():
    pane = job("[temperatures.cases]\nsauna = { frame = 80, glass = 75 }\n").panes[0]
    assert list(pane.temperatures.cases) == ["sauna"]
    assert (pane.temperatures.cases["sauna"].frame, pane.temperatures.cases["sauna"].glass) == (80.0, 75.0)


def test_a_pressure_left_out_is_not_nought():
    assert job().panes[0].pressure.outward is None
    assert job(pane=RECTANGLE + "pressure = { outward = '2 psi' }\n").panes[0].pressure.outward == pytest.approx(
        13.789514, rel=1e-6
    )


def test_laminated_glass_counts_its_faces():
    """Faces are counted from the weather side: a pane of two plies is bonded on face 4 (common practice in the glass trade)."""
    pane = job_of(PANE.replace("[8]", "[6, 6], interlayers = [1.52]") + RECTANGLE).panes[0]
    assert pane.glass.bond_face == 4
    assert pane.glass.thickness == pytest.approx(13.52)


# ---------------------------------------------------------------- outlines of their own


def test_a_recess_of_its_own_moves_with_the_pane():
    text = "outline = { polygon = [[100, 200], [1000, 200], [1000, 650], [100, 650]] }\n"
    text += "recess = { outline = { polygon = [[94, 193], [1006, 194], [1006, 656], [94, 656]] } }\n"
    pane = job(pane=text).panes[0]
    glass = Polygon([(v.x, v.y) for v in pane.glass_outline.vertices])
    recess = Polygon([(v.x, v.y) for v in pane.recess_outline.vertices])
    assert glass.bounds == (0, 0, 900, 450)
    assert recess.bounds == (-6, -7, 906, 456)
    assert recess.contains(glass)
    assert glass.exterior.distance(recess.exterior) == pytest.approx(6.0, abs=0.01)


def test_an_ellipse_of_the_print_is_concentric_with_the_pane():
    pane = job(pane="outline = { ellipse = [700, 400] }\nfrit = { outline = { ellipse = [626, 326] } }\n").panes[0]
    assert centroid(pane.frit_outline) == pytest.approx((0, 200), abs=1e-6)
    assert bounding_box(pane.frit_outline) == pytest.approx((-313, 37, 313, 363), abs=0.01)
    assert pane.recess_outline is None


# ---------------------------------------------------------------- layers and files


def test_the_layers_that_may_be_renamed_are_those_that_are_drawn():
    from geometry.job.shared import LAYERS

    assert set(LAYERS) == {layer.name for layer in DRAWN_LAYERS}


def test_a_layer_has_the_office_name_or_its_own():
    it = job('[layers]\nGLASS = "G-PANE"\n')
    assert (it.layer("GLASS"), it.layer("RECESS")) == ("G-PANE", "RECESS")


def test_two_layers_may_trade_names():
    it = job('[layers]\nGLASS = "RECESS"\nRECESS = "GLASS"\n')
    assert it.layer("GLASS") == "RECESS"


def test_files_are_named_by_code_and_revision():
    assert job().panes[0].file_stem == "W1"
    assert job(pane=RECTANGLE + 'revision = "C"\n').panes[0].file_stem == "W1-C"


def test_what_a_supplier_is_asked_for_is_typed_or_left_blank():
    plain = job().panes[0]
    assert (plain.glass.arris, plain.glass.heat_soaked, plain.frit.opacity, plain.tolerances.diagonals) == (None,) * 4
    shared = "[glass]\narris = 1.5\nheat_soaked = false\n"
    more = 'frit = { opacity = 99 }\ntolerances = { diagonals = "0.3 cm" }\n'
    typed = job(shared, RECTANGLE + more).panes[0]
    assert (typed.glass.arris, typed.glass.heat_soaked) == (1.5, False)
    assert (typed.frit.opacity, typed.tolerances.diagonals) == (99, 3)


@pytest.mark.parametrize("bow", ["out of the plan", "into the plan", "left"])
def test_the_bow_may_lie_out_of_or_into_the_plan(bow):
    pane = job(pane=f'outline = {{ rectangle = [900, 450] }}\nside = "centre"\nforward = "{bow}"\n').panes[0]
    assert (pane.side, pane.forward_on_plan) == ("centre", bow)
    with pytest.raises(JobError, match="out of the plan, into the plan"):
        job(pane='outline = { rectangle = [900, 450] }\nforward = "towards"\n')
