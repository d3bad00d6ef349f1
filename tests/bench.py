"""A guitar on the bench under a shipped checklist: what readings say of its faults, exactly."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from tailblock.advice.ranking import decibans, rank
from tailblock.advice.shows import looked_at
from tailblock.advice.verdict import verdict
from tailblock.inference import Reasoner
from tailblock.inspection.answers import find_check, require_setup, understand
from tailblock.inspection.likelihood import likelihood
from tailblock.inspection.record import Instrument, Reading, Visit
from tailblock.inspection.speaks import hear
from tailblock.knowledge.yamlmarks import Place
from tailblock.network import Evidence, VisitSkeleton, compile_network

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice import Verdict
    from tailblock.inference import LeaveOneOut
    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network import Compiled

DAY = date(2031, 3, 2)
STAGE = "arrival"
HERE = Place("a file", 1, 1)

# An X-braced steel-string of which little else is told: each trait stands where no word of a fault
# changes, or is left unknown where every answer would change one.
PLAIN = {
    "strings": "steel",
    "bracing": "x",
    "bridge": "pin",
    "neck-joint": "dovetail",
    "head": "scarf",
    "truss": "single",
    "age": "5-20",
    "build": "medium",
    "dome": "unknown",
    "top-wood": "spruce",
    "climate-history": "swings",
    "season": "mild",
    "string-load": "light",
    "fell": "unknown",
    "prior-bridge": "no",
    "prior-neck": "unknown",
    "prior-head": "unknown",
    "prior-other": "unknown",
    "guard": "on-finish",
    "pickup": "none",
    "plate-wood": "hardwood",
}


@dataclass(frozen=True)
class Said:
    """What the readings of one visit say: exact chances, and the weight of each reading."""

    checklist: Checklist
    heard: Heard
    compiled: Compiled
    reasoner: Reasoner
    findings: Mapping[str, int]  # the checks that speak

    def start(self, fault: str) -> float:
        """Return the chance of a fault before any reading."""
        return float(self.reasoner.priors.probability[self.compiled.node_of(fault)])

    def chance(self, fault: str) -> float:
        """Return the chance of a fault with all readings."""
        return float(self.reasoner.beliefs.probability[self.compiled.node_of(fault)])

    def weight(self, fault: str) -> float:
        """Return the weight of all readings together for a fault [decibans]."""
        return decibans(self.chance(fault), self.start(fault))

    def weight_of(self, check: str, fault: str) -> float:
        """Return what one reading adds for a fault, given all others [decibans]."""
        without = self._without
        row = without.findings.index(self.findings[check])
        node = self.compiled.node_of(fault)
        return decibans(self.chance(fault), float(without.probability[row, node]))

    @cached_property
    def verdict(self) -> Verdict:
        """Return what a report on it would say first."""
        beliefs, priors = self.reasoner.beliefs, self.reasoner.priors
        causes = rank(self.checklist, self.compiled, beliefs, priors)
        return verdict(
            self.checklist, causes, looked_at(self.checklist, self.compiled, (self.heard,))
        )

    @cached_property
    def _without(self) -> LeaveOneOut:
        return self.reasoner.leave_one_out()


def bench(
    checklist: Checklist, traits: Mapping[str, str], readings: Mapping[str, str], stage: str = STAGE
) -> Said:
    """Return what one visit says.

    Parameters
    ----------
    readings
        Check -> what a person would type; `2 mm @ slack` was read with the strings slack, `@ off`
        with them off, and all else at pitch.
    """
    instrument = Instrument("a guitar", traits, scale_length=648.0)
    taken = []
    for check, typed in readings.items():
        value, _, strings = typed.partition(" @ ")
        setup = {"strings": strings or "at-pitch", "bridge": "on", "neck": "on"}
        found = find_check(check, checklist, traits)
        require_setup(found, setup)
        taken.append(Reading(check, value, understand(found, value), setup, HERE))
    visit = Visit(stage, DAY, HERE, setup={"strings": "at-pitch"}, readings=tuple(taken))
    compiled = compile_network(checklist, traits, [VisitSkeleton(stage, DAY, ())])
    heard = hear(checklist, instrument, visit)
    # A check whose every link is to what does not apply to this instrument is no finding.
    findings = {
        said.check: finding
        for said in heard.spoken
        if (finding := compiled.finding_of(said.check, 0)) is not None
    }
    soft = {
        findings[said.check]: likelihood(checklist, traits, said)
        for said in heard.spoken
        if said.check in findings
    }
    return Said(checklist, heard, compiled, Reasoner(compiled.network, Evidence(soft)), findings)
