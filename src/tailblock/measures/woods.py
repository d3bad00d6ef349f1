"""How much the woods of instruments move across the grain.

In: nothing. Out: `WOODS`, change of size for each % of moisture, radial (quarter-sawn) and
tangential (flat-sawn), as a fraction. Single boards differ by about a tenth either way, and few are
truly quarter- or flat-sawn.

Source: Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), table 13-5, where not marked
otherwise: maples and walnut as read, the spruces and the cedar from memory but equal to what the
rule of that table gives for their shrinkage (see the tests).
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Movement:
    """Change of size for each % of moisture, across the grain, as a fraction [1]."""

    radial: float
    tangential: float


WOODS: Mapping[str, Movement] = MappingProxyType(
    {
        "Sitka spruce": Movement(0.00148, 0.00263),
        "Engelmann spruce": Movement(0.00130, 0.00248),
        "western redcedar": Movement(0.00111, 0.00234),
        "sugar maple": Movement(0.00165, 0.00353),
        "bigleaf maple": Movement(0.00126, 0.00248),
        "black walnut": Movement(0.00190, 0.00274),
        "mahogany": Movement(0.00172, 0.00238),  # from memory
        # Not in that table: worked out from a shrinkage that is from memory.
        "Indian rosewood": Movement(0.00092, 0.00201),
        "ebony": Movement(0.00293, 0.00388),
    }
)
