"""What a season does to the dome of a top, and the dome to the action.

In: sizes [mm], moisture content [% of dry mass], stiffness of the woods [N/mm^2]. Out: heights
[mm]. Two models: a plate between edges that cannot move (an upper limit, far too high), and a plate
glued to braces that bend with it (an order of magnitude).
"""

from __future__ import annotations

from math import atan, inf, pi, sin

from tailblock.measures.limits import within
from tailblock.measures.saddle import share_at_fret_12
from tailblock.measures.sections import glued_stiffness
from tailblock.measures.wood import dimensional_change


def arc_length(dome: float, chord: float) -> float:
    """Return the length of an arch along its curve [mm].

    `c t / sin t`, `t = 2 atan(2 h / c)` half the angle of the arc: about `c + 8 h^2 / (3 c)`.

    Parameters
    ----------
    dome
        Height over the chord [mm], 0 to half the chord.
    chord
        Width spanned [mm], 1 to 1000.

    Raises
    ------
    OutOfRange
        A size outside these ranges.

    Source: plane geometry.

    >>> round(arc_length(2.4, 380), 3)  # worked here
    380.04
    """
    within("chord", chord, 1, 1000)
    within("dome", dome, 0, chord / 2)
    return chord * _arc_over_chord(2 * atan(2 * dome / chord))


def dome_at_fixed_chord(dome: float, chord: float, growth: float) -> float:
    """Return the height of an arch that grows or shrinks along its curve between fixed edges [mm].

    The height at which `arc_length` has grown by that much, the chord unchanged. An upper limit,
    not a forecast: a slight arch is so flat that free swelling by 1 % of moisture would lift 2.4 mm
    of dome to over 9, which no braced top does; about 2 % of the free swelling comes out as length
    of arc, the braces and the grain take the rest. A top that shrinks by more than its arch holds
    is pulled flat (0) and then strained: it sinks between its braces or cracks.

    Parameters
    ----------
    dome
        Height over the chord now [mm], 0 to half the chord.
    chord
        Distance of the edges, which do not give [mm], 1 to 1000.
    growth
        Of the length along the curve, negative for shrinkage [mm], at most half of what makes the
        arch a half circle.

    Raises
    ------
    OutOfRange
        A size outside these ranges.

    Source: plane geometry; the 2 % worked out from a rule of thumb that is from memory.

    >>> round(dome_at_fixed_chord(2.4, 380, 0.1), 2)  # worked here: h^2 = 2.4^2 + 0.1 x 3 x 380 / 8
    4.47
    """
    length = arc_length(dome, chord) + growth
    within("growth", growth, -inf, chord * (pi / 2 - 1) / 2)
    if length <= chord:
        return 0.0
    low, high = 0.0, chord / 2
    for _ in range(60):  # halves the span each time: far below any float's step
        middle = (low + high) / 2
        low, high = (middle, high) if arc_length(middle, chord) < length else (low, middle)
    return (low + high) / 2


def braced_dome_change(
    chord: float,
    moisture_before: float,
    moisture_after: float,
    *,
    top_coefficient: float,
    top_thickness: float,
    top_modulus_across: float,
    brace_spacing: float,
    brace_width: float,
    brace_height: float,
    brace_modulus: float,
    bending_share: float,
) -> float:
    """Estimate how far the dome of a braced top rises or, negative, sinks with its moisture [mm].

    `q k c^2 / 8`, `k = e d / (EI (1/EA_t + 1/EA_b))`: a strip of the top as wide as the braces lie
    apart swells by `e = C (M_after - M_before)` across its grain, the brace under it does not, and
    the two bend like a strip of two metals; d is the distance of their middles, EI their stiffness
    by `glued_stiffness`. The edge of the body and braces that do not lie across the grain take
    about half (q = 0.5 +- 0.15, from memory). An order of magnitude: within a factor of three of
    the rule of thumb of 0.3 to 0.6 mm for 10 % of humidity (from memory), which is the better
    forecast where it applies.

    Parameters
    ----------
    chord
        Width over which the dome is read [mm], 100 to 600.
    moisture_before, moisture_after
        Moisture content of the top [%], 0 to 30.
    top_coefficient
        Change of size of the top for each % of moisture, as a fraction [1].
    top_thickness, top_modulus_across
        Of the plate [mm], and its stiffness across the grain [N/mm^2].
    brace_spacing, brace_width, brace_height, brace_modulus
        Distance and section of the braces [mm], and their stiffness along the grain [N/mm^2].
    bending_share
        Part of the free bending that edge and bracing allow [1], 0 to 1.

    Raises
    ------
    OutOfRange
        A value outside these ranges, or a size or stiffness that is not above zero.

    Source: composite beam of two layers (Timoshenko, J. Opt. Soc. Am. 11, 1925, for equal widths;
    from memory).

    >>> brace = {"brace_spacing": 90, "brace_width": 8, "brace_height": 16, "brace_modulus": 10800}
    >>> top = {"top_coefficient": 0.00148, "top_thickness": 2.8, "top_modulus_across": 850}
    >>> rise = braced_dome_change(380, 8.5, 10.1, **top, **brace, bending_share=0.5)
    >>> round(rise, 2)  # worked here: k = 9.0e-5 / mm
    0.81
    """
    within("chord", chord, 100, 600)
    within("bending_share", bending_share, 0, 1)
    least = 1e-3
    within("top_thickness", top_thickness, least, inf)
    within("top_modulus_across", top_modulus_across, least, inf)
    within("brace_width", brace_width, least, inf)
    within("brace_height", brace_height, least, inf)
    within("brace_modulus", brace_modulus, least, inf)
    within("brace_spacing", brace_spacing, brace_width, inf)
    swelling = dimensional_change(1, top_coefficient, moisture_before, moisture_after)
    stiffness = glued_stiffness(
        brace_modulus,
        brace_width,
        brace_height,
        plate_modulus=top_modulus_across,
        plate_width=brace_spacing,
        plate_thickness=top_thickness,
    )
    give = 1 / (top_modulus_across * brace_spacing * top_thickness)
    give += 1 / (brace_modulus * brace_width * brace_height)
    curvature = swelling / give * (top_thickness + brace_height) / 2 / stiffness
    return bending_share * curvature * chord**2 / 8


def action_after_dome(
    dome_change: float, lift_share: float, scale_length: float, compensation: float
) -> float:
    """Return how far the action rises (or, negative, sinks) because the top does [mm].

    `k q dH`, k by `share_at_fret_12`, q what of the rise behind the bridge arrives at the saddle,
    about 0.6 (0.4 to 0.8, from memory). Holds for a neck that stays where it is.

    Parameters
    ----------
    dome_change
        Rise of the top, read behind the bridge [mm], -10 to 10.
    lift_share
        Lift at the saddle for each mm of it [1].
    scale_length, compensation
        Scale length and what the saddle stands farther back [mm].

    Raises
    ------
    OutOfRange
        A rise outside this range.

    Source: geometry; the share from memory.

    >>> round(action_after_dome(0.5, 0.6, 648, 2), 2)  # worked here
    0.14
    """
    within("dome_change", dome_change, -10, 10)
    return share_at_fret_12(scale_length, compensation) * lift_share * dome_change


def _arc_over_chord(half_angle: float) -> float:
    return half_angle / sin(half_angle) if half_angle else 1.0
