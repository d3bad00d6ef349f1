"""Checklist, traits and the skeleton of the visits -> a network of arrays, and the names behind it.

Comes in: `Checklist`, traits, `VisitSkeleton`s. Goes out: `Compiled`, which holds the `Network`
that inference works on. Knows no readings and no files. May import `knowledge`, `measures`,
`errors`.
"""

from __future__ import annotations

from tailblock.network.arrays import Evidence
from tailblock.network.compile import Compiled, FindingName, NodeName, compile_network
from tailblock.network.timeline import VisitSkeleton

__all__ = ["Compiled", "Evidence", "FindingName", "NodeName", "VisitSkeleton", "compile_network"]
