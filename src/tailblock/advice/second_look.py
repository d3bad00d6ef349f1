"""What a second inspection looks at first, after work or after time under tension.

In: the state of the visit, the visits before it and what was heard of them, the candidates with
their gains. Out: `SecondLook`, which `order` puts in front of what tells most. No probability is
known here.

At first stringing: (1) before a string moves, the head of the stage's opening list and whatever
clears a danger; (2) tension in steps, with the places of danger looked at on each: what looks worse
than before means slacken; (3) what must be read: the rest of the opening list, what finished work
asks to watch, what was off normal on a fault that was repaired, what the work may have left, and
what could not be read without strings; (4) the rest by gain. On a settled visit the checks of the
first stringing come first, in the setup in which they were read.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tailblock.advice.candidates import Need, walk
from tailblock.advice.sentences import in_setup, inline
from tailblock.advice.setups import satisfies
from tailblock.advice.tuning import Tuning, first_step
from tailblock.inspection.groups import counting
from tailblock.knowledge.levels import levels_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from tailblock.advice.candidates import Candidate
    from tailblock.advice.gain import Gain
    from tailblock.advice.order import Item
    from tailblock.advice.results import Phase, Sign, Step
    from tailblock.advice.situation import Situation
    from tailblock.inspection.record import Reading, Visit
    from tailblock.inspection.speaks import Heard

FIRST_STRINGING, SETTLED = "first-stringing", "settled"


@dataclass(frozen=True, slots=True)
class SecondLook:
    """What comes first on a second inspection.

    `below`: no string carries load yet. `before`: the checks of the opening list that come before a
    string moves. `ramp`: looks on each step of tension that is still ahead. `must`: checks that
    must be read and the step that they belong to. `why`: a sentence for each. `signs`: what looks
    worse since the strings were tightened.
    """

    situation: Situation
    below: bool
    before: frozenset[str]
    ramp: tuple[Candidate, ...]
    must: Mapping[str, Step]
    why: Mapping[str, str]
    signs: tuple[Sign, ...]

    def safe(self, items: Sequence[Item]) -> tuple[Item, ...]:
        """Return what may still be done: with a sign of danger only what needs no load."""
        if self.below or not self.signs:
            return tuple(items)
        first = first_step(self.situation)
        return tuple(i for i in items if self.situation.map.tension(i.way.end) < first)

    def phase(self, items: Sequence[Item], *, held: bool) -> Phase:
        """Return where the inspection stands, from what is to be done next."""
        if self.signs and not self.below:
            return "slacken"
        if any(item.step == "again" for item in items):
            return "again"
        rising = self.situation.stage == FIRST_STRINGING and self.below
        step = items[0].step if items else "gain"
        if rising and (held or step in {"before-strings", "clears"}):
            return "before-strings"
        if step in {"opening", "must-read"}:
            return "must-read"
        return "tension" if step == "tension" else "gain"

    def step_of(self, item: Item) -> Step:
        """Return the step of an item of the opening list: it may have been read before."""
        again = self.must.get(item.candidate.tells) == "again"
        return "again" if again else item.step

    def reason(self, item: Item) -> str:
        """Return why an item must be done, empty where its gain says it."""
        if item.step == "before-strings":
            return "Looked at before a string moves, to compare with later."
        if item.step == "tension":
            state = item.leg.end[self.situation.checklist.setups.tension].replace("-", " ")
            return (
                f"Looked at with the strings {state}: what looks worse than before means slacken."
            )
        if item.step in {"must-read", "again"}:
            return self.why[item.candidate.tells]
        return ""


def second_look(
    situation: Situation,
    visits: Sequence[Visit],
    heard: Sequence[Heard],
    found: Sequence[Candidate],
    *,
    gains: Mapping[str, Gain],
    shown: Mapping[str, Collection[str]],
) -> SecondLook:
    """Return what comes first on the last of the visits.

    Parameters
    ----------
    visits, heard
        All visits and what was heard of them, the present one last.
    found, gains, shown
        What could be read, what it would tell, and the faults that each check shows.
    """
    below = situation.map.tension(situation.present) < first_step(situation)
    tuning = Tuning(situation, visits[-1])
    must: dict[str, Step] = {}
    why: dict[str, str] = {}
    if situation.stage == SETTLED:
        for tells, sentence in _again(situation, found, visits):
            must.setdefault(tells, "again")
            why.setdefault(tells, sentence)
    for tells, sentence in _must(situation, visits, heard, found, gains=gains, shown=shown):
        must.setdefault(tells, "must-read")
        why.setdefault(tells, sentence)
    rising = situation.stage == FIRST_STRINGING
    return SecondLook(
        situation=situation,
        below=below,
        before=frozenset(_before(situation)) if rising and below else frozenset(),
        ramp=tuple(tuning.ahead()) if rising else (),
        must=must,
        why=why,
        signs=tuple(tuning.signs()) if rising else (),
    )


def as_before(
    situation: Situation, found: Sequence[Candidate], visits: Sequence[Visit]
) -> tuple[Candidate, ...]:
    """Return the candidates of a settled visit, each in the setup in which it was read before.

    What cannot be brought into that setup again without work stays as it is.
    """
    if situation.stage != SETTLED:
        return tuple(found)
    before = _read_before(visits)
    return tuple(_as_before(situation, candidate, before) for candidate in found)


def _as_before(
    situation: Situation, candidate: Candidate, before: Mapping[str, Sequence[Reading]]
) -> Candidate:
    needs = tuple(_need_as_before(need, before.get(need.check.id, ())) for need in candidate.needs)
    way = walk(situation.map, situation.present, needs, None)
    if needs == candidate.needs or way is None:
        return candidate
    tension = situation.map.tension(situation.present)
    calm = walk(situation.map, situation.present, needs, tension)
    return replace(candidate, needs=needs, way=way, calm_way=calm)


def _need_as_before(need: Need, read: Sequence[Reading]) -> Need:
    for reading in reversed(read):
        if satisfies(reading.setup, need.setup):
            return Need(need.check, {name: (state,) for name, state in reading.setup.items()})
    return need


def _read_before(visits: Sequence[Visit]) -> Mapping[str, list[Reading]]:
    """Return the readings of the visit to compare with, by check: the last one at full strength.

    That is the last visit of the same kind or of the first stringing; without one, the last visit
    on which anything was read.
    """
    earlier = [visit for visit in visits[:-1] if any(True for _ in counting(visit))]
    strung = [visit for visit in earlier if visit.stage in {FIRST_STRINGING, SETTLED}]
    last = (strung or earlier)[-1:]
    found: dict[str, list[Reading]] = {}
    for visit in last:
        for _, reading in counting(visit):
            found.setdefault(reading.check, []).append(reading)
    return found


def _again(
    situation: Situation, found: Sequence[Candidate], visits: Sequence[Visit]
) -> Iterator[tuple[str, str]]:
    """Yield what is read as it was read before: the place is in the note, the value is not told."""
    before = _read_before(visits)
    candidates = {candidate.check: candidate for candidate in found}
    opening = situation.checklist.stages[situation.stage].opening
    named = [*(check for check in opening if check in before), *before]
    for check in dict.fromkeys(named):
        candidate = candidates.get(check)
        if candidate is not None:
            reading = before[check][-1]
            note = f" Noted then: {reading.note}" if reading.note else ""
            yield candidate.tells, f"Read again as before, {in_setup(reading.setup)}.{note}"


def _before(situation: Situation) -> Iterator[str]:
    """Yield the head of the opening list: up to the first check that needs load on the strings."""
    first = first_step(situation)
    setups = situation.checklist.setups
    for check in situation.checklist.stages[situation.stage].opening:
        wanted = situation.checklist.checks[check].setup.get(setups.tension)
        if wanted and all(situation.map.tension({setups.tension: s}) >= first for s in wanted):
            return
        yield check


def _must(
    situation: Situation,
    visits: Sequence[Visit],
    heard: Sequence[Heard],
    found: Sequence[Candidate],
    *,
    gains: Mapping[str, Gain],
    shown: Mapping[str, Collection[str]],
) -> Iterator[tuple[str, str]]:
    """Yield what must be read after work, and after a time without strings."""
    checklist = situation.checklist
    by_check = {candidate.check: candidate.tells for candidate in found}
    done = [checklist.remedies[one.remedy] for visit in visits for one in visit.work]
    for remedy in done:
        for watch in remedy.watch:
            if watch.check in by_check:
                yield by_check[watch.check], f"To be watched after: {inline(remedy.name)}."
    fixed = {fix.fault for remedy in done for fix in remedy.fixes}
    for said in heard[:-1]:
        for check, level in said.levels.items():
            levels = levels_of(checklist.checks[check])
            repaired = fixed.intersection(shown.get(check, ()))
            if level != levels.ids[levels.normal] and repaired and check in by_check:
                name = inline(checklist.faults[min(repaired)].name)
                yield by_check[check], f"Was off normal before the work; it shows {name}."
    for remedy in done:
        for left in remedy.may_leave:
            tells = _tells_most(left.fault, found, gains, shown)
            if tells is not None:
                name = inline(checklist.faults[left.fault].name)
                yield tells, f"Tells most about what this work may leave: {name}."
    if situation.stage == FIRST_STRINGING:
        yield from _needed_strings(situation, visits, found, gains)


def _tells_most(
    fault: str,
    found: Sequence[Candidate],
    gains: Mapping[str, Gain],
    shown: Mapping[str, Collection[str]],
) -> str | None:
    """Return the harmless look within reach that tells most about a fault it shows."""
    bits = {
        candidate.tells: gains[candidate.tells].about.get(fault, 0.0)
        for candidate in found
        if candidate.harmless and candidate.way is not None and fault in shown[candidate.tells]
    }
    best = max(bits, key=bits.__getitem__, default=None)
    return best if best is not None and bits[best] > 0.0 else None


def _needed_strings(
    situation: Situation,
    visits: Sequence[Visit],
    found: Sequence[Candidate],
    gains: Mapping[str, Gain],
) -> Iterator[tuple[str, str]]:
    """Yield what only load on the strings shows, was never read, and is worth its minutes."""
    first, setups = first_step(situation), situation.checklist.setups
    read = {reading.check for visit in visits[:-1] for _, reading in counting(visit)}
    stop = situation.checklist.limits.stop_bits_per_minute
    for candidate in found:
        wanted = [need.setup.get(setups.tension, ()) for need in candidate.needs]
        loaded = any(
            states and all(situation.map.tension({setups.tension: s}) >= first for s in states)
            for states in wanted
        )
        worth = gains[candidate.tells].bits >= stop * candidate.minutes
        if loaded and worth and candidate.check not in read and candidate.harmless:
            yield candidate.tells, "Could not be read before: it needs the strings on."
