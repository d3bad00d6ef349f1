"""The whole job as two functions: open an inspection, examine it.

In: a path; then a checklist and an inspection. Out: `Examined`, everything that is concluded from
the readings of the last visit. Commands and reports call these and nothing deeper.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from tailblock.advice.candidates import candidates, findings_of
from tailblock.advice.gain import gains
from tailblock.advice.gauge import reported_by_check
from tailblock.advice.grades import Seen, grade, watched_parts
from tailblock.advice.held_back import Clearing, danger_of, may_string
from tailblock.advice.next_check import advise
from tailblock.advice.ranking import explained_by, rank, standing
from tailblock.advice.results import SECOND_STAGES
from tailblock.advice.settling import settling
from tailblock.advice.shows import at_the_top, carried, looked_at, shown
from tailblock.advice.situation import situation_of
from tailblock.advice.verdict import verdict
from tailblock.advice.weighing import Weigher
from tailblock.errors import TailblockError
from tailblock.inference import ImpossibleEvidence, Reasoner, TooWide
from tailblock.inference.tree import CELL_LIMIT
from tailblock.inspection import store
from tailblock.inspection.likelihood import likelihood
from tailblock.inspection.speaks import hear
from tailblock.network import Evidence, VisitSkeleton, compile_network

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence
    from pathlib import Path

    from tailblock.advice import (
        Advice,
        CauseBelief,
        Grades,
        MayString,
        Reasons,
        Settling,
        Steadiness,
        Verdict,
    )
    from tailblock.advice.choose_work import Chosen
    from tailblock.advice.explanations import Explanations
    from tailblock.advice.hours import Jobs, Piece, Promise, WorkHours
    from tailblock.advice.plan import After, Plan
    from tailblock.advice.returning import ReturnRisk
    from tailblock.advice.second_look import SecondLook
    from tailblock.advice.surprise import Surprise, Whole
    from tailblock.inference import Beliefs
    from tailblock.inference.gibbs import Sampler
    from tailblock.inspection.reconcile import CrossChecks
    from tailblock.inspection.record import Inspection
    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist
    from tailblock.network import Compiled


# The same instrument gets the same answer every time.
_SEED = 0


@dataclass(frozen=True)
class Examined:
    """The last visit of an inspection (`visit` is its index) and all that follows from it.

    What is only wanted for an explanation is worked out when it is first asked for, and what that
    takes is imported then: importing it would make up a tenth of a cold `next`.
    """

    checklist: Checklist
    inspection: Inspection
    visit: int
    compiled: Compiled
    heard: tuple[Heard, ...]
    beliefs: Beliefs
    priors: Beliefs
    causes: tuple[CauseBelief, ...]
    advice: Advice
    grades: Grades
    verdict: Verdict
    may_string: MayString
    settled_by: Mapping[str, Settling]
    looked_at: frozenset[str]
    reasoner: Weigher | Sampler

    @property
    def exactly(self) -> Weigher | None:
        """Return the reasoner if it is exact: what only it can answer is None without it."""
        return self.reasoner if isinstance(self.reasoner, Weigher) else None

    @cached_property
    def reasons(self) -> Mapping[str, Reasons]:
        """Return, for every fault that applies, the readings for and against it."""
        from tailblock.advice.reasons import reasons

        without = self.reasoner.leave_one_out()
        return reasons(self.checklist, self.compiled, self.beliefs, without, self.settled_by)

    @cached_property
    def seen_at_bench(self) -> frozenset[str]:
        """Return the faults that an answer of the bench shows, or that were confirmed as there."""
        confirmed = {
            seen.fault
            for visit in self.inspection.visits
            for seen in visit.confirmed
            if seen.present and seen.fault in self.checklist.faults
        }
        return looked_at(self.checklist, self.compiled, self.heard, ("bench",)) | confirmed

    @cached_property
    def explanations(self) -> Explanations | None:
        """Return which faults together explain the readings off normal, if that is in reach."""
        if self.exactly is None:
            return None
        from tailblock.advice.abnormal import abnormal
        from tailblock.advice.explanations import explanations

        readings = abnormal(self.checklist, self.compiled, self.heard)
        return explanations(self.compiled, readings, self.causes, self.reasons, self.exactly)

    @cached_property
    def surprises(self) -> tuple[Surprise, ...] | None:
        """Return how surprising each reading is, given all others, if that is in reach."""
        if self.exactly is None:
            return None
        from tailblock.advice.surprise import surprises

        return surprises(self.compiled, self.exactly, self.checklist.limits)

    @cached_property
    def surprise(self) -> Whole | None:
        """Return how the readings stand among those of drawn instruments; for the report."""
        if self.exactly is None:
            return None
        from tailblock.advice.surprise import whole

        asked = {self.compiled.findings[k].check for k in self.exactly.evidence.soft}
        traits = self.inspection.instrument.traits
        through_gauge = reported_by_check(self.checklist, traits, asked)
        return whole(self.compiled, self.exactly, through_gauge, self.checklist.limits)

    @cached_property
    def steadiness(self) -> Steadiness | None:
        """Return how far the ranking leans on the round words of the checklist.

        None where exact beliefs are out of reach, and for many networks even more so.
        """
        if self.exactly is None:
            return None
        import numpy as np

        from tailblock.advice.steadiness import MEMBERS, steadiness
        from tailblock.inference.batch import many_beliefs
        from tailblock.network.jitter import jittered

        evidence = self.exactly.evidence
        dice = np.random.default_rng(_SEED)
        networks = jittered(self.compiled.network, list(evidence.soft), dice, MEMBERS)
        renumbered = Evidence(dict(enumerate(evidence.soft.values())), evidence.hard)
        many = many_beliefs(networks, renumbered)
        return steadiness(self.checklist, self.compiled, self.causes, many)

    def return_risk(
        self,
        remedies: Sequence[str],
        about: Collection[str] | None = None,
        *,
        shares: bool = True,
    ) -> tuple[ReturnRisk, ...] | None:
        """Return the risk that what a plan repairs comes back, the highest first.

        The remedies are done together, on the state of the last visit with all that was read;
        `about` names the faults that are asked about, all if left out; `shares` whether their
        causes are wanted too. None where exact probabilities are out of reach.

        Raises
        ------
        KeyError
            The checklist has no remedy of that id.
        """
        from tailblock.advice.returning import return_risks

        if self.exactly is None:
            return None
        traits = self.inspection.instrument.traits
        try:
            return return_risks(
                self.compiled,
                self.checklist,
                traits,
                remedies,
                self.exactly.none_acts,
                about=about,
                shares=shares,
            )
        except TooWide:
            return None

    @cached_property
    def _jobs(self) -> Jobs | None:
        from tailblock.advice.hours import Jobs

        return None if self.exactly is None else Jobs(self.compiled, self.exactly)

    def hours_of(self, pieces: Iterable[Piece]) -> WorkHours | None:
        """Return the hours of some work as a distribution, and what would narrow it.

        None where exact probabilities are out of reach.
        """
        from tailblock.advice.hours import Unread, hours_of

        if self._jobs is None:
            return None
        traits = self.inspection.instrument.traits
        unread = [
            Unread(entry.for_derived or entry.check, entry.minutes + entry.setup_minutes)
            for entry in self.advice.advice
        ]
        return hours_of(
            pieces,
            self.checklist,
            traits,
            self._jobs,
            unread=unread,
            reported=reported_by_check(self.checklist, traits, [entry.check for entry in unread]),
        )

    def promise_of(self, pieces: Iterable[Piece]) -> Promise | None:
        """Return how many hours of some work are enough, and how probable each piece of it is.

        None where exact probabilities are out of reach.
        """
        from tailblock.advice.hours import promise_of

        if self._jobs is None:
            return None
        traits = self.inspection.instrument.traits
        return promise_of(pieces, self.checklist, traits, self._jobs)

    @cached_property
    def chosen(self) -> Chosen:
        """Return the work that is offered, without what it leaves."""
        from tailblock.advice.choose_work import choose_work

        traits = self.inspection.instrument.traits
        return choose_work(
            self.checklist,
            traits,
            self.causes,
            self.looked_at,
            self.seen_at_bench,
            explained=explained_by(self.compiled),
            in_reach={id_ for id_, way in self.settled_by.items() if way.reach == "now"},
        )

    @cached_property
    def plan(self) -> Plan:
        """Return the options of work, what each leaves, and what is kept in view."""
        from tailblock.advice.plan import make_plan
        from tailblock.advice.watching import in_view

        checklist, chosen = self.checklist, self.chosen
        day = self.inspection.visits[self.visit].day
        return make_plan(
            checklist,
            chosen,
            in_view(checklist, self.causes, self.settled_by, day, chosen.calling),
            after=self.after,
            returns=lambda remedies, faults: self.return_risk(remedies, faults, shares=False),
            probability=standing(checklist, self.compiled, self.beliefs),
        )

    def after(self, remedies: Sequence[str], faults: Sequence[str]) -> After | None:
        """Return the state after some remedies, and the chance that any of some faults is left.

        That none is left is the evidence with all of them absent over the evidence. None where
        exact probabilities are out of reach.
        """
        from tailblock.advice.plan import After
        from tailblock.network.after_plan import after_plan

        if self.exactly is None:
            return None
        network, nodes = after_plan(self.compiled, self.checklist, remedies)
        known = self.beliefs.probability.tolist()
        touched = [node for node in nodes.values() if node >= len(known)]
        asked = [{nodes[fault]: 0.0 for fault in faults}, *({node: 0.0} for node in touched)]
        try:
            none_left, *absent = self.exactly.none_acts(network, asked).tolist()
        except TooWide:
            return None
        then = dict(zip(touched, absent, strict=True))
        state = {
            fault: 1.0 - then[node] if node in then else known[node]
            for fault, node in nodes.items()
        }
        return After(state, 1.0 - min(1.0, none_left))

    def then(self, visit: int) -> Mapping[str, float] | None:
        """Return what was to be thought of each fault on an earlier visit, by what was read so far.

        None where exact probabilities are out of reach.
        """
        record = self.inspection
        known = replace(record, visits=record.visits[: visit + 1])
        compiled, _, evidence = understood(self.checklist, known)
        try:
            beliefs = Reasoner(compiled.network, evidence).beliefs
        except TooWide:
            return None
        return standing(self.checklist, compiled, beliefs)

    def on(self, visit: int) -> Mapping[str, float]:
        """Return the probability of each fault on an earlier visit, by all that is known today."""
        names = standing(self.checklist, self.compiled, self.beliefs)
        nodes = {name: self.compiled.node_of(name, visit) for name in names}
        return {name: float(self.beliefs.probability[node]) for name, node in nodes.items()}

    @cached_property
    def cross_checks(self) -> CrossChecks | None:
        """Return how the visit's readings that one geometry ties together agree, if they can."""
        from tailblock.inspection.reconcile import cross_checks

        visit, heard = self.inspection.visits[self.visit], self.heard[self.visit]
        return cross_checks(self.checklist, self.inspection.instrument, visit, heard)


class Contradiction(TailblockError):
    """What was read and confirmed cannot all be true by this checklist."""

    def __init__(self, path: Path, named: tuple[str, ...]) -> None:
        self.path, self.named = path, named
        super().__init__(
            f"{path}: {', '.join(named)}: these contradict each other, the checklist allows no "
            "instrument with all of them (look again, and retract the one that is wrong)"
        )


def open_inspection(
    path: Path, find_checklist: store.ChecklistFinder
) -> tuple[Checklist, Inspection]:
    """Read an inspection file and the checklist that it names.

    Raises
    ------
    TailblockError
        The file or the checklist cannot be used; the text says where and what would be right.
    """
    inspection = store.read(path, find_checklist)
    return find_checklist(inspection.checklist), inspection


def examine(checklist: Checklist, inspection: Inspection, limit: int = CELL_LIMIT) -> Examined:
    """Return everything that the readings of an inspection say about its last visit.

    Exactly where that takes at most `limit` table cells, which is known before anything runs; past
    it by sampling: `beliefs` are then `approximate` and carry their error, and what is worked out
    from them (gains, advice, grades) is as near as they are.

    Raises
    ------
    Contradiction
        The readings and confirmations have probability zero together (not found out by sampling).
    """
    instrument, visits = inspection.instrument, inspection.visits
    compiled, heard, evidence = understood(checklist, inspection)
    reasoner: Weigher | Sampler
    try:
        reasoner = Weigher(compiled.network, evidence, limit)
    except TooWide:
        from tailblock.inference.gibbs import Sampler

        reasoner = Sampler(compiled.network, evidence)
    try:
        beliefs = reasoner.beliefs
    except ImpossibleEvidence as impossible:
        named = _named(inspection, compiled, impossible)
        raise Contradiction(inspection.path, named) from impossible

    situation = situation_of(checklist, instrument, visits[-1], heard[-1])
    second_stage = visits[-1].stage in SECOND_STAGES
    found = candidates(situation)
    if second_stage:
        from tailblock.advice.second_look import as_before

        found = as_before(situation, found, visits)
    priors = reasoner.priors
    predictions = reasoner.predict(findings_of(compiled, found))
    through_gauge = reported_by_check(checklist, instrument.traits, [c.tells for c in found])
    gain = gains(checklist, compiled, predictions, through_gauge)
    shows = shown(checklist, compiled)
    causes = rank(checklist, compiled, beliefs, priors)
    probability = standing(checklist, compiled, beliefs)
    accepted = [entry.fault for visit in visits for entry in visit.accepted]
    danger = danger_of(checklist, probability, accepted)
    settled_by = settling(checklist, found, gain, shows, held=bool(danger.open))
    second: SecondLook | None = None
    if second_stage:
        from tailblock.advice.second_look import second_look

        second = second_look(situation, visits, heard, found, gains=gain, shown=shows)
    looked = looked_at(checklist, compiled, heard)
    seen = Seen(
        looked,
        at_the_top(checklist, compiled, heard),
        situation.at_pitch,
        watched_parts(checklist, [work.remedy for visit in visits for work in visit.work]),
    )
    return Examined(
        checklist=checklist,
        inspection=inspection,
        visit=len(visits) - 1,
        compiled=compiled,
        heard=heard,
        beliefs=beliefs,
        priors=priors,
        causes=causes,
        advice=advise(
            situation,
            found,
            gain,
            shows,
            probability,
            settled_by=settled_by,
            accepted=accepted,
            carried=carried(compiled, heard),
            second=second,
        ),
        grades=grade(checklist, causes, seen),
        verdict=verdict(checklist, causes, looked),
        may_string=may_string(probability, danger, Clearing(checklist, found, gain, shows)),
        settled_by=settled_by,
        looked_at=looked,
        reasoner=reasoner,
    )


def foreseen(checklist: Checklist, inspection: Inspection) -> tuple[tuple[str, float, bool], ...]:
    """Return for each fault that was confirmed what its probability was just before.

    Fault, probability with all readings up to that visit and the confirmations of the visits
    before, and whether it was there.

    Raises
    ------
    Contradiction
        The readings and confirmations have probability zero together.
    TooWide
        Exact probabilities are out of reach.
    """
    found: list[tuple[str, float, bool]] = []
    for place, visit in enumerate(inspection.visits):
        if not visit.confirmed:
            continue
        visits = (*inspection.visits[:place], replace(visit, confirmed=()))
        until = replace(inspection, visits=visits)
        compiled, _, evidence = understood(checklist, until)
        try:
            beliefs = Reasoner(compiled.network, evidence).beliefs
        except ImpossibleEvidence as impossible:
            named = _named(until, compiled, impossible)
            raise Contradiction(inspection.path, named) from impossible
        found += [
            (seen.fault, float(beliefs.probability[compiled.node_of(seen.fault)]), seen.present)
            for seen in visit.confirmed
        ]
    return tuple(found)


def understood(
    checklist: Checklist, inspection: Inspection
) -> tuple[Compiled, tuple[Heard, ...], Evidence]:
    """Return the network of an inspection, what was heard on each visit, and what it says.

    Raises
    ------
    Contradiction
        A fault is confirmed as there and as absent, and neither work nor time lies between.
    """
    instrument, visits = inspection.instrument, inspection.visits
    heard = tuple(hear(checklist, instrument, visit) for visit in visits)
    skeleton = [
        VisitSkeleton(visit.stage, visit.day, tuple(work.remedy for work in visit.work))
        for visit in visits
    ]
    compiled = compile_network(checklist, instrument.traits, skeleton)
    return compiled, heard, _evidence(checklist, inspection, compiled, heard)


def _evidence(
    checklist: Checklist, inspection: Inspection, compiled: Compiled, heard: tuple[Heard, ...]
) -> Evidence:
    soft = {}
    hard: dict[int, bool] = {}
    for visit, said in enumerate(heard):
        for spoken in said.spoken:
            finding = compiled.finding_of(spoken.check, visit)
            if finding is not None:
                traits = inspection.instrument.traits
                soft[finding] = likelihood(checklist, traits, spoken)
        for seen in inspection.visits[visit].confirmed:
            node = compiled.node_of(seen.fault, visit)
            if hard.setdefault(node, seen.present) != seen.present:
                raise Contradiction(inspection.path, _opposed(inspection, seen.fault))
    return Evidence(soft, hard)


def _opposed(inspection: Inspection, fault: str) -> tuple[str, ...]:
    """Name the confirmations of a fault that neither work nor time can have changed."""
    return tuple(
        f"{fault} confirmed as {'there' if seen.present else 'absent'} on {visit.day} "
        f"(line {seen.place.line})"
        for visit in inspection.visits
        for seen in visit.confirmed
        if seen.fault == fault
    )


def _named(
    inspection: Inspection, compiled: Compiled, impossible: ImpossibleEvidence
) -> tuple[str, ...]:
    readings = tuple(
        f"{name.check} on {inspection.visits[name.visit].day}"
        for name in (compiled.findings[k] for k in impossible.findings)
    )
    confirmed = tuple(
        f"{name.id} confirmed as {'there' if seen.present else 'absent'}"
        for name in (compiled.nodes[node] for node in impossible.nodes)
        for visit in inspection.visits
        for seen in visit.confirmed
        if seen.fault == name.id
    )
    return readings + confirmed
