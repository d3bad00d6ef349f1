"""Braces and straps as beams: bending stiffness, how two compare, and how far one gives.

In: modulus along the grain [N/mm^2], sizes of the section [mm], load [N]. Out: bending stiffness
E I [N mm^2], ratios [1], deflection [mm]. Other sections are in `sections`. The wood is taken as
elastic and even along its length, the beam as bending about its own neutral axis; shear is left
out, which adds nearly a tenth to the deflection of a softwood brace 15 times as long as high.
"""

from __future__ import annotations

from math import inf

from tailblock.measures.limits import within


def rectangular_stiffness(modulus: float, width: float, height: float) -> float:
    """Return the bending stiffness of a strap or brace of rectangular section [N mm^2].

    `E I`, `I = b h^3 / 12`.

    Parameters
    ----------
    modulus
        Modulus of elasticity along the beam [N/mm^2], not negative.
    width
        Across the bend, along the plate that it is glued to [mm], not negative.
    height
        In the direction of the bend, square to the plate [mm], not negative.

    Source: beam theory, in any text on the strength of materials.

    >>> round(rectangular_stiffness(10800, 8, 16))  # worked here: I = 2730.667 mm^4
    29491200
    """
    within("modulus", modulus, 0, inf)
    within("width", width, 0, inf)
    within("height", height, 0, inf)
    return modulus * width * height**3 / 12


def stiffness_ratio(
    modulus: float,
    width: float,
    height: float,
    *,
    other_modulus: float,
    other_width: float,
    other_height: float,
) -> float:
    """Return how many times as stiff one rectangular brace is as another [1].

    `(E b h^3) / (E' b' h'^3)`.

    Parameters
    ----------
    modulus, other_modulus
        Moduli of elasticity along the beams [N/mm^2], the other more than 1.
    width, height
        Section of the one [mm], not negative.
    other_width, other_height
        Section of the other [mm], at least 0.1.

    Source: beam theory.

    >>> other = {"other_modulus": 10800, "other_width": 8, "other_height": 16}
    >>> round(stiffness_ratio(10800, 8, 15, **other), 4)  # worked here: (15/16)^3
    0.824
    """
    within("other_modulus", other_modulus, 1, inf)
    within("other_width", other_width, 0.1, inf)
    within("other_height", other_height, 0.1, inf)
    other = rectangular_stiffness(other_modulus, other_width, other_height)
    return rectangular_stiffness(modulus, width, height) / other


def stiffness_for_weight(
    modulus: float,
    density: float,
    height: float,
    *,
    other_modulus: float,
    other_density: float,
    other_height: float,
) -> float:
    """Return how one rectangular brace compares with another, each by stiffness for weight [1].

    `(E h^2 / rho) / (E' h'^2 / rho')`: `E I` over mass per length is `E h^2 / (12 rho)`, and the
    width falls out.

    Parameters
    ----------
    modulus, other_modulus
        Moduli of elasticity along the beams [N/mm^2], the other more than 1.
    density, other_density
        Of either wood [kg/m^3], at least 1.
    height, other_height
        In the direction of the bend, square to the plate [mm], the other at least 0.1.

    Source: beam theory.

    >>> other = {"other_modulus": 10800, "other_density": 420, "other_height": 10}
    >>> round(stiffness_for_weight(10800, 420, 13, **other), 2)  # worked here: 1.3^2
    1.69
    """
    within("modulus", modulus, 0, inf)
    within("density", density, 1, inf)
    within("height", height, 0, inf)
    within("other_modulus", other_modulus, 1, inf)
    within("other_density", other_density, 1, inf)
    within("other_height", other_height, 0.1, inf)
    other = other_modulus * other_height**2 / other_density
    return modulus * height**2 / density / other


def central_deflection(load: float, span: float, stiffness: float) -> float:
    """Return how far a beam on two supports gives under a load in its middle [mm].

    `P L^3 / (48 E I)`.

    Parameters
    ----------
    load
        In the middle [N].
    span
        Between the supports [mm], not negative.
    stiffness
        Bending stiffness E I [N mm^2], at least 1.

    Source: beam theory, in any text on the strength of materials.

    >>> stiffness = 200e3 * 50**4 / 12  # steel, 50 by 50 mm
    >>> round(central_deflection(1000, 1000, stiffness), 3)  # from a published check: 2.00e-4 m
    0.2
    """
    within("span", span, 0, inf)
    within("stiffness", stiffness, 1, inf)
    return load * span**3 / (48 * stiffness)
