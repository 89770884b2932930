"""The one register of materials: every word of the job file has its entry, every entry its source and status."""

import typing

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of
from geometry.job.keys import all_keys
from geometry.job.section_tables import FRAMES, InterlayerKind, Treatment
from geometry.rules.calculation import Status
from geometry.rules.materials import FRAME_MATERIALS, GLASS_STRENGTH, INTERLAYER_DENSITIES, PROPERTIES, REGISTER


def words(choice):
    return set(typing.get_args(typing.get_args(choice)[0]))


def test_every_entry_has_a_positive_value_a_source_and_a_status():
    for name, entry in REGISTER.items():
        assert entry.value > 0, name
        assert len(entry.source) > 5, name
        assert isinstance(entry.status, Status), name
        assert entry.status is not Status.GIVEN, name
        assert entry.unit or name in ("glass Poisson's ratio", "glass refractive index"), name


def test_nothing_is_left_out_of_the_register_and_no_name_stands_twice():
    frames = [
        part for each in FRAME_MATERIALS.values() for part in (each.expansion, each.density, each.swell) if part is not None
    ]
    assert len(REGISTER) == len(PROPERTIES) + len(frames) + len(GLASS_STRENGTH)
    assert REGISTER["aluminium expansion"].value == 23e-6  # EN 1999-1-1
    assert REGISTER["toughened glass strength"].value == 120  # EN 12150-1


def test_every_word_of_the_job_file_has_its_entry():
    assert set(FRAME_MATERIALS) == set(FRAMES)
    assert words(Treatment) <= set(GLASS_STRENGTH)
    assert words(InterlayerKind) == set(INTERLAYER_DENSITIES)


def test_chemically_strengthened_glass():
    """EN 12337-1, from memory: 150 MPa of float glass."""
    assert GLASS_STRENGTH["chemically_strengthened"].value == 150
    assert GLASS_STRENGTH["chemically_strengthened"].status is Status.FROM_MEMORY


@pytest.mark.parametrize(
    ("key", "entry"),
    [
        ("expansion", "glass expansion"),
        ("density", "glass density"),
        ("young_modulus", "glass modulus"),
        ("poisson", "glass Poisson's ratio"),
        ("specific_heat", "glass specific heat for warming up"),
        ("refractive_index", "glass refractive index"),
    ],
)
def test_the_table_of_keys_tells_the_register(key, entry):
    shown = next(each.default for each in all_keys() if each.name == f"materials.glass.{key}")
    assert float(shown) == PROPERTIES[entry].value


@pytest.mark.parametrize(("film", "density"), [("pvb", 1070.0), ("ionoplast", 950.0), ("eva", 950.0)])
def test_the_mass_counts_the_film_that_is_ordered(film, density):
    """1 m² of 6 + 6 with 1.52 of film: 2500 × 0.012 + density × 0.00152, kg."""
    text = f"""
    [[pane]]
    code = "P1"
    frame = "steel"
    glass = {{ plies = [6, 6], interlayers = [1.52], interlayer_material = "{film}" }}
    outline = {{ rectangle = [1000, 1000] }}
    """
    job = job_of(text)
    assert build_detail(job, job.panes[0]).glass.mass == pytest.approx(30 + density * 1.52e-3)


@pytest.mark.parametrize(
    "make_up", ["plies = [3]", "plies = [3, 3], interlayers = [0.38]", "plies = [6, 8, 4], interlayers = [1.52, 0.76]"]
)
def test_make_ups_from_three_millimetres_to_three_plies(make_up):
    from geometry.findings.check import check_pane

    job = job_of(
        f'[[pane]]\ncode = "P1"\nframe = "grp"\nglass = {{ {make_up} }}\noutline = {{ rectangle = [700, 400], radius = 40 }}'
    )
    found = check_pane(job, job.panes[0])
    glass = job.panes[0].glass
    assert found.subject.detail.glass.thickness == sum(glass.plies) + sum(glass.interlayers)
    assert found.findings and found.quantities is not None
