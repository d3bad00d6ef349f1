"""What pressing a string down to a fret adds to its pitch.

In: heights and lengths [mm], tension [N], core and its stiffness [mm, N/mm^2]. Out: extra length
[mm], pitch [cents].
"""

from __future__ import annotations

from math import hypot, inf, log2, pi

from tailblock.measures.frets import fret_position
from tailblock.measures.limits import within


def pressed_length(action: float, scale_length: float, fret: float) -> float:
    """Return how much longer a string gets when it is pressed down to a fret [mm].

    `sqrt(x^2 + a^2) + sqrt((L - x)^2 + a^2) - L`, x from the nut to the fret: the straight open
    string becomes two straight pieces. That the finger bends it further, down between two frets, is
    left out, and so is relief; a hard hand makes it more.

    Parameters
    ----------
    action
        Open string over the crown of that fret [mm], 0 to 15.
    scale_length
        [mm], 200 to 1000.
    fret
        Number of the fret [1], 1 to 24.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: geometry.

    >>> round(pressed_length(2.4, 648, 12), 4)  # worked here: about 2.4^2 / 324
    0.0178
    """
    within("action", action, 0, 15)
    within("scale_length", scale_length, 200, 1000)
    within("fret", fret, 1, 24)
    stopped = fret_position(scale_length, fret)
    left = scale_length - stopped
    # hypot(x, a) - x without the loss of digits of a difference of nearly equal numbers
    return action**2 * sum(1 / (hypot(piece, action) + piece) for piece in (stopped, left))


def stretch_cents(
    action: float,
    scale_length: float,
    fret: float,
    *,
    tension: float,
    core_diameter: float,
    elastic_modulus: float,
    string_beyond: float,
) -> float:
    """Return how much sharper a note is because pressing it down stretches the string [cents].

    `600 log2(1 + E A e / (T (L + s)))`, e by `pressed_length`, A = pi d^2/4 of the core, s the
    string beyond nut and saddle that shares the stretch. This, and the stiffness of the string, is
    what compensation at the saddle makes up for. How far a string slips over nut and saddle is not
    known: s lies between nothing, which gives the most cents, and the whole length to post and pin.
    The table of figures takes the middle of 0 to 160 mm, 80 +- 46.

    Parameters
    ----------
    action
        Open string over the crown of that fret [mm], 0 to 15.
    scale_length
        [mm], 200 to 1000.
    fret
        Number of the fret [1], 1 to 24.
    tension
        Of the open string [N], above 1.
    core_diameter
        Of a plain string the whole diameter, of a wound one the core [mm], 0 to 3.
    elastic_modulus
        Steel 200 000 +- 5 800 N/mm^2 (190 000 to 210 000, the lower in one materials list, the
        upper from memory); nylon trebles 2 000 to 6 000, not well known (from memory).
    string_beyond
        String from nut to post and from saddle to pin, if it slips [mm], not negative.

    Raises
    ------
    OutOfRange
        A value outside these ranges.

    Source: geometry, Hooke's law and the law of the stretched string.

    >>> plain = {"tension": 104.4, "core_diameter": 0.3048, "string_beyond": 0}
    >>> round(stretch_cents(1.8, 648, 12, **plain, elastic_modulus=200_000), 2)  # worked here
    1.87
    """
    within("tension", tension, 1, inf)
    within("core_diameter", core_diameter, 0, 3)
    within("elastic_modulus", elastic_modulus, 0, inf)
    within("string_beyond", string_beyond, 0, inf)
    strain = pressed_length(action, scale_length, fret) / (scale_length + string_beyond)
    more = elastic_modulus * pi * core_diameter**2 / 4 * strain
    return 600 * log2(1 + more / tension)
