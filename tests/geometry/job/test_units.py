"""Units of the job file, against the constants of scipy (CODATA, NIST SP 811) and a second way of counting."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from geometry.job.units import UNITS, in_standing_unit

# unit -> its worth in the SI unit of its kind
SI = {
    "length": {
        "mm": constants.milli, "cm": constants.centi, "m": 1.0, "um": constants.micron, "µm": constants.micron,
        "ft": constants.foot, "in": constants.inch,
    },
    "area": {"m2": 1.0, "mm2": 1e-6, "ft2": constants.foot**2},
    "angle": {"deg": constants.degree, "°": constants.degree, "rad": 1.0},
    "pressure": {
        "Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "mbar": constants.bar / 1000, "bar": constants.bar, "N/mm2": 1e6, "kN/m2": 1e3,
        "psi": constants.psi,
    },
    "time": {"min": constants.minute, "s": 1.0, "h": constants.hour, "d": constants.day},
    "volume": {"ml": 1e-6, "cm3": 1e-6, "l": constants.liter, "floz": constants.fluid_ounce_US},
    "flow": {"ml/min": 1e-6 / 60, "cm3/min": 1e-6 / 60, "l/min": 1e-3 / 60, "ml/s": 1e-6},
    "density": {"kg/m3": 1.0, "g/cm3": 1000.0, "lb/ft3": constants.pound / constants.foot**3},
    "expansion": {
        "1/K": 1.0, "/K": 1.0, "um/(m K)": 1e-6, "µm/(m K)": 1e-6,
        "1/degF": 1 / constants.degree_Fahrenheit, "/degF": 1 / constants.degree_Fahrenheit,
    },
    "share": {"%": 0.01},
    "slope": {"mm/m": 1e-3, "in/ft": constants.inch / constants.foot},
    "time per length": {"min/m": 60.0, "s/m": 1.0},
    "time per area": {"min/m2": 60.0, "s/m2": 1.0},
    "depth of cure": {"mm/d^0.5": 1e-3 / constants.day**0.5},
    "coat": {"l/m2": constants.liter, "ml/m2": constants.milli * constants.liter},
    "length per area": {"mm/m2": constants.milli},
    "heat transfer": {"W/(m2 K)": 1.0},
    "specific heat": {"J/(kg K)": 1.0, "kJ/(kg K)": constants.kilo},
    "hardness": {"Shore A": 1.0},
    "mass": {"kg": 1.0, "g": constants.gram, "lb": constants.pound},
    "speed": {"m/s": 1.0, "km/h": constants.kmh, "kn": constants.knot},
    "force": {"N": 1.0, "kN": 1e3, "kgf": constants.kgf, "lbf": constants.lbf},
    "acceleration": {"m/s2": 1.0, "gn": constants.g, "ft/s2": constants.foot},
    "temperature difference": {"K": 1.0, "degC": 1.0, "degF": constants.degree_Fahrenheit},
    "number": {},
}  # fmt: skip


def test_every_unit_has_an_outside_figure():
    assert {kind: set(units) for kind, units in UNITS.items() if kind != "temperature"} == {k: set(v) for k, v in SI.items()}


@pytest.mark.parametrize(("kind", "unit", "standing"), [(k, u, s) for k, units in SI.items() for u in units for s in units])
def test_factor_of_each_pair_of_units(kind, unit, standing):
    found = in_standing_unit(f"7.25 {unit}", kind=kind, unit=standing)
    assert found == pytest.approx(7.25 * SI[kind][unit] / SI[kind][standing], rel=1e-12)


@pytest.mark.parametrize(("unit", "scale"), [("degC", "C"), ("°C", "C"), ("degF", "F"), ("°F", "F"), ("K", "K")])
def test_temperatures(unit, scale):
    for number in (-40, 0, 68, 212):
        expected = constants.convert_temperature(number, scale, "C")
        assert in_standing_unit(f"{number} {unit}", kind="temperature", unit="degC") == pytest.approx(expected, abs=1e-9)


@given(st.decimals(-1000, 1000, places=4))
def test_inches_are_exact_to_the_last_digit(number):
    """One inch is 25.4 mm exactly, by definition of 1959."""
    assert in_standing_unit(f"{number} in", kind="length", unit="mm") == float(number * 254 / 10)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "mm",
        "6",
        "6 ",
        "6 mm mm",
        "0x6 mm",
        "1,5 mm",
        "6 mm\n7",
        "nan mm",
        "inf mm",
        "1e999 mm",
        "٣ mm",
        "6 Mm",
        "6 KPA",
        "1/0 mm",
        "1/2/3 mm",
    ],
)
def test_texts_that_are_no_measure(text):
    with pytest.raises(ValueError, match="allowed"):
        in_standing_unit(text, kind="length", unit="mm")


@pytest.mark.parametrize("text", ["6mm", "6 mm", " 6  mm ", "+6. mm", "0.6e1 mm", ".6 cm", "6 MM", "12/2 mm", "5 1/1 mm"])
def test_ways_of_writing_six_millimetres(text):
    assert in_standing_unit(text, kind="length", unit="mm") == 6.0


def test_a_bare_factor_takes_no_unit():
    assert in_standing_unit(2.5, kind="number", unit="") == 2.5
    for text in ("2.5 mm", "2.5"):
        with pytest.raises(ValueError, match="without a unit|without its unit"):
            in_standing_unit(text, kind="number", unit="")


@pytest.mark.parametrize(
    ("text", "inches"), [("3/4 in", 0.75), ("1 1/2 in", 1.5), ("-1 1/2 in", -1.5), ("+1/64 in", 0.015625), ("−3/8 IN", -0.375)]
)
def test_fractions_of_an_inch_are_exact(text, inches):
    assert in_standing_unit(text, kind="length", unit="mm") == float(Fraction(inches) * Fraction(254, 10))


def test_raised_digits_and_points_between_factors():
    assert in_standing_unit("0.8 N/mm²", kind="pressure", unit="MPa") == 0.8
    assert in_standing_unit("2500 kg/m³", kind="density", unit="kg/m3") == 2500
    assert in_standing_unit("8 W/(m²·K)", kind="heat transfer", unit="W/(m2 K)") == 8


def hint(text, kind, unit):
    with pytest.raises(ValueError, match="allowed") as caught:
        in_standing_unit(text, kind=kind, unit=unit)
    return caught.value.context["hint"]


@pytest.mark.parametrize(
    ("text", "kind", "unit"),
    [
        ("300 kg/m2", "density", "kg/m3"),
        ("3 KPA", "pressure", "kPa"),
        ("3 mPa", "pressure", "MPa"),
        ("3 M", "length", "mm"),
        ("3 mn", "length", "mm"),
    ],
)
def test_no_hint_names_another_quantity(text, kind, unit):
    assert hint(text, kind, unit) == ""


@pytest.mark.parametrize(
    ("text", "kind", "unit", "said"),
    [
        ("6 inches", "length", "mm", "did you mean 6 in?"),
        ("20 C", "temperature", "degC", "did you mean 20 degC?"),
        ("6 millimetres", "length", "mm", "did you mean 6 mm?"),
        ("1,5 mm", "length", "mm", "did you mean 1.5 mm?"),
        ("1,500 mm", "length", "mm", "1.500 or 1500"),
    ],
)
def test_hints_for_the_same_quantity(text, kind, unit, said):
    assert said in hint(text, kind, unit)


@pytest.mark.parametrize("kind", [kind for kind in UNITS if UNITS[kind]])
def test_the_pattern_takes_what_the_reader_takes(kind):
    import re

    from geometry.job.units import text_pattern

    for unit in UNITS[kind]:
        for text in (f"7.25 {unit}", f"1 1/2 {unit}", f"-3e2{unit}"):
            assert re.search(text_pattern(kind), text)
            in_standing_unit(text, kind=kind, unit=next(iter(UNITS[kind])))
    assert not re.search(text_pattern(kind), "7.25") and not re.search(text_pattern(kind), "7.25 furlong")
