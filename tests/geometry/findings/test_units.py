"""A job typed in other units gives the same figures and findings: no unit slips through between job file and rule.

Every number of the samples is typed again in another unit (inch, psi, degF ...), converted here by scipy's constants, which are CODATA and
NIST SP 811; the whole check of each pane must come out the same.
"""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest
from scipy import constants as c

from geometry.findings.check import check_pane
from geometry.job import job_of
from geometry.job.keys import all_keys
from geometry.job.merging import Places
from geometry.job.reading import judged

ROOT = Path(__file__).parents[3]
SAMPLES = ("sallow-wren.toml", "every-key.toml", "minimal.toml")

# standing unit -> another unit and the factor from the standing one
OTHER = {
    "mm": ("in", c.milli / c.inch),
    "m": ("ft", 1 / c.foot),
    "m2": ("ft2", 1 / c.foot**2),
    "kPa": ("psi", 1e3 / c.psi),
    "MPa": ("psi", 1e6 / c.psi),
    "min": ("s", c.minute),
    "h": ("min", 60.0),
    "d": ("h", 24.0),
    "ml": ("floz", 1e-6 / c.fluid_ounce_US),
    "ml/min": ("ml/s", 1 / 60),
    "kg": ("lb", 1 / c.pound),
    "kg/m3": ("lb/ft3", c.foot**3 / c.pound),
    "1/K": ("1/degF", c.degree_Fahrenheit),
    "mm/m": ("in/ft", 1e-3 * c.foot / c.inch),
    "min/m": ("s/m", 60.0),
    "min/m2": ("s/m2", 60.0),
    "m/s": ("kn", 1 / c.knot),
    "K": ("degF", 1 / c.degree_Fahrenheit),
    "deg": ("rad", c.degree),
    "l/m2": ("ml/m2", 1e3),
    "N": ("lbf", 1 / c.lbf),
    "m/s2": ("ft/s2", 1 / c.foot),
    "J/(kg K)": ("kJ/(kg K)", 1e-3),
}


def in_other_units(value, key, units):
    """The value of a key typed in another unit, tables and lists gone through."""
    if isinstance(value, dict):
        if key.endswith("layers"):
            return value
        return {
            name: in_other_units(
                inner, f"{key}.<name>" if key == "temperatures.cases" else f"{key}.{name}" if key else name, units
            )
            for name, inner in value.items()
        }
    if isinstance(value, list):
        if key.endswith(".path"):  # the bulge is a bare number
            return [[*(in_other_units(entry, key, units) for entry in point[:2]), *point[2:]] for point in value]
        return [in_other_units(entry, key, units) for entry in value]
    unit = (
        units.get(key)
        or units.get(f"pane.{key}")
        or units.get(key.removeprefix("pane."))
        or units.get("pane.outline." + key.rsplit(".", 1)[-1], "")
    )
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return value
    if unit == "degC":
        warm = float(c.convert_temperature(float(value), "C", "F"))
        return f"{warm:.17g} degF"
    if unit not in OTHER:
        return value
    other, factor = OTHER[unit]
    return f"{float(value) * factor:.17g} {other}"


def figures_of(job):
    found = {}
    for pane in job.panes:
        check = check_pane(job, pane)
        for finding in check.findings:
            found[pane.code, finding.name] = (finding.value, finding.limit, finding.verdict)
        for figure in check.figures:
            found[pane.code, figure.what, figure.where, figure.record.name] = (figure.value,)
    return found


def same(one, other):
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return math.isclose(one, other, rel_tol=1e-6, abs_tol=1e-6) or one == other
    return True  # words and tuples are made of the numbers compared elsewhere


FROM_SCHEDULE = ("panes", "columns")


@pytest.mark.parametrize("name", SAMPLES)
def test_a_job_in_other_units_is_the_same_job(name):
    text = (ROOT / "samples" / name).read_text(encoding="utf-8")
    units = {key.name: key.unit for key in all_keys()}
    table = tomllib.loads(text)
    typed = in_other_units({k: v for k, v in table.items() if k != "pane"}, "", units)
    typed["pane"] = [in_other_units(pane, "pane", units) for pane in table["pane"]]
    changed = sum(isinstance(v, str) and v != w for v, w in zip(leaves(typed), leaves(table), strict=True))
    assert changed > 4, "nothing was typed in another unit"
    plain_job = job_of(text, folder=ROOT / "samples")
    if "panes" in table:  # the panes of a schedule are typed in cells, which have units of their own
        plain_job = judged(
            {key: value for key, value in table.items() if key not in FROM_SCHEDULE},
            plain_job.office,
            Places("typed"),
            [],
            opened=plain_job.opened,
        )
    again = judged(
        {key: value for key, value in typed.items() if key not in FROM_SCHEDULE},
        plain_job.office,
        Places("typed again"),
        [],
        opened=plain_job.opened,
    )
    assert near(plain_job.model_dump(), again.model_dump()) == []
    plain, other = figures_of(plain_job), figures_of(again)
    assert plain.keys() == other.keys()
    wrong = {
        key: (plain[key], other[key])
        for key in plain
        if not all(same(a, b) for a, b in zip(plain[key], other[key], strict=True)) or plain[key][2:] != other[key][2:]
    }
    assert not wrong


def near(one, other, path=""):
    """The keys whose values are not the same, figures but for the last digits of a change of unit."""
    if isinstance(one, dict):
        return [each for key in one for each in near(one[key], other[key], f"{path}.{key}")]
    if isinstance(one, (list, tuple)):
        pairs = zip(one, other, strict=True)
        return [each for index, pair in enumerate(pairs) for each in near(*pair, f"{path}[{index}]")]
    if isinstance(one, float):
        return [] if math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9) else [path]
    return [] if one == other else [path]


def leaves(value):
    if isinstance(value, dict):
        for inner in value.values():
            yield from leaves(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from leaves(inner)
    else:
        yield value
