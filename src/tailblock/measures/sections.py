"""Bending stiffness of sections in two parts: a brace with a shaped top, a brace glued to a plate.

In: moduli along the beam [N/mm^2], sizes of the parts [mm]. Out: bending stiffness E I [N mm^2].
What is said of wood and bending in `beams` holds here too; the two parts do not slip.
"""

from __future__ import annotations

from math import pi

from tailblock.measures.beams import rectangular_stiffness
from tailblock.measures.limits import within


def rounded_stiffness(modulus: float, width: float, height: float, cap_height: float) -> float:
    """Return the bending stiffness of a brace whose top is rounded to half an ellipse [N mm^2].

    `E I` of a rectangle `b (h - c)` with half an ellipse of width b and height c upon it: area
    `pi b c / 4`, centre `4 c / (3 pi)` over its base, `I = b c^3 (pi/16 - 4/(9 pi))` about that
    centre; put together about their common centre by the parallel axis theorem.

    Parameters
    ----------
    modulus
        Modulus of elasticity along the beam [N/mm^2], not negative.
    width
        At the foot [mm], not negative.
    height
        Over all [mm], not negative.
    cap_height
        Height of the rounded part [mm], 0 to the height; half the width for half a circle.

    Raises
    ------
    OutOfRange
        The rounded part is higher than the brace.

    Source: beam theory; second moment of the half ellipse from memory, tested by integration.

    >>> round(rounded_stiffness(10800, 8, 16, 4) / 1e6, 2)  # worked here by integration
    25.49
    """
    within("cap_height", cap_height, 0, height)
    area = pi * width * cap_height / 4
    centre = 4 * cap_height / (3 * pi)
    own = width * cap_height**3 * (pi / 16 - 4 / (9 * pi))
    body = height - cap_height
    apart = body / 2 + centre
    rectangle = rectangular_stiffness(modulus, width, body)
    return _together(modulus * width * body, modulus * area, rectangle, modulus * own, apart)


def peaked_stiffness(modulus: float, width: float, height: float, cap_height: float) -> float:
    """Return the bending stiffness of a brace whose top is planed to a ridge [N mm^2].

    `E I` of a rectangle `b (h - c)` with a triangle of base b and height c upon it: area `b c / 2`,
    centre `c / 3` over its base, `I = b c^3 / 36` about that centre; put together about their
    common centre by the parallel axis theorem.

    Parameters
    ----------
    modulus
        Modulus of elasticity along the beam [N/mm^2], not negative.
    width
        At the foot [mm], not negative.
    height
        Over all [mm], not negative.
    cap_height
        Height of the peaked part [mm], 0 to the height.

    Raises
    ------
    OutOfRange
        The peaked part is higher than the brace.

    Source: beam theory; second moment of the triangle from memory, tested by integration.

    >>> round(peaked_stiffness(10800, 8, 16, 16) / 10800, 3)  # worked here: b h^3 / 36
    910.222
    """
    within("cap_height", cap_height, 0, height)
    area, own = width * cap_height / 2, width * cap_height**3 / 36
    body = height - cap_height
    apart = body / 2 + cap_height / 3
    rectangle = rectangular_stiffness(modulus, width, body)
    return _together(modulus * width * body, modulus * area, rectangle, modulus * own, apart)


def glued_stiffness(
    modulus: float,
    width: float,
    height: float,
    *,
    plate_modulus: float,
    plate_width: float,
    plate_thickness: float,
) -> float:
    """Return the bending stiffness of a rectangular brace and the strip of plate under it [N mm^2].

    `E I + E' I' + e^2 / (1/(E A) + 1/(E' A'))`, e between the middles of the two: glued together
    they bend about one axis and are stiffer than the sum of both. How wide a strip goes along is
    for the caller to say; half the way to the next brace on either side is the most.

    Parameters
    ----------
    modulus, plate_modulus
        Moduli of elasticity along the brace [N/mm^2]; of a plate under a brace across its grain,
        that across the grain.
    width, height
        Section of the brace [mm], not negative.
    plate_width, plate_thickness
        Section of the strip of plate [mm], not negative.

    Source: beam theory (sections of two materials), from memory, tested by integration.

    >>> plate = {"plate_modulus": 10800, "plate_width": 8, "plate_thickness": 3}
    >>> round(glued_stiffness(10800, 8, 13, **plate))  # worked here: one piece of 8 by 16
    29491200
    """
    strip = rectangular_stiffness(plate_modulus, plate_width, plate_thickness)
    return _together(
        modulus * width * height,
        plate_modulus * plate_width * plate_thickness,
        rectangular_stiffness(modulus, width, height),
        strip,
        (height + plate_thickness) / 2,
    )


def _together(axial: float, other_axial: float, own: float, other: float, apart: float) -> float:
    """Return the bending stiffness of two parts about their common axis (parallel axis theorem).

    `axial` is modulus times area, `own` and `other` bending stiffness about the part's own middle,
    `apart` the distance between the middles.
    """
    if not (axial and other_axial):
        return own + other
    return own + other + axial * other_axial / (axial + other_axial) * apart**2
