"""The order in which unread checks are offered.

In: the state of the visit, the candidates and what they would tell. Out: `Item`s, first things
first. Nothing that is held back is among them.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

    from tailblock.advice.candidates import Candidate, Way
    from tailblock.advice.gain import Gain
    from tailblock.advice.results import Step
    from tailblock.advice.situation import Situation


@dataclass(frozen=True, slots=True)
class Item:
    """A candidate in its place: why it stands there, its gain and the way to it."""

    candidate: Candidate
    step: Step
    bits: float
    way: Way

    @property
    def rate(self) -> float:
        """Return the gain for each minute, the change of setup included."""
        return self.bits / self.minutes

    @property
    def minutes(self) -> float:
        """Return the minutes in all."""
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
    ) -> None:
        """Leave out what is held back; `held`: no more tension and no added load."""
        self._situation = situation
        self._held = held
        self._shown_by = shown_by
        self._stop = situation.checklist.limits.stop_bits_per_minute
        self.offered = tuple(_offered(found, gains, held=held))
        self._by_tells = {item.candidate.tells: item for item in self.offered}
        self._keepers = {
            item.candidate.tells: self._keepers_of(item.candidate) for item in self.offered
        }
        self._hanging: dict[str, list[Candidate]] = defaultdict(list)
        for item in self.offered:
            for keeper in self._keepers[item.candidate.tells]:
                self._hanging[keeper].append(item.candidate)

    def items(self, clearing: Iterable[Candidate], *, reading_at_pitch: bool) -> tuple[Item, ...]:
        """Return everything worth naming.

        Parameters
        ----------
        clearing
            What clears danger faults, best first; none if no danger fault is open.
        reading_at_pitch
            Whether there is time for what can only be read at pitch before it is slackened.
        """
        clears = [self._by_tells[c.tells] for c in clearing]
        at_pitch = self._at_pitch() if self._held and reading_at_pitch else []
        opening = _as("opening", self._opening())
        rest = [
            *_as("at-pitch", at_pitch),
            *_as("clears", clears),
            *_as("gate", self._gates()),
            *self._by_gain(),
        ]
        return tuple(self._each_once([*opening, *self._in_turn(rest, done=opening)]))

    def hanging_on(self, keeper: Candidate) -> tuple[Candidate, ...]:
        """Return the offered checks about which a gate decides."""
        return tuple(self._hanging.get(keeper.tells, ()))

    def _opening(self) -> list[Item]:
        stage = self._situation.checklist.stages.get(self._situation.stage)
        listed = stage.opening if stage else ()
        return [self._by_tells[check] for check in listed if check in self._by_tells]

    def _gates(self) -> list[Item]:
        """Return the gates at hand that decide about something worth its minutes, or answered."""
        at_hand = [
            item
            for item in self._keeping()
            if not item.way.minutes
            and (self._worth(item) >= self._stop or self._decides_about_answered(item.candidate))
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

    def _decides_about_answered(self, keeper: Candidate) -> bool:
        situation = self._situation
        return any(keeper.tells in situation.keepers[check] for check in situation.answered)

    def _worth(self, item: Item) -> float:
        """Return the best rate that a gate opens the way to, its own included."""
        behind = (self._by_tells[c.tells] for c in self.hanging_on(item.candidate))
        return max([item.rate, *(b.bits / (item.minutes + b.minutes) for b in behind)])

    def _at_pitch(self) -> list[Item]:
        """Return the harmless checks that need the pitch at which the instrument stands."""
        situation = self._situation
        tension = situation.checklist.setups.tension

        def needs_pitch(item: Item) -> bool:
            wanted = situation.checklist.checks[item.way.check].setup.get(tension)
            return bool(wanted) and all(situation.map.at_pitch({tension: s}) for s in wanted or ())

        return [
            item
            for item in self._by_gain()
            if situation.at_pitch
            and item.candidate.harmless
            and not item.way.minutes
            and item.rate >= self._stop
            and needs_pitch(item)
        ]

    def _by_gain(self) -> list[Item]:
        """Return what tells anything by gain per minute; a gate also by what hangs on it.

        Equals go by their minutes, then as the checklist has them.
        """
        keeping = {item.candidate.tells for item in self._keeping()}
        worth = {
            item.candidate.tells: self._worth(item)
            if item.candidate.tells in keeping
            else item.rate
            for item in self.offered
        }
        telling = [item for item in self.offered if worth[item.candidate.tells] > 0.0]
        ordered = sorted(telling, key=lambda item: (-worth[item.candidate.tells], item.minutes))
        return [replace(item, step="gate") if not item.bits else item for item in ordered]

    def _in_turn(self, items: Sequence[Item], done: Sequence[Item]) -> Iterator[Item]:
        """Yield items, none before a gate that it hangs on or a harmless look that it waits for.

        Otherwise they keep their order, each in its first place. In a ring of gates the first goes
        first.
        """
        gone = {item.candidate.tells for item in done}
        left: dict[str, Item] = {}
        for item in items:
            if item.candidate.tells not in gone:
                left.setdefault(item.candidate.tells, item)
        while left:
            free = (item for item in left.values() if not self._waits(item, left))
            chosen = next(free, None) or next(iter(left.values()))
            del left[chosen.candidate.tells]
            yield chosen

    def _waits(self, item: Item, left: Mapping[str, Item]) -> bool:
        if any(keeper in left for keeper in self._keepers[item.candidate.tells]):
            return True
        if item.candidate.harmless:
            return False
        shown = set(self._shown_by[item.candidate.tells])
        return any(
            other.candidate.harmless and shown.intersection(self._shown_by[tells])
            for tells, other in left.items()
        )

    def _keepers_of(self, candidate: Candidate) -> frozenset[str]:
        names = {candidate.tells, candidate.check}
        keepers = frozenset[str]().union(*(self._situation.keepers[name] for name in names))
        return (keepers - names) & self._by_tells.keys()

    def _each_once(self, items: Sequence[Item]) -> Iterator[Item]:
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
SINGLE = frozenset({"at-pitch", "clears", "gain"})


def _offered(
    found: Iterable[Candidate], gains: Mapping[str, Gain], *, held: bool
) -> Iterator[Item]:
    for candidate in found:
        way = candidate.calm_way if held else candidate.way
        if way is not None and not (held and candidate.loading):
            yield Item(candidate, "gain", gains[candidate.tells].bits, way)


def _as(step: Step, items: Iterable[Item]) -> list[Item]:
    return [replace(item, step=step) for item in items]
