"""An inspection of a hidden instrument, check by check, and what the engine knows of it meanwhile.

In: a `Hidden` instrument and the checks that somebody chooses. Out: `Known`, what its answers so
far say, and the check that the advice would choose next. `pipeline.examine` says the same and much
more; a run of hundreds of checks cannot wait for grades, verdict and settings that nobody reads.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from tailblock.advice.candidates import Candidate, candidates, findings_of
from tailblock.advice.gain import entropy, gains
from tailblock.advice.gauge import reported_by_check
from tailblock.advice.held_back import open_danger
from tailblock.advice.next_check import advise
from tailblock.advice.ranking import rank, standing, weight
from tailblock.advice.shows import shown
from tailblock.advice.situation import situation_of
from tailblock.inference import Reasoner
from tailblock.inspection.interpret import first_setup
from tailblock.inspection.likelihood import likelihood
from tailblock.inspection.record import Instrument, Reading, Visit
from tailblock.inspection.speaks import hear
from tailblock.network import Evidence, VisitSkeleton, compile_network
from tailblock.practice.days import DAY, NOWHERE

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.advice import CauseBelief
    from tailblock.advice.results import Step
    from tailblock.advice.situation import Situation
    from tailblock.inference import Beliefs
    from tailblock.inspection.record import Answer
    from tailblock.knowledge.checklist import Checklist
    from tailblock.practice.simulated import Hidden

# Instruments answer alike at first; so many readings on each has a story of its own.
_COMMON = 10

Key = tuple[tuple[str, "Answer", tuple[tuple[str, str], ...]], ...]


@dataclass(frozen=True)
class Known:
    """What the readings of a visit say so far.

    `found`: what could be read. `held`: whether an open danger holds back tension and load.
    """

    checklist: Checklist
    situation: Situation
    found: tuple[Candidate, ...]
    probability: Mapping[str, float]
    causes: tuple[CauseBelief, ...]
    reasoner: Reasoner

    @property
    def held(self) -> bool:
        """Return whether an open danger holds back what adds tension or load."""
        return bool(open_danger(self.checklist, self.probability))

    @cached_property
    def uncertainty(self) -> float:
        """Return the harm-weighted uncertainty: the weighted sum of the faults' entropies [bits].

        `sum over faults of w_i H(p_i)`, weights and entropy as in the gain of a check.
        """
        scales = self.checklist.limits
        weights = [weight(self.checklist.faults[id_], scales) for id_ in self.probability]
        return float(np.array(weights) @ entropy(np.array([*self.probability.values()])))

    def offered(self) -> tuple[str, ...]:
        """Return the unread checks that may be done now, in file order, whatever they tell.

        As in the advice, nothing is among them that an open danger holds back.
        """
        return tuple(
            one.tells
            for one in self.found
            if one.tells == one.check
            and (one.calm_way if self.held else one.way) is not None
            and not (self.held and one.loading)
        )


class Next(NamedTuple):
    """What the advice puts first, and the step of the advice that put it there."""

    check: str
    step: Step


class Engine:
    """The engine for all instruments of the same traits, with what it has advised before."""

    def __init__(self, checklist: Checklist, traits: Mapping[str, str], stage: str) -> None:
        self.checklist = checklist
        self.instrument = Instrument("simulated", traits)
        self.stage = stage
        self.compiled = compile_network(checklist, traits, [VisitSkeleton(stage, DAY)])
        self._priors: Beliefs | None = None
        self._through_gauge = reported_by_check(
            checklist, traits, [name.check for name in self.compiled.findings]
        )
        self._shows = shown(checklist, self.compiled)
        self._next: dict[Key, Next | None] = {}

    def known(self, visit: Visit) -> Known:
        """Return what the readings of a visit say."""
        checklist, instrument = self.checklist, self.instrument
        heard = hear(checklist, instrument, visit)
        soft = {
            self.compiled.index[spoken.check, 0]: likelihood(checklist, instrument.traits, spoken)
            for spoken in heard.spoken
        }
        reasoner = Reasoner(self.compiled.network, Evidence(soft))
        if self._priors is None:
            self._priors = reasoner.priors
        situation = situation_of(checklist, instrument, visit, heard)
        return Known(
            checklist,
            situation,
            candidates(situation),
            standing(checklist, self.compiled, reasoner.beliefs),
            rank(checklist, self.compiled, reasoner.beliefs, self._priors),
            reasoner,
        )

    def next_check(self, known: Known, visit: Visit) -> Next | None:
        """Return the check that the advice puts first, None if it has none."""
        key = tuple(
            (one.check, one.answer, tuple(sorted(one.setup.items()))) for one in visit.readings
        )
        if len(key) > _COMMON:
            return self._advised(known)
        if key not in self._next:
            self._next[key] = self._advised(known)
        return self._next[key]

    def _advised(self, known: Known) -> Next | None:
        findings = findings_of(self.compiled, known.found)
        predictions = known.reasoner.predict(findings)
        gain = gains(self.checklist, self.compiled, predictions, self._through_gauge)
        advice = advise(
            known.situation, known.found, gain, self._shows, known.probability, settled_by={}
        )
        first = advice.advice[0] if advice.advice else None
        return Next(first.check, first.step) if first else None


class Bench:
    """A hidden instrument on the bench, on one visit."""

    def __init__(self, engine: Engine, hidden: Hidden) -> None:
        self.engine = engine
        self.hidden = hidden
        setup = first_setup(engine.checklist)
        self.visit = Visit(engine.stage, DAY, NOWHERE, setup=setup)
        self.known = engine.known(self.visit)

    @property
    def minutes(self) -> float:
        """Return the attended minutes spent so far, changes of setup included."""
        return self.known.situation.minutes_used

    def advised(self) -> Next | None:
        """Return the check that the advice would do next."""
        return self.engine.next_check(self.known, self.visit)

    def do(self, name: str) -> None:
        """Bring the instrument into the nearest setup that a check allows, and read it.

        Raises
        ------
        NoSuchCheck, DerivedCheck, CheckDoesNotApply
            As `Hidden.answer`.
        WrongSetup
            No way leads to a setup that the check allows.
        """
        situation = self.known.situation
        wanted = self.engine.checklist.checks[name].setup
        ceiling = situation.map.tension(situation.present) if self.known.held else None
        route = situation.map.route(situation.present, wanted, ceiling)
        setup = route.end if route else situation.present
        times = sum(one.check == name and one.setup == setup for one in self.visit.readings)
        answer = self.hidden.answer(name, setup, times)
        reading = Reading(name, "", answer, setup, NOWHERE)
        visit = self.visit
        self.visit = Visit(
            visit.stage,
            visit.day,
            visit.place,
            setup=visit.setup,
            readings=(*visit.readings, reading),
        )
        self.known = self.engine.known(self.visit)
