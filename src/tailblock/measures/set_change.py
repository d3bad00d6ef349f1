"""What another set or a lower tuning buys on a steel six-string.

In: gauges of the first strings and the scale length [mm], semitones [1], densities [kg/m^3]. Out:
force [N], ratio of forces [1].
"""

from __future__ import annotations

from tailblock.measures.set_tension import six_string_tension


def tension_saved(
    first_gauge: float,
    first_gauge_after: float,
    scale_length: float,
    semitones_lower: float,
    semitones_lower_after: float,
    *,
    steel_density: float,
    wrap_density: float,
    core_fill: float,
    closeness: float,
    set_factor: float,
) -> float:
    """Return how much less a steel six-string pulls with another set or tuning [N].

    `T(before) - T(after)`, both by `six_string_tension`: positive where the load sinks. The
    materials and the maker are taken as the same in both, so their uncertainty counts on the
    difference only; from one maker to another the totals themselves differ by up to 10 %.

    Parameters
    ----------
    first_gauge, first_gauge_after
        First string before and after [mm], 0.010 to 0.013 in.
    scale_length
        [mm]
    semitones_lower, semitones_lower_after
        Semitones below ordinary tuning, before and after [1], -24 to 24.
    steel_density, wrap_density, core_fill, closeness, set_factor
        As in `six_string_tension`.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: as `six_string_tension`.

    >>> bronze = {"wrap_density": 8750, "core_fill": 0.825, "closeness": 0.98, "set_factor": 1}
    >>> saved = tension_saved(0.3302, 0.3048, 645.16, 0, 0, steel_density=7850, **bronze)
    >>> round(saved)  # worked here: medium to light
    96
    """
    materials = {
        "steel_density": steel_density,
        "wrap_density": wrap_density,
        "core_fill": core_fill,
        "closeness": closeness,
        "set_factor": set_factor,
    }
    before = six_string_tension(first_gauge, scale_length, semitones_lower, **materials)
    return before - six_string_tension(
        first_gauge_after, scale_length, semitones_lower_after, **materials
    )


def tension_ratio(
    first_gauge: float,
    first_gauge_after: float,
    semitones_lower: float,
    semitones_lower_after: float,
    *,
    steel_density: float,
    wrap_density: float,
    core_fill: float,
    closeness: float,
) -> float:
    """Return the pull of a steel six-string with another set or tuning, in parts of the old [1].

    `T(after) / T(before)`, both by `six_string_tension`; scale length and maker cancel.

    Parameters
    ----------
    first_gauge, first_gauge_after
        First string before and after [mm], 0.010 to 0.013 in.
    semitones_lower, semitones_lower_after
        Semitones below ordinary tuning, before and after [1], -24 to 24.
    steel_density, wrap_density, core_fill, closeness
        As in `wound_mass_per_length`.

    Raises
    ------
    OutOfRange
        No such set, or a constant outside its range.

    Source: as `six_string_tension`.

    >>> bronze = {"wrap_density": 8750, "core_fill": 0.825, "closeness": 0.98}
    >>> ratio = tension_ratio(0.3302, 0.3048, 0, 0, steel_density=7850, **bronze)
    >>> round(ratio, 2)  # worked here: medium to light
    0.88
    """
    materials = {
        "steel_density": steel_density,
        "wrap_density": wrap_density,
        "core_fill": core_fill,
        "closeness": closeness,
        "set_factor": 1.0,  # one maker: it cancels
    }
    any_scale = 1000.0  # mm; it cancels
    before = six_string_tension(first_gauge, any_scale, semitones_lower, **materials)
    return (
        six_string_tension(first_gauge_after, any_scale, semitones_lower_after, **materials)
        / before
    )
