"""Rows of the table of figures: braces and straps as beams."""

from __future__ import annotations

from tailblock.measures import beams, sections
from tailblock.measures.rows.row import row

_BEAM_THEORY = "beam theory, in any text on the strength of materials"

ROWS = (
    row(
        beams.rectangular_stiffness,
        "modulus width height",
        "E b h^3 / 12",
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        sections.rounded_stiffness,
        "modulus width height cap_height",
        "E I of b (h - c) and half an ellipse b by c about their common centre",
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        sections.peaked_stiffness,
        "modulus width height cap_height",
        "E I of b (h - c) and a triangle b by c about their common centre",
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        sections.glued_stiffness,
        "modulus width height plate_modulus plate_width plate_thickness",
        "E I + E' I' + e^2 / (1/(E A) + 1/(E' A')), e = (h + h')/2",
        _BEAM_THEORY,
        result="bending stiffness",
    ),
    row(
        beams.stiffness_ratio,
        "modulus width height other_modulus other_width other_height",
        "(E b h^3) / (E' b' h'^3)",
        _BEAM_THEORY,
        result="count",
    ),
    row(
        beams.stiffness_for_weight,
        "modulus density height other_modulus other_density other_height",
        "(E h^2 / rho) / (E' h'^2 / rho')",
        _BEAM_THEORY,
        result="count",
    ),
    row(
        beams.central_deflection,
        "load span stiffness",
        "P L^3 / (48 E I)",
        _BEAM_THEORY,
    ),
)
