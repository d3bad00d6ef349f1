"""The order in which unread checks are offered.

In: the state of the visit, the candidates and what they would tell. Out: `Item`s, first things
first, each with the way from the one before it. Nothing that is held back is among them, and
nothing that could only be reached through what is.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from itertools import chain, islice
from typing import TYPE_CHECKING

from tailblock.advice.bundles import Bundler, Look
from tailblock.advice.candidates import Way, walk

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from tailblock.advice.candidates import Candidate
    from tailblock.advice.gain import Gain
    from tailblock.advice.results import Step
    from tailblock.advice.second_look import SecondLook
    from tailblock.advice.situation import Situation
    from tailblock.inspection.record import Setup
    from tailblock.knowledge.entries import Condition


@dataclass(frozen=True, slots=True)
class Item:
    """A candidate in its place: why it stands there, and its gain.

    `way` leads to it from the present setup, `leg` from the item before it. `rate` is the gain for
    each minute of the bundle that it came in, for other steps its own with the way to it.
    """

    candidate: Candidate
    step: Step
    bits: float
    way: Way
    leg: Way
    rate: float

    @property
    def minutes(self) -> float:
        """Return its minutes in all, done from the present setup."""
        return self.way.minutes + self.candidate.minutes


class Order:
    """What is offered on a visit, and in which order."""

    def __init__(
        self,
        situation: Situation,
        found: Sequence[Candidate],
        gains: Mapping[str, Gain],
        shown_by: Mapping[str, Collection[str]],
        *,
        held: bool,
        carried: Collection[str] = (),
    ) -> None:
        """Leave out what is held back; `held`: no more tension and no added load.

        `carried`: checks that tell nothing new by themselves (see `shows.carried`).
        """
        self._carried = carried
        self._situation = situation
        self._held = held
        self._shown_by = shown_by
        self._stop = situation.checklist.limits.stop_bits_per_minute
        self.offered = tuple(_offered(found, gains, held=held))
        self._by_tells = {item.candidate.tells: item for item in self.offered}
        self._keepers = {
            item.candidate.tells: self._keepers_of(item.candidate) for item in self.offered
        }
        self._before = {item.candidate.tells: self._comes_after(item) for item in self.offered}
        self._hanging: dict[str, list[Candidate]] = defaultdict(list)
        for item in self.offered:
            for keeper in self._keepers[item.candidate.tells]:
                self._hanging[keeper].append(item.candidate)

    @property
    def best_rate(self) -> float:
        """Return the most that anything new would tell for each minute [bits]."""
        return max((i.rate for i in self.offered if self._new(i)), default=0.0)

    def items(
        self,
        clearing: Iterable[Candidate],
        *,
        reading_at_pitch: bool,
        second: SecondLook | None = None,
    ) -> Iterator[Item]:
        """Yield everything worth naming; what nobody takes is, as far as may be, not worked out.

        Parameters
        ----------
        clearing
            What clears danger faults, best first; none if no danger fault is open.
        reading_at_pitch
            Whether there is time for what can only be read at pitch before it is slackened.
        second
            What a second inspection looks at first, None on a first one.
        """
        clears = _as("clears", [self._by_tells[c.tells] for c in clearing])
        at_pitch = self._at_pitch() if self._held and reading_at_pitch else []
        opening = _as("opening", self._opening())
        start: list[Item] = []
        ramp: list[Item] = []
        must: list[Item] = []
        if second is not None:
            opening = [replace(item, step=second.step_of(item)) for item in opening]
            early = [item for item in opening if item.candidate.tells in second.before]
            start = [*_as("before-strings", early), *(clears if second.below else ())]
            ramp = [] if self._held else [_on_step(look) for look in second.ramp]
            must = [
                replace(self._by_tells[tells], step=step)
                for tells, step in second.must.items()
                if tells in self._by_tells
            ]
        asked = self._asked([*at_pitch, *clears]) if second is None else []
        urgent = [
            *_as("asked", asked),
            *_as("at-pitch", at_pitch),
            *clears,
            *_as("gate", self._gates()),
        ]
        first = tuple(self._each_once([*start, *opening, *must, *urgent]))
        opened = [*start, *opening]
        looks = self._looks(first)
        named = {item.candidate.tells for item in (*must, *urgent)}
        named.update(look.candidate.tells for look in looks)
        by_gain = self._by_gain(first, looks)
        rest = self._in_turn(chain(must, urgent, by_gain), named=named, done=opened)
        listed = self._each_once(chain(opened, rest))
        before = len(list(self._each_once(start)))
        yield from self._walked(chain(islice(listed, before), ramp, listed))

    def hanging_on(self, keeper: Candidate) -> tuple[Candidate, ...]:
        """Return the offered checks about which a gate decides."""
        return tuple(self._hanging.get(keeper.tells, ()))

    def _opening(self) -> list[Item]:
        """Return the stage's list, but for what would take more tension: no routine is worth that.

        Where tension is what the stage is for, on a second inspection, it goes up in steps.
        """
        situation = self._situation
        stage = situation.checklist.stages.get(situation.stage)
        listed = (self._by_tells.get(check) for check in (stage.opening if stage else ()))
        most = situation.map.tension(situation.present)
        return [item for item in listed if item and situation.map.tension(item.way.end) <= most]

    def _asked(self, others: Sequence[Item]) -> list[Item]:
        """Return questions that tell more for each minute than any of some looks, best first.

        The player stands at the counter only until the bench begins: what the opening list does
        not name has then been read.
        """
        situation = self._situation
        checks = situation.checklist.checks
        stage = situation.checklist.stages.get(situation.stage)
        listed = set(stage.opening) if stage else set()
        if not others or any(
            checks[name].asked == "bench" for name in situation.answered.keys() - listed
        ):
            return []
        least = max(item.rate for item in others)
        questions = [
            item
            for item in self.offered
            if checks[item.candidate.tells].asked == "player" and item.rate >= least
        ]
        return sorted(questions, key=lambda item: -item.rate)

    def _gates(self) -> list[Item]:
        """Return the gates at hand that decide about what has been answered already.

        What others hang on comes in its turn by gain, just before them: a gate in front of looks
        that are not the best themselves would take the minutes of better ones.
        """
        at_hand = [
            item
            for item in self._keeping()
            if not item.way.minutes and self._decides_about_answered(item.candidate)
        ]
        return sorted(at_hand, key=self._worth, reverse=True)

    def _keeping(self) -> list[Item]:
        kept = {keeper for keepers in self._keepers.values() for keeper in keepers}
        checks = self._situation.checklist.checks
        return [
            item
            for item in self.offered
            if item.candidate.tells in kept
            or (checks[item.candidate.tells].gate and self._decides_about_answered(item.candidate))
        ]

    def answered_under(self, keeper: Candidate) -> tuple[str, ...]:
        """Return the answered checks about which a gate decides after all."""
        situation = self._situation
        return tuple(
            check for check in situation.answered if keeper.tells in situation.keepers[check]
        )

    def _decides_about_answered(self, keeper: Candidate) -> bool:
        return bool(self.answered_under(keeper))

    def _worth(self, item: Item) -> float:
        """Return the best rate that a gate opens the way to, its own included."""
        behind = (self._by_tells[c.tells] for c in self.hanging_on(item.candidate))
        return max([item.rate, *(b.bits / (item.minutes + b.minutes) for b in behind)])

    def _at_pitch(self) -> list[Item]:
        """Return the harmless checks that need the pitch at which the instrument stands.

        Only what tells at least half as much a minute as the best that is offered: it is lost
        until the next stringing, but meanwhile the instrument stands with a danger open.
        """
        situation = self._situation
        tension = situation.checklist.setups.tension
        least = max(self._stop, self.best_rate / 2)

        def needs_pitch(item: Item) -> bool:
            wanted = situation.checklist.checks[item.way.check].setup.get(tension)
            return bool(wanted) and all(situation.map.at_pitch({tension: s}) for s in wanted or ())

        found = [
            item
            for item in self.offered
            if situation.at_pitch
            and item.candidate.harmless
            and not item.way.minutes
            and item.rate >= least
            and needs_pitch(item)
        ]
        return sorted(found, key=lambda item: (-item.rate, item.minutes))

    def _looks(self, first: Sequence[Item]) -> list[Look]:
        """Return what tells anything; a gate counts also for what hangs on it.

        `first` comes before them: it is left out, and so are its families.
        """
        keeping = {item.candidate.tells for item in self._keeping()}
        gone = {item.candidate.tells for item in first}
        families = {self._family(item) for item in first} - {None}
        looks = []
        for item in self.offered:
            candidate = item.candidate
            rate = self._worth(item) if candidate.tells in keeping else 0.0
            bits = max(item.bits, rate * candidate.minutes)
            fresh = candidate.tells not in gone and self._new(item)
            if bits > 0.0 and fresh and self._family(item) not in families:
                looks.append(
                    Look(
                        candidate,
                        bits,
                        self._before[candidate.tells],
                        self._family(item) if item.bits else None,
                        self._symptoms(candidate.tells),
                    )
                )
        return looks

    def _by_gain(self, first: Sequence[Item], looks: Sequence[Look]) -> Iterator[Item]:
        """Yield looks in bundles, from where the instrument stands after the `first` items."""
        ends = [item.leg.end for item in self._walked(first)]
        here = ends[-1] if ends else self._situation.present
        bundler = Bundler(looks, self._situation.map, here, held=self._held)
        for bundle in bundler.bundles():
            for item in (self._by_tells[look.candidate.tells] for look in bundle.looks):
                yield replace(item, step="gain" if item.bits else "gate", rate=bundle.rate)

    def _new(self, item: Item) -> bool:
        return item.candidate.tells not in self._carried

    def _family(self, item: Item) -> str | None:
        family = self._situation.checklist.family_of(item.candidate.tells)
        return family.id if family else None

    def _symptoms(self, check: str) -> frozenset[str]:
        checklist = self._situation.checklist
        targets = (link.target for link in checklist.checks[check].shows)
        return frozenset(target for target in targets if target in checklist.symptoms)

    def _walked(self, items: Iterable[Item]) -> Iterator[Item]:
        """Yield items with the way from each to the next, and without what lies behind a danger.

        Once slackened it is not tightened again while a danger is open.
        """
        ways, present = self._situation.map, self._situation.present
        here = present
        for item in items:
            leg = walk(ways, here, item.candidate.needs, self._ceiling(here))
            if leg is not None:
                here = leg.end
                ending: Condition = {name: (state,) for name, state in here.items()}
                straight = ways.route(present, ending, self._ceiling(present))
                minutes = max(item.way.minutes, straight.minutes if straight else 0.0)
                yield replace(item, way=replace(leg, minutes=minutes), leg=leg)

    def _ceiling(self, setup: Setup) -> int | None:
        return self._situation.map.tension(setup) if self._held else None

    def _in_turn(
        self, items: Iterator[Item], named: Collection[str], done: Sequence[Item]
    ) -> Iterator[Item]:
        """Yield items, none before a gate that it hangs on or a harmless look that it waits for.

        Otherwise they keep their order, each in its first place. In a ring of gates the first goes
        first. `named`: whatever may be among the items.
        """
        gone = {item.candidate.tells for item in done}
        left: dict[str, Item] = {}
        for item in items:
            tells = item.candidate.tells
            if tells in gone:
                continue
            if not self._before[tells].isdisjoint(set(named) - gone):
                left[tells] = item  # the rest is needed, to see whether it waits
                break
            gone.add(tells)
            yield item
        for item in items:
            if item.candidate.tells not in gone:
                left.setdefault(item.candidate.tells, item)
        while left:
            free = (item for item in left.values() if not self._waits(item, left))
            chosen = next(free, None) or next(iter(left.values()))
            del left[chosen.candidate.tells]
            yield chosen

    def _waits(self, item: Item, left: Mapping[str, Item]) -> bool:
        return not self._before[item.candidate.tells].isdisjoint(left)

    def _comes_after(self, item: Item) -> frozenset[str]:
        """Return what is read before an item: its gates, and harmless looks before a risky one."""
        tells = item.candidate.tells
        if item.candidate.harmless:
            return self._keepers[tells]
        shown = set(self._shown_by[tells])
        return self._keepers[tells].union(
            other.candidate.tells
            for other in self.offered
            if other.candidate.harmless
            and shown.intersection(self._shown_by[other.candidate.tells])
        )

    def _keepers_of(self, candidate: Candidate) -> frozenset[str]:
        names = {candidate.tells, candidate.check}
        keepers = frozenset[str]().union(*(self._situation.keepers[name] for name in names))
        return (keepers - names) & self._by_tells.keys()

    def _each_once(self, items: Iterable[Item]) -> Iterator[Item]:
        """Yield each check once; of a family only the first, unless the author listed more."""
        checks: set[str] = set()
        families: set[str] = set()
        for item in items:
            family = self._situation.checklist.family_of(item.candidate.tells)
            again = family is not None and family.id in families and item.step in SINGLE
            if item.way.check not in checks and not again:
                checks.add(item.way.check)
                families.update({family.id} if family else ())
                yield item


# Steps in which one member speaks for its family.
SINGLE = frozenset({"asked", "at-pitch", "clears", "must-read", "gain"})


def _offered(
    found: Iterable[Candidate], gains: Mapping[str, Gain], *, held: bool
) -> Iterator[Item]:
    for candidate in found:
        way = candidate.calm_way if held else candidate.way
        if way is not None and not (held and candidate.loading):
            bits = gains[candidate.tells].bits
            rate = bits / (way.minutes + candidate.minutes)
            yield Item(candidate, "gain", bits, way, way, rate)


def _on_step(look: Candidate) -> Item:
    way = Way(look.check, 0.0, {})  # the way is walked like all others
    return Item(look, "tension", 0.0, way, way, 0.0)


def _as(step: Step, items: Iterable[Item]) -> list[Item]:
    return [replace(item, step=step) for item in items]
