"""Rows of the table of figures: wood, air and climate."""

from __future__ import annotations

from tailblock.measures import air, climate, season_dome, wood
from tailblock.measures.rows.row import FROM_MEMORY, WOOD_HANDBOOK, row

MAGNUS = "Magnus form, coefficients of Alduchov and Eskridge (1996), equation 21"
_AIRS = "humidity_before humidity_after temperature_before temperature_after"

ROWS = (
    row(
        wood.equilibrium_moisture,
        "temperature humidity species_offset",
        "1800/W (a/(1-a) + (K1 a + 2 K1 K2 a^2)/(1 + K1 a + K1 K2 a^2)) + o, a = K RH/100",
        f"{WOOD_HANDBOOK}, equation 4-5",
        result="percent",
    ),
    row(
        wood.dimensional_change,
        "size coefficient moisture_before moisture_after",
        "D C (M after - M before)",
        f"{WOOD_HANDBOOK}, equation 13-2",
    ),
    row(
        wood.shrinkage_coefficient,
        "shrinkage shrinkage_start",
        "(S/F) / (1 - (S/F)(F - 10))",
        f"{WOOD_HANDBOOK}, note to table 13-5, the rule {FROM_MEMORY}",
        result="count",
    ),
    row(
        wood.change_from_shrinkage,
        "size shrinkage moisture_before moisture_after",
        "D (M after - M before) / (3000/S - 30 + M before)",
        f"{WOOD_HANDBOOK}, equation 13-3, its algebra {FROM_MEMORY}",
    ),
    row(
        wood.fret_sprout,
        "board_width board_coefficient moisture_before moisture_after",
        "-W C (M after - M before) / 2",
        f"{WOOD_HANDBOOK}, equation 13-2",
    ),
    row(
        wood.moisture_underway,
        "moisture_before moisture_final time_held wood_time",
        "M final + (M before - M final) exp(-t/tau)",
        FROM_MEMORY,
        result="percent",
    ),
    row(
        air.dew_point,
        "temperature humidity",
        "C g / (B - g), g = ln(RH/100) + B t / (C + t), B = 17.625, C = 243.04",
        MAGNUS,
        result="temperature",
    ),
    row(
        air.warmed_humidity,
        "temperature humidity temperature_after",
        "RH e(t) / e(t after), e = 6.1094 exp(17.625 t / (243.04 + t))",
        MAGNUS,
        result="percent",
    ),
    row(
        season_dome.arc_length,
        "dome chord",
        "c t / sin t, t = 2 atan(2 h / c)",
        "plane geometry",
    ),
    row(
        season_dome.dome_at_fixed_chord,
        "dome chord growth",
        "h for which c t / sin t has grown by so much, t = 2 atan(2 h / c); an upper limit",
        "plane geometry",
    ),
    row(
        season_dome.braced_dome_change,
        "chord moisture_before moisture_after top_coefficient top_thickness top_modulus_across "
        "brace_spacing brace_width brace_height brace_modulus bending_share",
        "q k c^2 / 8, k = e d / (EI (1/EA t + 1/EA b)), e = C (M after - M before)",
        f"composite beam of two layers (Timoshenko 1925, {FROM_MEMORY}); the share {FROM_MEMORY}",
    ),
    row(
        season_dome.action_after_dome,
        "dome_change lift_share scale_length compensation",
        "k q dH, k = (x12 - x1)/(L + c - x1)",
        f"geometry; the share {FROM_MEMORY}",
    ),
    row(
        climate.moisture_change,
        _AIRS,
        "M(t after, RH after) - M(t before, RH before)",
        f"{WOOD_HANDBOOK}, equation 4-5",
        result="percent",
    ),
    row(
        climate.season_width_change,
        f"size coefficient {_AIRS}",
        "D C (M after - M before)",
        f"{WOOD_HANDBOOK}, equations 4-5 and 13-2",
    ),
    row(
        climate.season_change,
        f"{_AIRS} rise_per_moisture",
        "0.12 mm (M after - M before)",
        f"{WOOD_HANDBOOK}, equation 4-5; the rise {FROM_MEMORY}",
    ),
    row(
        climate.unexplained_change,
        f"before after {_AIRS} rise_per_moisture",
        "(after - before) - 0.12 mm (M after - M before)",
        f"{WOOD_HANDBOOK}, equation 4-5; the rise {FROM_MEMORY}",
    ),
)
