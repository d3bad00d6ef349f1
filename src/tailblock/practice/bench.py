"""An inspection of a hidden instrument, check by check, and what the engine knows of it meanwhile.

In: a `Hidden` instrument and the checks that somebody chooses. Out: `Known`, what its answers so
far say, and the check that the advice would choose next. `pipeline.examine` says the same and much
more; a run of hundreds of checks cannot wait for grades, verdict and settings that nobody reads.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from tailblock.advice.candidates import Candidate, candidate_of, candidates, findings_of
from tailblock.advice.gain import entropy, gains
from tailblock.advice.gauge import reported_by_check
from tailblock.advice.held_back import open_danger
from tailblock.advice.next_check import advise
from tailblock.advice.ranking import SUREST, rank, standing, weight
from tailblock.advice.shows import shown
from tailblock.advice.situation import situation_of
from tailblock.inference import Reasoner
from tailblock.inspection.interpret import first_setup
from tailblock.inspection.likelihood import likelihood
from tailblock.inspection.record import Instrument, Reading, Visit, in_setup
from tailblock.inspection.speaks import hear
from tailblock.network import Evidence, VisitSkeleton, compile_network
from tailblock.practice.days import DAY, NOWHERE

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from tailblock.advice import Advice, CauseBelief
    from tailblock.advice.gain import Gain
    from tailblock.advice.results import Step
    from tailblock.advice.setups import Route
    from tailblock.advice.situation import Situation
    from tailblock.inference import Beliefs
    from tailblock.inspection.record import Answer, Setup
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition
    from tailblock.network.arrays import FloatArray
    from tailblock.practice.simulated import Hidden

# Instruments answer alike at first; so many readings on each has a story of its own.
_COMMON = 10
NOTHING: Mapping[str, FloatArray] = MappingProxyType({})

Key = tuple[tuple[str, "Answer", bool, tuple[tuple[str, str], ...]], ...]


@dataclass(frozen=True)
class Known:
    """What the readings of a visit say so far.

    `found`: what could be read. `held`: whether an open danger holds back tension and load.
    """

    checklist: Checklist
    situation: Situation
    probability: Mapping[str, float]
    causes: tuple[CauseBelief, ...]
    reasoner: Reasoner

    @cached_property
    def found(self) -> tuple[Candidate, ...]:
        """Return what could be read, worked out when it is asked for."""
        return candidates(self.situation)

    @cached_property
    def open_danger(self) -> tuple[str, ...]:
        """Return the danger faults above the limit, the most probable first."""
        return open_danger(self.checklist, self.probability)

    @property
    def held(self) -> bool:
        """Return whether an open danger holds back what adds tension or load."""
        return bool(self.open_danger)

    @cached_property
    def uncertainty(self) -> float:
        """Return the harm-weighted uncertainty: the weighted sum of the faults' entropies [bits].

        `sum over faults of w_i H(p_i)`, weights and entropy as in the gain of a check.
        """
        scales = self.checklist.limits
        weights = [weight(self.checklist.faults[id_], scales) for id_ in self.probability]
        return float(np.array(weights) @ entropy(np.array([*self.probability.values()])))

    def missing(self, there: Collection[str]) -> float:
        """Return how far the beliefs are from the truth, harm-weighted [bits], 0 if they are it.

        `sum over faults of -w_i log2 P(F_i is as it is)`, with chances kept 1e-12 from 0 and 1.

        Parameters
        ----------
        there
            The faults that are there; all others are not.

        Source: I. J. Good, "Rational decisions", 1952, the logarithmic score (from memory).
        """
        scales = self.checklist.limits
        weights = [weight(self.checklist.faults[id_], scales) for id_ in self.probability]
        true = [p if id_ in there else 1.0 - p for id_, p in self.probability.items()]
        return float(np.array(weights) @ -np.log2(np.clip(true, SUREST, 1.0)))

    def offered(self) -> tuple[str, ...]:
        """Return the unread checks that may be done now, in file order, whatever they tell."""
        return tuple(one.tells for one in self.found if self._may_be_done(one))

    def offers(self, name: str) -> bool:
        """Return whether one check is among those offered; the others are not worked out."""
        one = candidate_of(self.situation, self.checklist.checks[name])
        return one is not None and self._may_be_done(one)

    def _may_be_done(self, one: Candidate) -> bool:
        """Return whether somebody can do it, and no open danger holds it back, as in the advice."""
        return (
            one.tells == one.check
            and (one.calm_way if self.held else one.way) is not None
            and not (self.held and one.loading)
        )


class Next(NamedTuple):
    """A check chosen, and the step of the advice that put it first, if the advice did."""

    check: str
    step: Step | Literal[""] = ""


class Weighed(NamedTuple):
    """What each check that could be read would tell, and the advice that follows."""

    gains: Mapping[str, Gain]
    advice: Advice


class Engine:
    """The engine for all instruments of the same traits, with what it has advised before."""

    def __init__(self, checklist: Checklist, traits: Mapping[str, str], stage: str) -> None:
        self.checklist = checklist
        self.instrument = Instrument("simulated", traits)
        self.stage = stage
        self.compiled = compile_network(checklist, traits, [VisitSkeleton(stage, DAY)])
        self._priors: Beliefs | None = None
        self.through_gauge = reported_by_check(
            checklist, traits, [name.check for name in self.compiled.findings]
        )
        self.shows = shown(checklist, self.compiled)
        self._next: dict[Key, Next | None] = {}

    def known(self, visit: Visit, likely: Mapping[str, FloatArray] = NOTHING) -> Known:
        """Return what the readings of a visit say.

        Parameters
        ----------
        likely
            Check -> the likelihood of each of its levels, for answers that are less than a reading:
            `off normal`, whatever level.
        """
        checklist, instrument = self.checklist, self.instrument
        heard = hear(checklist, instrument, visit)
        soft = {
            self.compiled.index[spoken.check, 0]: tuple(likely[spoken.check].tolist())
            if spoken.check in likely
            else likelihood(checklist, instrument.traits, spoken)
            for spoken in heard.spoken
        }
        reasoner = Reasoner(self.compiled.network, Evidence(soft))
        if self._priors is None:
            self._priors = reasoner.priors
        situation = situation_of(checklist, instrument, visit, heard)
        return Known(
            checklist,
            situation,
            standing(checklist, self.compiled, reasoner.beliefs),
            rank(checklist, self.compiled, reasoner.beliefs, self._priors),
            reasoner,
        )

    def next_check(self, known: Known, visit: Visit) -> Next | None:
        """Return the check that the advice puts first, None if it has none."""
        key = tuple(
            (one.check, one.answer, one.retracted, tuple(sorted(one.setup.items())))
            for one in visit.readings
        )
        if len(key) > _COMMON:
            return self._advised(known)
        if key not in self._next:
            self._next[key] = self._advised(known)
        return self._next[key]

    def weighed(self, known: Known) -> Weighed:
        """Return what each check would tell now, and the advice."""
        findings = findings_of(self.compiled, known.found)
        predictions = known.reasoner.predict(findings)
        gain = gains(self.checklist, self.compiled, predictions, self.through_gauge)
        advice = advise(
            known.situation, known.found, gain, self.shows, known.probability, settled_by={}
        )
        return Weighed(gain, advice)

    def _advised(self, known: Known) -> Next | None:
        advice = self.weighed(known).advice.advice
        return Next(advice[0].check, advice[0].step) if advice else None


class Bench:
    """A hidden instrument on the bench, on one visit."""

    def __init__(self, engine: Engine, hidden: Hidden, setup: Setup | None = None) -> None:
        """Take in an instrument in the setup that it comes in, the checklist's first if left out.

        `minutes` are the attended minutes spent so far, changes of setup included.
        """
        self.engine = engine
        self.hidden = hidden
        self.minutes = 0.0
        self.visit = Visit(engine.stage, DAY, NOWHERE, setup=setup or first_setup(engine.checklist))
        self.known = engine.known(self.visit)

    @property
    def present(self) -> Setup:
        """Return the setup that the instrument is in."""
        return self.known.situation.present

    def advised(self) -> Next | None:
        """Return the check that the advice would do next."""
        return self.engine.next_check(self.known, self.visit)

    def way(self, wanted: Condition, *, calm: bool) -> Route | None:
        """Return the shortest way to a setup that a condition allows, None if there is none.

        `calm`: without more tension than now.
        """
        situation = self.known.situation
        ceiling = situation.map.tension(self.present) if calm else None
        return situation.map.route(self.present, wanted, ceiling)

    def bring(self, route: Route) -> None:
        """Bring the instrument into another setup, and read nothing."""
        self.minutes += route.minutes
        if route.end != self.present:
            self.known = self.engine.known(in_setup(self.visit, route.end))

    def do(self, name: str) -> None:
        """Bring the instrument into the nearest setup that a check allows, and read it.

        Raises
        ------
        NoSuchCheck, DerivedCheck, CheckDoesNotApply
            As `Hidden.answer`.
        WrongSetup
            No way leads to a setup that the check allows.
        """
        check = self.engine.checklist.checks[name]
        route = self.way(check.setup, calm=self.known.held)
        setup = route.end if route else self.present
        times = sum(one.check == name and one.setup == setup for one in self.visit.readings)
        answer = self.hidden.answer(name, setup, times)
        reading = Reading(name, "", answer, setup, NOWHERE)
        self.minutes += check.minutes + (route.minutes if route else 0.0)
        self.visit = replace(self.visit, readings=(*self.visit.readings, reading))
        self.known = self.engine.known(self.visit)
