"""Rows of the table of figures: wood, air and climate."""

from __future__ import annotations

from tailblock.measures import air, climate, season_dome, wood
from tailblock.measures.rows.row import FROM_MEMORY, WOOD_HANDBOOK, row
from tailblock.measures.rows.shared_steps import COMPOSITE, LEVER, MOISTURES

MAGNUS = "Magnus form, coefficients of Alduchov and Eskridge (1996), equation 21"
_AIRS = "humidity_before humidity_after temperature_before temperature_after"

ROWS = (
    row(
        wood.equilibrium_moisture,
        "temperature humidity species_offset",
        (
            "1800 / W * (a / (1 - a) + chemical) + species_offset; "
            "chemical = (K1 * a + 2 * K1 * K2 * a**2) / (1 + K1 * a + K1 * K2 * a**2); "
            "a = K * humidity / 100; W = 349 + 1.29 * temperature + 0.0135 * temperature**2; "
            "K = 0.805 + 0.000736 * temperature - 0.00000273 * temperature**2; "
            "K1 = 6.27 - 0.00938 * temperature - 0.000303 * temperature**2; "
            "K2 = 1.91 + 0.0407 * temperature - 0.000293 * temperature**2"
        ),
        f"{WOOD_HANDBOOK}, equation 4-5",
        result="percent",
    ),
    row(
        wood.dimensional_change,
        "size coefficient moisture_before moisture_after",
        "size * coefficient * (moisture_after - moisture_before)",
        f"{WOOD_HANDBOOK}, equation 13-2",
    ),
    row(
        wood.shrinkage_coefficient,
        "shrinkage shrinkage_start",
        ("slope / (1 - slope * (shrinkage_start - 10)); slope = shrinkage / 100 / shrinkage_start"),
        f"{WOOD_HANDBOOK}, note to table 13-5, the rule {FROM_MEMORY}",
        result="count",
    ),
    row(
        wood.change_from_shrinkage,
        "size shrinkage moisture_before moisture_after",
        "size * (moisture_after - moisture_before) / (3000 / shrinkage - 30 + moisture_before)",
        f"{WOOD_HANDBOOK}, equation 13-3, its algebra {FROM_MEMORY}",
    ),
    row(
        wood.fret_sprout,
        "board_width board_coefficient moisture_before moisture_after",
        "-board_width * board_coefficient * (moisture_after - moisture_before) / 2",
        f"{WOOD_HANDBOOK}, equation 13-2",
    ),
    row(
        wood.moisture_underway,
        "moisture_before moisture_final time_held wood_time",
        "moisture_final + (moisture_before - moisture_final) * exp(-time_held / wood_time)",
        FROM_MEMORY,
        result="percent",
    ),
    row(
        air.dew_point,
        "temperature humidity",
        (
            "243.04 * g / (17.625 - g); "
            "g = ln(humidity / 100) + 17.625 * temperature / (243.04 + temperature)"
        ),
        MAGNUS,
        result="temperature",
    ),
    row(
        air.warmed_humidity,
        "temperature humidity temperature_after",
        (
            "humidity * p_before / p_after; "
            "p_before = 6.1094 * exp(17.625 * temperature / (243.04 + temperature)); "
            "p_after = 6.1094 * exp(17.625 * temperature_after / (243.04 + temperature_after))"
        ),
        MAGNUS,
        result="percent",
    ),
    row(
        season_dome.arc_length,
        "dome chord",
        "chord * radians(t) / sin(t); t = 2 * atan(2 * dome / chord)",
        "plane geometry",
    ),
    row(
        season_dome.dome_at_fixed_chord,
        "dome chord growth",
        (
            "dome_of_arc(arc=arc, chord=chord); arc = chord * radians(t) / sin(t) + growth; "
            "t = 2 * atan(2 * dome / chord)"
        ),
        "plane geometry",
    ),
    row(
        season_dome.braced_dome_change,
        "chord moisture_before moisture_after top_coefficient top_thickness top_modulus_across "
        "brace_spacing brace_width brace_height brace_modulus bending_share",
        (
            "bending_share * curvature * chord**2 / 8; "
            "curvature = swelling * EA1 * EA2 / (EA1 + EA2) * e / EI; "
            "swelling = top_coefficient * (moisture_after - moisture_before); "
            "EA1 = brace_modulus * brace_width * brace_height; "
            f"EA2 = top_modulus_across * brace_spacing * top_thickness; EI = {COMPOSITE}; "
            "EI1 = brace_modulus * brace_width * brace_height**3 / 12; "
            "EI2 = top_modulus_across * brace_spacing * top_thickness**3 / 12; "
            "e = (brace_height + top_thickness) / 2"
        ),
        f"composite beam of two layers (Timoshenko 1925, {FROM_MEMORY}); the share {FROM_MEMORY}",
    ),
    row(
        season_dome.action_after_dome,
        "dome_change lift_share scale_length compensation",
        f"k * lift_share * dome_change; {LEVER}",
        f"geometry; the share {FROM_MEMORY}",
    ),
    row(
        climate.moisture_change,
        _AIRS,
        f"M_after - M_before; {MOISTURES}",
        f"{WOOD_HANDBOOK}, equation 4-5",
        result="percent",
    ),
    row(
        climate.season_width_change,
        f"size coefficient {_AIRS}",
        f"size * coefficient * (M_after - M_before); {MOISTURES}",
        f"{WOOD_HANDBOOK}, equations 4-5 and 13-2",
    ),
    row(
        climate.season_change,
        f"{_AIRS} rise_per_moisture",
        f"rise_per_moisture * (M_after - M_before); {MOISTURES}",
        f"{WOOD_HANDBOOK}, equation 4-5; the rise {FROM_MEMORY}",
    ),
    row(
        climate.unexplained_change,
        f"before after {_AIRS} rise_per_moisture",
        f"(after - before) - rise_per_moisture * (M_after - M_before); {MOISTURES}",
        f"{WOOD_HANDBOOK}, equation 4-5; the rise {FROM_MEMORY}",
    ),
)
