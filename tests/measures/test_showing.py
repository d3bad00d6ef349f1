"""Quantities are written as people read them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.measures import Quantity, both_systems, parse, show
from tailblock.measures.definitions import EXAMPLES, UNITS


# 1/64 in = 0.396875 mm exactly; 1.5, 2.0 and 2.5 mm are 3.78, 5.04 and 6.30 64ths.
@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (2.78, "2.78 mm (7/64 in)"),
        (2.778125, "2.78 mm (7/64 in)"),
        (1.5, "1.50 mm (1/16 in)"),
        (2.0, "2.00 mm (5/64 in)"),
        (2.5, "2.50 mm (6.5/64 in)"),
        (3.0, "3.00 mm (7.5/64 in)"),
        (3.175, "3.18 mm (1/8 in)"),
        (-3.175, "-3.18 mm (-1/8 in)"),
        (1.0, "1.00 mm (2.5/64 in)"),
        (0.3, "0.30 mm (.012 in)"),
        (-0.3, "-0.30 mm (-.012 in)"),
        (0.0254, "0.03 mm (.001 in)"),
        (0.0, "0.00 mm (.000 in)"),
        (-0.0001, "0.00 mm (.000 in)"),
        (25.4, "25.40 mm (1 in)"),
        (25.39, "25.39 mm (1 in)"),
        (30.1625, "30.16 mm (1 3/16 in)"),
        (27.0, "27.00 mm (1 1/16 in)"),
        (647.7, "647.7 mm (25 1/2 in)"),
        (-647.7, "-647.7 mm (-25 1/2 in)"),
    ],
)
def test_lengths_for_people_in_both_systems(mm: float, text: str) -> None:
    assert both_systems(mm) == text


@pytest.mark.parametrize(
    ("value", "dimension", "text"),
    [
        (2.0, "length", "2.00 mm (5/64 in)"),
        (21.0, "temperature", "21 °C (69.8 °F)"),
        (-40.0, "temperature", "-40 °C (-40 °F)"),
        (2.5, "angle", "2.5°"),
        (43.0, "percent", "43 %"),
        (-4.0, "cents", "-4 cents"),
        (-0.01, "cents", "0 cents"),
        (3.0, "count", "3"),
        (100.0, "count", "100"),
        (453.59237, "mass", "454 g (16 oz)"),
        (2100.0, "mass", "2.1 kg (4.63 lb)"),
        (4.4482216152605, "force", "4 N (1 lbf)"),
        (734.0, "force", "734 N (165 lbf)"),
        (440.0, "frequency", "440 Hz"),
        (5.3, "mass per length", "5.3 g/m"),
        (0.57281, "mass per length", "0.573 g/m"),
        (0.00148, "count", "0.00148"),
        (-0.7937, "count", "-0.794"),
        (1e-9, "count", "0"),
        (0.0, "count", "0"),
        (7850.0, "density", "7850 kg/m³"),
        (0.28, "stress", "0.28 N/mm²"),
        (9175.0, "moment", "9.2 N m (81.2 lbf in)"),
        (112.9848290276167, "moment", "0.113 N m (1 lbf in)"),
        (2.95e7, "bending stiffness", "29.5 N m² (10279.4 lbf in²)"),
        (2869.8146573014642, "bending stiffness", "0.00287 N m² (1 lbf in²)"),
        (30 / 3600, "time", "30 s"),
        (0.2, "time", "12 min"),
        (1.5, "time", "90 min"),
        (3.5, "time", "3.5 h"),
        (504.0, "time", "21 days"),
        (4383.0, "time", "6 months"),
        (87660.0, "time", "10 years"),
    ],
)
def test_any_quantity_for_people(value: float, dimension: str, text: str) -> None:
    assert show(Quantity(value, dimension)) == text


@pytest.mark.parametrize("dimension", EXAMPLES)
def test_the_longest_number_can_still_be_shown(dimension: str) -> None:
    unit = next(unit.name for unit in UNITS if unit.dimension == dimension)
    assert show(parse("9" * 36, dimension, unit).quantity).startswith("1")


@given(st.floats(-3000, 3000))
def test_what_is_shown_reads_back_within_its_rounding(mm: float) -> None:
    metric, shop = both_systems(mm).removesuffix(")").split(" (")
    assert parse(metric, "length").quantity.value == pytest.approx(
        mm, abs=0.0501 if abs(mm) >= 100 else 0.00501
    )
    half_step = 25.4 / 256 if abs(mm) >= 1 else 25.4 / 2000
    assert parse(shop, "length").quantity.value == pytest.approx(mm, abs=half_step * 1.0001)
