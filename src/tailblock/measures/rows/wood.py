"""Rows of the table of figures: wood and climate."""

from __future__ import annotations

from tailblock.measures import wood
from tailblock.measures.rows.row import WOOD_HANDBOOK, row

ROWS = (
    row(
        wood.equilibrium_moisture,
        "temperature humidity",
        "1800/W (a/(1-a) + (K1 a + 2 K1 K2 a^2)/(1 + K1 a + K1 K2 a^2)), a = K RH/100",
        f"{WOOD_HANDBOOK}, equation 4-5",
        result="percent",
    ),
    row(
        wood.dimensional_change,
        "size coefficient moisture_before moisture_after",
        "D C (M after - M before)",
        f"{WOOD_HANDBOOK}, equation 13-2",
    ),
)
