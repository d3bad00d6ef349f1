"""docs/what-looks-clear.md: which looks clear which danger, and what is worth asking first.

In: nothing but the shipped checklist. Out: `page()`, the text of the document. Run as a script it
writes it. For every fault that is dangerous under string tension the kind of instrument is taken
in which it starts highest, all of its looks are answered as on a sound instrument, and what is
left of the chance is worked out exactly.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.advice.candidates import candidates, findings_of
from tailblock.advice.gain import gains
from tailblock.advice.gauge import reported_by_check
from tailblock.advice.shows import shown
from tailblock.advice.situation import situation_of
from tailblock.inference import Reasoner
from tailblock.inspection.record import Instrument, Visit
from tailblock.inspection.speaks import hear
from tailblock.knowledge.levels import levels_of
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.knowledge.traits import applies
from tailblock.knowledge.yamlmarks import Place
from tailblock.network import Evidence, VisitSkeleton, compile_network

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.network import Compiled

PAGE = Path(__file__).parents[2] / "docs" / "what-looks-clear.md"
DAY = date(2031, 3, 2)
AT_PITCH = {"strings": "at-pitch", "bridge": "on", "neck": "on"}
QUESTIONS, CHECKS = 3, 8  # how many are listed for a kind of instrument

X, LADDER = {"bracing": "x", "bridge": "pin"}, {"bracing": "ladder", "bridge": "pin"}
KINDS: dict[str, dict[str, str]] = {
    "X-braced, nothing else told": X,
    "X-braced, over 40": {**X, "age": "over-40"},
    "hot car, pinless, ten years": {
        "bracing": "x", "bridge": "pinless", "age": "5-20", "climate-history": "hot-car",
    },
    "hot car, scarfed head": {**X, "head": "scarf", "climate-history": "hot-car"},
    "ladder, over 80, light, medium strings, dry": {
        **LADDER, "age": "over-80", "build": "light", "string-load": "medium",
        "climate-history": "dry-heat",
    },
    "ladder, over 80, hot loft": {**LADDER, "age": "over-80", "climate-history": "hot-car"},
    "ladder, over 80, damp": {**LADDER, "age": "over-80", "climate-history": "damp"},
    "ladder, over 80, fell": {**LADDER, "age": "over-80", "fell": "yes"},
    "dovetail, over 40, damp": {
        **X, "age": "over-40", "neck-joint": "dovetail", "climate-history": "damp",
    },
    "twelve, over 40, hot car": {
        **X, "strings": "twelve", "age": "over-40", "climate-history": "hot-car",
    },
    "one-piece head, fell, head mended before": {
        **X, "head": "one-piece", "fell": "yes", "prior-head": "yes",
    },
    "neck reset before, over 40": {
        **X, "age": "over-40", "neck-joint": "dovetail", "prior-neck": "yes",
    },
    "tailpiece, over 80, dry": {
        "bracing": "ladder", "bridge": "floating", "age": "over-80", "climate-history": "dry-heat",
    },
}  # fmt: skip


INTRODUCTION = """\
# What looks clear

Generated from `checklists/flat-top` by `.venv/bin/python tests/docs/dangers.py`; run it again when
the knowledge has changed. All chances behind these tables are bench judgement, from memory; the
arithmetic is exact.

## Dangers

For each fault that forbids string tension: the kind of instrument in which it starts highest, and
what is left of the chance when every harmless look that shows it finds nothing. *Outside*: strings
slack or off, no hand, mirror or film in the body. *Slack*: the looks inside as well. *All*: what is
read at pitch too, on an instrument that came at pitch. Nothing here adds load. **Bold** is above
the limit of the checklist: those looks do not clear it. *Shortest way*: the slack looks with the
best drop a minute until it is below the limit.

Clearing says nothing of a load that was never carried: what came slack is still brought up in
steps.
"""
ASKING = """
## What is worth asking first

At arrival, nothing read yet, at pitch: the questions and then the checks with the most information
a minute, weighed by the harm of the faults that they tell of. The minutes hold those of slackening,
where it takes that.
The order of a visit is not this list: people and instrument are made safe first."""


@dataclass(frozen=True)
class Kind:
    """One kind of instrument: its network and where every fault of it starts."""

    checklist: Checklist
    name: str
    traits: Mapping[str, str]

    @cached_property
    def compiled(self) -> Compiled:
        skeleton = [VisitSkeleton("arrival", DAY, ())]
        return compile_network(self.checklist, self.traits, skeleton)

    @cached_property
    def starts(self) -> Mapping[str, float]:
        return self._chances(())

    def chance(self, fault: str, checks: Iterable[Check]) -> float:
        """Return the chance of a fault when these checks find nothing."""
        return self._chances(checks)[fault]

    def _chances(self, checks: Iterable[Check]) -> Mapping[str, float]:
        soft = {}
        for check in checks:
            finding = self.compiled.finding_of(check.id, 0)
            if finding is not None:
                levels = levels_of(check)
                soft[finding] = tuple(float(n == levels.normal) for n in range(len(levels.ids)))
        probability = Reasoner(self.compiled.network, Evidence(soft)).beliefs.probability
        return {id_: float(probability[node]) for id_, node in self.compiled.current[0].items()}

    def looks(self, fault: str, where: Callable[[Check], bool]) -> tuple[Check, ...]:
        """Return the harmless checks of a fault that can be done in a place.

        Each family gives its best member; what follows from other readings is left out, because
        they are counted themselves.
        """
        shows = shown(self.checklist, self.compiled)
        found = [
            check
            for check in self.checklist.checks.values()
            if fault in shows.get(check.id, ())
            and harmless(check)
            and where(check)
            and applies(check, self.traits, self.checklist)
        ]
        ids = {check.id for check in found}
        worse = {
            id_
            for family in self.checklist.families.values()
            for id_ in [member for member in family.checks if member in ids][1:]
        }
        return tuple(check for check in found if check.id not in worse)

    def shortest_way(self, fault: str, limit: float) -> Iterator[tuple[Check, float]]:
        """Yield the checks that bring the chance below the limit, best drop a minute first."""
        left = {check.id: check for check in self.looks(fault, slack)}
        done: list[Check] = []
        now = self.starts[fault]
        while now >= limit and left:
            after = {id_: self.chance(fault, [*done, check]) for id_, check in left.items()}
            best = max(after, key=lambda id_: (now - after[id_]) / left[id_].minutes)
            if now - after[best] < 0.001:
                return
            done.append(left.pop(best))
            now = after[best]
            yield done[-1], now

    def worth_asking(self) -> Iterator[tuple[str, float, float]]:
        """Yield check, weighted gain [bit] and minutes at arrival, best gain a minute first.

        The best questions to the player come first, then the best checks on the bench.
        """
        instrument = Instrument("a guitar", dict(self.traits), scale_length=648.0)
        visit = Visit("arrival", DAY, Place("a file", 1, 1), setup=AT_PITCH)
        here = situation_of(
            self.checklist, instrument, visit, hear(self.checklist, instrument, visit)
        )
        found = candidates(here)
        predictions = Reasoner(self.compiled.network, Evidence()).predict(
            findings_of(self.compiled, found)
        )
        through_gauge = reported_by_check(self.checklist, self.traits, [c.tells for c in found])
        gain = gains(self.checklist, self.compiled, predictions, through_gauge)
        worth = [
            (item.check, gain[item.tells].bits, item.minutes + item.calm_way.minutes)
            for item in found
            if item.tells in gain and item.calm_way is not None and item.minutes > 0
        ]
        worth.sort(key=lambda row: -row[1] / row[2])
        for asked, most in (("player", QUESTIONS), ("bench", CHECKS)):
            of_these = (row for row in worth if self.checklist.checks[row[0]].asked == asked)
            yield from islice(of_these, most)


def harmless(check: Check) -> bool:
    """Return whether a bench check adds no load, risks nothing and takes nothing apart."""
    together = all(check.setup.get(part, ("on",)) == ("on",) for part in ("bridge", "neck"))
    arrival = not check.stages or {"arrival", "opened"} & set(check.stages)
    calm = check.risk is None and not check.loads
    return bool(arrival and together and calm and check.asked == "bench" and not check.derived)


def slack(check: Check) -> bool:
    """Return whether it can be done with the strings slack or off."""
    return bool({"slack", "off"} & set(check.setup.get("strings", ("slack",))))


def outside(check: Check) -> bool:
    """Return whether it can be done so, and without hand, mirror or film inside."""
    inside = check.part == "braces" or {"mirror", "camera"} & set(check.tools)
    return slack(check) and not (inside and check.setup.get("strings"))


def anywhere(check: Check) -> bool:
    """Return whether it can be done at all, at pitch too."""
    return bool(check.ask)


def dangers(checklist: Checklist) -> Iterator[tuple[str, Kind]]:
    """Yield every fault that forbids tension, with the kind in which it starts highest."""
    kinds = [Kind(checklist, name, traits) for name, traits in KINDS.items()]
    for fault in checklist.faults.values():
        if fault.under_tension == "danger":
            # rounded, so that of equals the first is taken and not the one with the luckier noise
            yield fault.id, max(kinds, key=lambda kind: round(kind.starts.get(fault.id, 0.0), 6))


def danger_rows(checklist: Checklist) -> Iterator[tuple[str, ...]]:
    """Yield the cells of the table of dangers."""
    limit = checklist.limits.danger
    for fault, kind in dangers(checklist):
        left = [
            kind.chance(fault, kind.looks(fault, where)) for where in (outside, slack, anywhere)
        ]
        way, minutes = [], 0.0
        for check, now in kind.shortest_way(fault, limit):
            way.append(f"`{check.id}` {now:.3f}")
            minutes += check.minutes
        told = [f"{chance:.3f}" if chance < limit else f"**{chance:.3f}**" for chance in left]
        start = f"{kind.starts[fault]:.3f}"
        yield (f"`{fault}`", kind.name, start, *told, ", ".join(way) or "-", f"{minutes:.0f}")


def page(checklist: Checklist) -> str:
    """Return the document."""
    lines = [INTRODUCTION]
    lines += table(
        ("fault", "kind in which it starts highest", "start", "outside", "slack", "all",
         "shortest way below the limit, with the chance after each", "min"),
        danger_rows(checklist),
    )  # fmt: skip
    lines.append(ASKING)
    for name, traits in KINDS.items():
        lines += ["", f"### {name[0].upper()}{name[1:]}", ""]
        worth = Kind(checklist, name, traits).worth_asking()
        lines += table(
            ("check", "worth [bit]", "minutes", "worth a minute"),
            (
                (f"`{check}`", f"{bits:.2f}", f"{minutes:.1f}", f"{bits / minutes:.3f}")
                for check, bits, minutes in worth
            ),
        )
    return "\n".join(lines) + "\n"


def table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    """Yield the lines of a table in Markdown."""
    yield f"| {' | '.join(head)} |"
    yield f"|{' --- |' * len(head)}"
    for row in rows:
        yield f"| {' | '.join(row)} |"


if __name__ == "__main__":
    PAGE.write_text(page(open_checklist("flat-top", Shelves())), encoding="utf-8")
