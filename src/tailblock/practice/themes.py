"""What a case to practise on can be about.

In: a checklist and a theme as a person writes it. Out: the faults of the theme.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.advice.ranking import weights
from tailblock.errors import TailblockError
from tailblock.knowledge.graph import NotInTheChecklist

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

THEMES = "part:PART, after:FAULT, climate, danger, harmless"


class NoSuchTheme(TailblockError):
    """A theme is none of those that there are."""

    def __init__(self, given: str) -> None:
        self.given = given
        super().__init__(f"there is no theme {given!r} (write one of {THEMES})")


def of_theme(checklist: Checklist, theme: str) -> tuple[str, ...]:
    """Return the faults of a theme that a case can be about, in the checklist's order.

    `part:` the faults of a part; `after:` all that a fault can bring about, it included; `climate`
    faults of the climate and what they bring about at once; `danger` what tension could finish;
    `harmless` what is no fault and looks like one. Without a theme, whatever weighs anything.

    Raises
    ------
    NoSuchTheme
    NotInTheChecklist
        It names a part or a fault that there is not.
    """
    kind, _, name = theme.partition(":")
    faults = {id_: fault for id_, fault in checklist.faults.items() if fault.kind != "event"}
    if kind == "part" and name:
        if name not in checklist.parts:
            raise NotInTheChecklist("part", name, checklist, checklist.parts)
        chosen = {id_ for id_, fault in faults.items() if fault.part == name}
    elif kind == "after" and name:
        if name not in checklist.faults:
            raise NotInTheChecklist("fault", name, checklist, checklist.faults)
        chosen = {name} | {id_ for id_ in faults if name in behind(checklist, id_)}
    elif theme == "climate":
        climate = {id_ for id_, fault in faults.items() if fault.kind == "climate"}
        at_once = {i for i, f in faults.items() if climate & {c.fault for c in f.caused_by}}
        chosen = climate | at_once
    elif theme == "danger":
        chosen = {id_ for id_, fault in faults.items() if fault.under_tension == "danger"}
    elif theme == "harmless":
        return tuple(id_ for id_, fault in faults.items() if fault.harm == "none" and fault.rivals)
    elif not theme:
        chosen = set(faults)
    else:
        raise NoSuchTheme(theme)
    weighs = weights(checklist)
    return tuple(id_ for id_ in faults if id_ in chosen and weighs[id_] > 0.0)


def behind(checklist: Checklist, fault: str) -> set[str]:
    """Return all that can have brought a fault about, step by step."""
    found: set[str] = set()
    ahead = [fault]
    while ahead:
        for cause in checklist.faults[ahead.pop()].caused_by:
            if cause.fault not in found:
                found.add(cause.fault)
                ahead.append(cause.fault)
    return found
