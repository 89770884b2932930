"""A limit of the bead that stands with a default of its own beside the job's: both are the same figure."""

from __future__ import annotations

import dataclasses

import pytest

from geometry.job.limits import Limits
from geometry.sizing.bead_sizes import BeadLimits

JOB_KEY = {
    "series": "bond_widths",
    "width_least": "bond_width_least",
    "width_to_thickness": "bond_width_to_thickness",
    "width_over_thickness": "bond_width_over_thickness",
    "thickness_least": "bond_thickness_least",
    "thickness_least_small": "bond_thickness_least_small",
    "small_side": "small_pane",
    "thickness_most": "bond_thickness_most",
    "left_anywhere": "bond_thickness_anywhere",
    "slenderness": "notch_slenderness",
    "height_most": "notch_height_most",
    "contact_over_gap": "contact_over_gap",
    "nozzle_bore": "nozzle_bore",
    "nozzle_wall": "nozzle_wall",
    "thickness_per_metre": "bond_thickness_per_metre",
    "thickness_base": "bond_thickness_base",
    "bow_share": "bow_share",
    "thickness_step": "bond_thickness_step",
    "notch_times": "notch_height_to_thickness",
}
FIELDS = [field for field in dataclasses.fields(BeadLimits) if field.default is not dataclasses.MISSING]


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.name)
def test_a_default_that_stands_twice_is_the_same(field):
    wanted = getattr(Limits(), JOB_KEY[field.name])
    assert field.default == (wanted / 100 if field.name == "bow_share" else wanted)  # a share is typed in per cent
