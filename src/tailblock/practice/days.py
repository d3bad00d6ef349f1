"""When and where nothing happened: the day and the place of inspections that no file holds."""

from __future__ import annotations

from datetime import date

from tailblock.knowledge.yamlmarks import Place

# Not a real day: the network of a single visit does not depend on it.
DAY = date(2000, 1, 1)
NOWHERE = Place("simulated", 1, 1)
