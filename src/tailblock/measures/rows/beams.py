"""Rows of the table of figures: braces and straps as beams."""

from __future__ import annotations

from tailblock.measures import beams, sections
from tailblock.measures.rows.row import row
from tailblock.measures.rows.shared_steps import COMPOSITE

_BEAM_THEORY = "beam theory, in any text on the strength of materials"

ROWS = (
    row(
        beams.rectangular_stiffness,
        "modulus width height",
        "modulus * width * height**3 / 12",
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        sections.rounded_stiffness,
        "modulus width height cap_height",
        (
            f"{COMPOSITE}; EI1 = modulus * width * body**3 / 12; "
            "EI2 = modulus * width * cap_height**3 * (pi / 16 - 4 / (9 * pi)); "
            "EA1 = modulus * width * body; EA2 = modulus * pi * width * cap_height / 4; "
            "e = body / 2 + 4 * cap_height / (3 * pi); body = height - cap_height"
        ),
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        sections.peaked_stiffness,
        "modulus width height cap_height",
        (
            f"{COMPOSITE}; EI1 = modulus * width * body**3 / 12; "
            "EI2 = modulus * width * cap_height**3 / 36; EA1 = modulus * width * body; "
            "EA2 = modulus * width * cap_height / 2; e = body / 2 + cap_height / 3; "
            "body = height - cap_height"
        ),
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        sections.glued_stiffness,
        "modulus width height plate_modulus plate_width plate_thickness",
        (
            f"{COMPOSITE}; EI1 = modulus * width * height**3 / 12; "
            "EI2 = plate_modulus * plate_width * plate_thickness**3 / 12; "
            "EA1 = modulus * width * height; "
            "EA2 = plate_modulus * plate_width * plate_thickness; "
            "e = (height + plate_thickness) / 2"
        ),
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        beams.stiffness_ratio,
        "modulus width height other_modulus other_width other_height",
        (
            "EI1 / EI2; EI1 = modulus * width * height**3 / 12; "
            "EI2 = other_modulus * other_width * other_height**3 / 12"
        ),
        _BEAM_THEORY,
        result="count",
    ),
    row(
        beams.stiffness_for_weight,
        "modulus density height other_modulus other_density other_height",
        "(modulus * height**2 / density) / (other_modulus * other_height**2 / other_density)",
        _BEAM_THEORY,
        result="count",
    ),
    row(
        beams.central_deflection,
        "load span stiffness",
        "load * span**3 / (48 * stiffness)",
        _BEAM_THEORY,
    ),
)
