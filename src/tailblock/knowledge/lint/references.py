"""Every id that an entry names is there.

Causes, rivals, remedies' faults, shown faults and symptoms, families, gates, openings, parts,
stages, cautions and sources are looked up by their kind. Only faults can be causes. A gate may name
a quantity in the place of a check.

Passes:

    faults:
      - {id: top-hump}
      - {id: bridge-lifting, caused_by: [{fault: top-hump, strength: sometimes}]}

Fails:

    faults:
      - {id: bridge-lifting, caused_by: [{fault: top-hmup, strength: sometimes}]}
"""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

from tailblock.knowledge.entries import Measure
from tailblock.knowledge.lint.walk import Link, found, links
from tailblock.knowledge.mending import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.errors import Problem
    from tailblock.knowledge.checklist import Checklist

QUANTITIES = get_args(Measure.model_fields["quantity"].annotation)


def find(checklist: Checklist) -> Iterator[Problem]:
    """Yield an error for each id that leads nowhere."""
    known = ids_by_kind(checklist)
    for link in links(checklist):
        if not any(link.named in known[kind] for kind in link.wanted):
            message, mend = _dangling(link, known)
            yield found(checklist, "references", link.spot, message, mend)


def ids_by_kind(checklist: Checklist) -> dict[str, Mapping[str, object]]:
    """Return what an id may be looked up in, for each kind of entry."""
    return {
        "part": checklist.parts,
        "trait": checklist.traits,
        "stage": checklist.stages,
        "fault": checklist.faults,
        "symptom": checklist.symptoms,
        "check": checklist.checks,
        "family": checklist.families,
        "remedy": checklist.remedies,
        "caution": checklist.cautions,
        "source": checklist.sources,
        "quantity": dict.fromkeys(QUANTITIES),
    }


def _dangling(link: Link, known: Mapping[str, Mapping[str, object]]) -> tuple[str, str]:
    """Return message and mend: what it is instead, or what is spelled like it."""
    wanted = " or ".join(link.wanted)
    others = [kind for kind, ids in known.items() if link.named in ids]
    message = f"there is no {wanted} `{link.named}`"
    if others:
        return f"{message}: it is a {others[0]}", f"name a {wanted}"
    return message, nearest(link.named, [id_ for kind in link.wanted for id_ in known[kind]])
