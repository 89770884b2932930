"""Dew point and the rule of three kelvin.

Texts: WMO No. 8, Annex 4.B (Magnus form); a German dew point table in the style of DIN 4108-3 and glossary pages, which round to
0.1 K and are within 0.15 K; University of Arizona AZMET (Tetens form); Alduchov and Eskridge (1996); ISO 8502-4 as quoted.
"""

import math

import pytest

from geometry.rules.day import climate

published, second_hand = pytest.mark.published, pytest.mark.second_hand
computed, from_memory = pytest.mark.computed, pytest.mark.from_memory


@published
@pytest.mark.parametrize(
    ("air", "humidity", "printed"),
    [
        (20, 50, 9.3),
        (23, 50, 12.0),
        (20, 70, 14.4),
        (10, 90, 8.4),
        (10, 90, 8.5),
        (22, 70, 16.3),
        (22, 45, 9.5),
        (24, 60, 15.8),
        (20, 60, 12.0),
        (10, 50, 0.0),
        (30, 55, 20.0),
        (30, 80, 26.1),
        (25, 60, 16.7),
        (25, 80, 21.4),
        (15, 80, 11.7),
        (18, 65, 11.3),
    ],
)
def test_printed_dew_points(air, humidity, printed):
    """The table has misprints, left out here: 30 °C / 65 % (23.7 where the formula has 22.7), 14 and 16 °C / 90 %."""
    assert climate.dew_point(air=air, humidity=humidity) == pytest.approx(printed, abs=0.15)


@computed
@pytest.mark.parametrize(
    ("air", "humidity", "dew"),
    [
        (20, 50, 9.26),
        (23, 50, 12.01),
        (20, 70, 14.36),
        (10, 90, 8.43),
        (22, 70, 16.27),
        (22, 45, 9.52),
        (24, 60, 15.75),
        (20, 60, 12.00),
        (10, 50, 0.04),
        (30, 55, 19.97),
        (30, 80, 26.17),
        (25, 60, 16.69),
        (25, 80, 21.31),
        (15, 80, 11.58),
        (18, 65, 11.32),
        (35, 70, 28.71),
        (27, 65, 19.86),
        (5, 80, 1.83),
        (22, 75, 17.4),
        (28, 70, 22.0),
        (10, 85, 7.6),
    ],
)
def test_arithmetic_of_the_formula(air, humidity, dew):
    """The formula of WMO No. 8 worked apart from this code."""
    assert climate.dew_point(air=air, humidity=humidity) == pytest.approx(dew, abs=0.0051 if round(dew, 1) != dew else 0.051)


@published
@pytest.mark.parametrize(("a", "b"), [(17.27, 237.3), (17.625, 243.04)])
@pytest.mark.parametrize("air", [5, 15, 25, 35])
@pytest.mark.parametrize("humidity", [80, 95])
def test_other_published_coefficients_agree(a, b, air, humidity):
    """AZMET's Tetens set and that of Alduchov and Eskridge: within 0.05 K above freezing."""
    wet = math.log(humidity / 100) + a * air / (b + air)
    assert climate.dew_point(air=air, humidity=humidity) == pytest.approx(b * wet / (a - wet), abs=0.05)


@published
def test_below_freezing_the_table_lists_the_frost_point():
    """2 °C / 50 %: the table prints -6.6; over water it would be -7.35, over ice (coefficients from memory) -6.5."""
    assert climate.dew_point(air=2, humidity=50) == pytest.approx(-6.6, abs=0.15)
    assert climate.dew_point(air=2, humidity=50, ice_below_zero=False) == pytest.approx(-7.35, abs=0.005)


@pytest.mark.parametrize(
    ("temperature", "pressure", "within"),
    [
        pytest.param(23, 2802.5, 0.05, marks=computed),
        pytest.param(20, 2332.6, 0.05, marks=computed),
        pytest.param(23, 2807.8, 0.003 * 2807.8, marks=from_memory, id="ISO-13788-23"),
        pytest.param(20, 2337.0, 0.003 * 2337.0, marks=from_memory, id="ISO-13788-20"),
        pytest.param(20, 2339.0, 0.003 * 2339.0, marks=from_memory, id="steam-table-20"),
    ],
)
def test_saturation_pressure(temperature, pressure, within):
    assert climate.saturation_pressure(temperature=temperature) == pytest.approx(pressure, abs=within)


@published
@pytest.mark.parametrize(("air", "humidity", "least"), [(20, 70, 17.4), (10, 90, 11.4)])
def test_three_kelvin_above_the_dew_point(air, humidity, least):
    """Worked examples of coating guidance after ISO 8502-4."""
    assert climate.least_surface_temperature(air=air, humidity=humidity, margin=3) == pytest.approx(least, abs=0.05)


@second_hand
def test_humidity_limit():
    """ISO 12944-7 as quoted: below 85 %."""
    assert climate.ready_to_bond(air=20, humidity=80, glass=20, frame=20, margin=3, most_humidity=85, coldest=5, warmest=35).go
    refused = climate.ready_to_bond(air=20, humidity=88, glass=22, frame=22, margin=3, most_humidity=85, coldest=5, warmest=35)
    assert not refused.go and "humidity" in refused.reasons[0]


@from_memory
@pytest.mark.parametrize(("a", "b"), [(17.67, 243.5), (17.269, 237.3)], ids=["Bolton-1980", "ISO-13788-annex-E"])
@pytest.mark.parametrize("air", [5, 15, 25, 35])
@pytest.mark.parametrize("humidity", [80, 95])
def test_remembered_coefficients_agree(a, b, air, humidity):
    """Within 0.05 K above freezing."""
    wet = math.log(humidity / 100) + a * air / (b + air)
    assert climate.dew_point(air=air, humidity=humidity) == pytest.approx(b * wet / (a - wet), abs=0.05)


@from_memory
@pytest.mark.parametrize("air", [10, 20, 30])
@pytest.mark.parametrize("humidity", [50, 65, 80, 95])
def test_power_form_agrees(air, humidity):
    """DIN 4108: (humidity)^(1/8.02) × (109.8 + air) - 109.8, a coarser form: within 0.15 K like its table."""
    power = (humidity / 100) ** (1 / 8.02) * (109.8 + air) - 109.8
    assert climate.dew_point(air=air, humidity=humidity) == pytest.approx(power, abs=0.15)


@computed
def test_vapour_of_the_standard_climate():
    """Half of 2802.5 Pa."""
    assert climate.vapour_pressure(air=23, humidity=50) == pytest.approx(1401.3, abs=0.05)
