"""The laminate by several couplings: what is in use stands between the ends, and its figures are those of the plate."""

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of, with_changes
from geometry.plate.glass import GlassBuildUp, effective_thickness
from geometry.workings.laminate import BY_MODULUS, IN_USE, ONE_SHEET, SLIDING
from outputs.record.data import pane_data
from outputs.record.laminate_part import laminate_table

BASE = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10, 10], interlayers = [1.52], shear_coupling = 20 }
outline = { rectangle = [1500, 1000], radius = 60 }
"""
)


def checked(**changes):
    job = with_changes(BASE, "A", {key.replace("__", "."): value for key, value in changes.items()})
    return check_pane(job, job.panes[0], build_detail(job, job.panes[0]))


def rows(check):
    return {each.method: each for each in check.laminate.rows}


def test_one_ply_is_no_laminate():
    check = checked(glass={"plies": [10]})
    assert check.laminate is None and laminate_table(check.laminate) == ""
    assert pane_data(check)["laminate"] is None


@pytest.mark.parametrize("coupling", [0, 20, 100])
def test_what_is_in_use_is_what_the_plate_takes(coupling):
    """Nothing given: 0, the safe end. What the plate is given and what the table says are one figure."""
    check = checked(glass__shear_coupling=coupling)
    plate = effective_thickness(GlassBuildUp((10.0, 10.0), (1.52,), shear_coupling=coupling / 100))
    used, ends = rows(check)[IN_USE], (rows(check)[SLIDING], rows(check)[ONE_SHEET])
    assert used.coupling == coupling / 100
    assert (used.deflection, *used.stress) == pytest.approx((plate.deflection, *plate.stress))
    assert ends[0].deflection - 1e-9 <= used.deflection <= ends[1].deflection + 1e-9


def test_the_interlayers_modulus_is_information():
    """Not given: not checked, and said so. Given: a row of its own, and no finding moves."""
    without, given = checked(), checked(glass__interlayer_modulus=0.44)
    assert BY_MODULUS not in rows(without) and "not checked: no glass.interlayer_modulus given" in without.laminate.missing
    assert 0 < rows(given)[BY_MODULUS].coupling < 1 and not given.laminate.missing
    assert [(each.name, each.value, each.verdict) for each in without.findings] == [
        (each.name, each.value, each.verdict) for each in given.findings
    ]


def test_three_plies_have_no_row_by_the_modulus():
    check = checked(glass={"plies": [6, 6, 6], "interlayers": [0.76, 0.76], "interlayer_modulus": 0.44})
    assert BY_MODULUS not in rows(check) and "for two plies, not 3" in check.laminate.missing


def test_record_and_data_say_the_same():
    check = checked(glass__interlayer_modulus=0.44)
    told, page = pane_data(check)["laminate"], laminate_table(check.laminate)
    assert [each["method"] for each in told["rows"]] == [each.method for each in check.laminate.rows]
    for each in told["rows"]:
        assert f"{each['method']}</" in page.replace("&#x27;", "'")
        assert f"{each['deflection']:.2f}".rstrip("0").rstrip(".").replace(".", ",") in page
