"""A drill: an apprentice inspects a hidden instrument and says what is wrong and what to do first.

In: a `Case` and what the apprentice chooses. Out: for every choice what it cost, what it was worth
beforehand, and what the advice would have done; the moves that could have done harm; a `Debrief`
at the end (see `debrief`). No terminal: a page can drive it as well.

The instrument answers as its faults make it, with the error of each gauge. Nothing is refused
because it is unsafe: it is noted, with what made it so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tailblock.advice.sentences import in_setup
from tailblock.errors import TailblockError
from tailblock.inspection.answers import find_check, require_setup
from tailblock.knowledge.levels import levels_of
from tailblock.practice.bench import Bench, Engine
from tailblock.practice.teaching import worth
from tailblock.practice.unsafe import Unsafe

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.advice import Advised
    from tailblock.advice.setups import Route
    from tailblock.inspection.record import Reading, Setup
    from tailblock.knowledge.entries import Check, Condition
    from tailblock.practice.bench import Weighed
    from tailblock.practice.cases import Case


class NoWay(TailblockError):
    """No way without repair work leads to a setup."""

    def __init__(self, wanted: str) -> None:
        self.wanted = wanted
        super().__init__(f"{wanted}: only repair work leads there; it is known once it is opened")


@dataclass(frozen=True, slots=True)
class Choice:
    """A check that was chosen.

    `reading`: what came of it. `minutes`: its own and those of the change of setup before it.
    `bits`: what it was expected to tell, harm-weighted; 0 for what was read already. `advised`:
    what the advice put first at that moment, None if nothing; `best`: the check that would have
    told most in as many minutes, with its `best_bits`; `missing`: how far the engine's beliefs are
    from the truth after it [bits].
    """

    check: str
    reading: Reading
    minutes: float
    bits: float
    advised: Advised | None
    best: str
    best_bits: float
    missing: float

    @property
    def as_advised(self) -> bool:
        """Return whether it is what the advice put first."""
        return self.advised is not None and self.advised.check == self.check

    @property
    def forgone(self) -> float:
        """Return the bits that another check would have told in as many minutes, and more.

        What the advice puts first forgoes none: safety comes before information there.
        """
        return 0.0 if self.as_advised else self.best_bits - self.bits


class Drill:
    """One drill, from the complaint to the debrief. `hints` counts what was asked of the advice."""

    def __init__(self, case: Case, engine: Engine | None = None) -> None:
        """Take in the instrument, and hear the player.

        Parameters
        ----------
        engine
            That of the case's traits, if it is at hand.
        """
        self.case = case
        traits = case.hidden.traits
        self.engine = engine or Engine(case.checklist, traits, case.stage)
        self.bench = begun(case, self.engine)
        self.heard = len(self.bench.visit.readings)
        self.choices: list[Choice] = []
        self.unsafe: list[Unsafe] = []
        self.hints = 0
        self._moved = 0.0
        self._weighed: Weighed | None = None

    @property
    def minutes(self) -> float:
        """Return the minutes used, those of the complaint left out."""
        return sum(choice.minutes for choice in self.choices) + self._moved

    @property
    def weighed(self) -> Weighed:
        """Return what every check would tell now, and what the advice says."""
        if self._weighed is None:
            self._weighed = self.engine.weighed(self.bench.known)
        return self._weighed

    @property
    def read(self) -> tuple[str, ...]:
        """Return the checks that were read, each once."""
        return tuple(dict.fromkeys(choice.check for choice in self.choices))

    @property
    def off_normal(self) -> tuple[str, ...]:
        """Return the checks that were read, and answered off normal."""
        reached = self.bench.known.situation.levels
        scales = {name: levels_of(self.case.checklist.checks[name]) for name in self.read}
        return tuple(
            name
            for name, levels in scales.items()
            if name in reached and reached[name] != levels.ids[levels.normal]
        )

    def hint(self) -> Advised | None:
        """Return what the advice puts first, None if nothing; asking is counted."""
        self.hints += 1
        return self._first()

    def choose(self, name: str) -> Choice:
        """Bring the instrument into the nearest setup that a check allows, and read it.

        Raises
        ------
        NoSuchCheck, DerivedCheck, CheckDoesNotApply
        NoWay
            It can only be read once the instrument is opened.
        """
        checklist, bench = self.case.checklist, self.bench
        check = find_check(name, checklist, self.case.hidden.traits)
        bits = worth(check, bench.known.found, self.weighed.gains).bits
        advised = self._first()
        route = bench.way(check.setup, calm=True) or bench.way(check.setup, calm=False)
        if route is None:
            raise NoWay(check.title)
        self._note_harm(check, route)
        require_setup(check, route.end)
        before = bench.minutes
        best, best_bits = self._best(self._moved + route.minutes + check.minutes, name, bits)
        bench.bring(route)
        bench.do(name)
        minutes = bench.minutes - before + self._moved
        self._weighed, self._moved = None, 0.0
        reading = bench.visit.readings[-1]
        missing = bench.known.missing(self.case.hidden.faults)
        choice = Choice(name, reading, minutes, bits, advised, best, best_bits, missing)
        self.choices.append(choice)
        return choice

    def bring(self, setup: Setup) -> None:
        """Bring the instrument into another setup, and read nothing.

        The minutes count with the next check.

        Raises
        ------
        NoWay
        """
        bench = self.bench
        exactly: Condition = {name: (state,) for name, state in setup.items()}
        route = bench.way(exactly, calm=False)
        if route is None:
            raise NoWay(in_setup(setup))
        self._note_tension(route)
        self._moved += route.minutes
        bench.bring(route)
        self._weighed = None

    def _first(self) -> Advised | None:
        advice = self.weighed.advice.advice
        return advice[0] if advice else None

    def _best(self, minutes: float, chosen: str, bits: float) -> tuple[str, float]:
        """Return what tells most within some minutes: the chosen one if nothing tells more."""
        known, gains = self.bench.known, self.weighed.gains
        best = (chosen, bits)
        for one in known.found:
            way = one.calm_way if known.held else one.way
            loads = known.held and one.loading
            if way is None or loads or way.minutes + one.minutes > minutes:
                continue
            if gains[one.tells].bits > best[1]:
                best = (one.tells, gains[one.tells].bits)
        return best

    def _note_harm(self, check: Check, route: Route) -> None:
        self._note_tension(route)
        self.unsafe.extend(self._harm(check))

    def _note_tension(self, route: Route) -> None:
        """Note that tension is raised while a danger fault is open, if it is."""
        known = self.bench.known
        ways = known.situation.map
        if known.open_danger and ways.tension(route.end) > ways.tension(self.bench.present):
            checklist = self.case.checklist
            state = route.end[checklist.setups.tension]
            what = "bring-to-pitch" if ways.at_pitch(route.end) else state
            self.unsafe.append(Unsafe(len(self.choices), "tension", what, known.open_danger))

    def _harm(self, check: Check) -> Iterator[Unsafe]:
        """Yield load on an open danger, heat and solvent before a harmless look at the same."""
        known, after = self.bench.known, len(self.choices)
        if known.open_danger and (check.loads or check.risk == "load"):
            yield Unsafe(after, "load", check.id, known.open_danger)
        if check.risk in ("heat", "solvent"):
            shows = self.engine.shows
            spares = (
                one.check
                for one in known.found
                if one.harmless
                and one.calm_way is not None
                and shows[one.tells] & shows.get(check.id, frozenset())
            )
            spared_by = next(spares, None)
            if spared_by is not None:
                yield Unsafe(after, check.risk, check.id, (spared_by,))


def begun(case: Case, engine: Engine) -> Bench:
    """Return a case on the bench: nothing is read but what the player says; that takes no time."""
    bench = Bench(engine, case.hidden, case.setup)
    for complaint in case.complaints:
        bench.do(complaint)
    bench.minutes = 0.0
    return bench
