"""Does learning find the words that are wrong? Simulated shops of which the truth is known.

The truth is the shipped checklist. A shop works with the same one, in which ten words are moved two
steps along the scale. Its instruments are drawn from the truth, of twelve kinds. Of each some
checks are read; every fault at which a reading off normal points is then looked at with one's own
eyes, and about half of the others. From such cases the shop learns.

    OPENBLAS_NUM_THREADS=1 PYTHONPATH=tests .venv/bin/python tests/benchmarks/simulated_shops.py \\
        --cases 500 --seeds 10 --jobs 2

Answers are sharp: no gauge blurs them, and no gate silences them.
"""

from __future__ import annotations

import argparse
import json
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from tailblock.inference import Reasoner
from tailblock.inference.outcomes import say
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.knowledge.words import shift
from tailblock.learning.cases import Case, Index
from tailblock.learning.fit import STRENGTH
from tailblock.learning.overlay import overlay, write_overlay
from tailblock.learning.proposals import Chance, chances_of, says
from tailblock.measures.scoring import log_loss
from tailblock.network import Compiled, Evidence, VisitSkeleton, compile_network
from tailblock.network.written import Written, value_of
from tailblock.practice.days import DAY

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist

# Ten words of flat-top, what each is a chance of, and how far it is moved along the scale.
WRONG = {
    "strings-worn alone": -2,
    "relief-as-made alone": 2,
    "fret-ends-sharp alone": 2,
    "pickguard-loose alone": 2,
    "tuning-limit alone": -2,
    "neck-block-rotated brings about neck-angle-lost": -2,
    "neck-angle-lost brings about saddle-too-low": -2,
    "heat-exposure brings about bridge-lifting": -2,
    "climate-dry brings about neck-back-bow": 2,
    "impact-damage brings about side-crack": 2,
}
KINDS = 12  # of instruments
READ = 35  # checks of each
LOOKED_AT = 0.5  # of the faults that no reading points at
ONE_VISIT = (VisitSkeleton("arrival", DAY),)
KEPT = Path(tempfile.gettempdir()) / "tailblock-simulated-shops"  # the checklist, once read
HELD_OUT = 100  # cases that nothing is learned from


@dataclass(frozen=True)
class Instrument:
    """A kind of instrument as the truth and as the shop see it; the networks have one shape."""

    traits: dict[str, str]
    truth: Compiled
    shop: Compiled


@dataclass(frozen=True)
class Visit:
    """Of which kind an instrument was, what was read, and what was then confirmed of its faults."""

    kind: int
    read: Evidence
    confirmed: dict[int, bool]


@dataclass(frozen=True)
class Shop:
    """What came of one shop."""

    seed: int
    tested: int  # chances with enough trials
    covered: int  # of these, how many intervals hold the truth
    wrong_tested: int  # of the ten wrong words
    wrong_found: int  # a change was proposed, towards the truth
    proposed: int
    before: float  # held-out logarithmic loss with the wrong words [nat]
    after: float  # with what was learned
    truth: float  # with the true ones
    seconds: float


def moved(checklist: Checklist, words: Mapping[str, int]) -> list[Chance]:
    """Return chances of a checklist by what they say, each so many words up or down the scale."""
    found = []
    for node in checklist.nodes():
        written = [Written(node.id), *(Written(node.id, c) for c in range(len(node.caused_by)))]
        for one in written:
            steps = words.get(says(one, checklist))
            if steps is not None:
                before = value_of(one, checklist)
                after = shift(before, steps)
                found.append(
                    Chance(one, says(one, checklist), before, after, 0.0, 1.0, 0.0, 0.0, True)
                )
    assert {chance.says for chance in found} == set(words)
    return found


def changed(base: Checklist, name: str, changes: Sequence[Chance], shelf: Path) -> Checklist:
    """Return a checklist with some changes, as written to a shelf and read again."""
    write_overlay(shelf / name, overlay(base, name, changes, cases=0, strength=STRENGTH))
    return open_checklist(name, Shelves(given=shelf))


def kinds_of(
    truth: Checklist, shop: Checklist, dice: np.random.Generator, count: int = KINDS
) -> list[Instrument]:
    """Draw kinds of instruments: each trait by its shares, or any of its values."""
    found = []
    for _ in range(count):
        traits = {}
        for trait in truth.traits.values():
            shares = trait.shares or {v: 1.0 for v in trait.values if v != "unknown"}
            chance = np.array([*shares.values()]) / sum(shares.values())
            traits[trait.id] = str(dice.choice([*shares], p=chance))
        both = (compile_network(one, traits, ONE_VISIT) for one in (truth, shop))
        found.append(Instrument(traits, *both))
    return found


def visits(
    kinds: Sequence[Instrument],
    checklist: Checklist,
    dice: np.random.Generator,
    count: int,
    read: int = READ,
) -> Iterator[Visit]:
    """Yield what a shop writes down of instruments drawn from the truth."""
    each = -(-count // len(kinds))
    drawn = [Reasoner(kind.truth.network, Evidence()).draw(each, dice) for kind in kinds]
    for number in range(count):
        again, at = divmod(number, len(kinds))
        kind = kinds[at]
        network = kind.truth.network
        state = drawn[at][again : again + 1]
        asked = dice.choice(len(network.findings), min(read, len(network.findings)), replace=False)
        said = say(network, [int(k) for k in asked], state, dice)[0]
        soft = {}
        for k, outcome in zip(asked.tolist(), said.tolist(), strict=True):
            row = [0.0] * network.findings[k].outcomes
            row[outcome] = 1.0
            soft[k] = tuple(row)
        pointed = {
            node
            for k, outcome in zip(asked.tolist(), said.tolist(), strict=True)
            if outcome != network.findings[k].low.top
            for parent in network.findings[k].parents
            for node in (parent, *network.parents[parent])
        }
        confirmed = {
            node: bool(state[0, node])
            for node, name in enumerate(kind.shop.nodes)
            if name.id in checklist.faults and (node in pointed or dice.random() < LOOKED_AT)
        }
        yield Visit(at, Evidence(soft), confirmed)


def loss(kinds: Sequence[Compiled], cases: Sequence[Visit]) -> float:
    """Return the logarithmic loss [nat] of what was thought before each confirmation."""
    forecasts = []
    for case in cases:
        thought = Reasoner(kinds[case.kind].network, case.read).beliefs.probability
        forecasts += [(float(thought[node]), there) for node, there in case.confirmed.items()]
    return log_loss(forecasts)


def run(
    seed: int,
    cases: int,
    *,
    held_out: int = HELD_OUT,
    truth: Checklist | None = None,
    wrong: Mapping[str, int] = WRONG,
    shelf: Path | None = None,
) -> Shop:
    """Return what a shop learns.

    Parameters
    ----------
    truth
        A checklist that is found on any shelf; flat-top if left out.
    wrong
        What the shop has wrong in it.
    shelf
        Where `truth` stands if it is not shipped: the shop's checklists go beside it.
    """
    start = time.perf_counter()
    dice = np.random.default_rng(seed)
    with tempfile.TemporaryDirectory() as folder:
        shelf = shelf or Path(folder)
        truth = truth or open_checklist("flat-top", Shelves(), KEPT)
        shop = changed(truth, "shop", moved(truth, wrong), shelf)
        kinds = kinds_of(truth, shop, dice)
        index = Index()
        seen = [
            Case(kind.shop, shop, kind.traits, Evidence(visit.read.soft, visit.confirmed), index)
            for visit in visits(kinds, shop, dice, cases)
            for kind in [kinds[visit.kind]]
        ]
        chances = chances_of(seen, shop, index)
        proposed = [chance for chance in chances if chance.proposed]
        learned = changed(shop, "learned", proposed, shelf)
    true = {chance.written: value_of(chance.written, truth) for chance in chances}
    mine = [chance for chance in chances if chance.says in wrong]
    later = list(visits(kinds, shop, dice, held_out))
    losses = [
        loss([compile_network(one, kind.traits, ONE_VISIT) for kind in kinds], later)
        for one in (shop, learned, truth)
    ]
    return Shop(
        seed,
        len(chances),
        sum(chance.low <= true[chance.written] <= chance.high for chance in chances),
        len(mine),
        sum((true[c.written] - c.before) * (c.after - c.before) > 0 for c in mine if c.proposed),
        len(proposed),
        losses[0],
        losses[1],
        losses[2],
        time.perf_counter() - start,
    )


def main() -> None:
    """Print a line for each shop, then what the issue asks for."""
    asked = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    asked.add_argument("--cases", type=int, default=500)
    asked.add_argument("--seeds", type=int, default=10)
    asked.add_argument("--jobs", type=int, default=1)
    given = asked.parse_args()
    shops = []
    print("seed  chances  within  wrong found  proposed   loss: words  learned   truth  seconds")
    with ProcessPoolExecutor(given.jobs) as pool:
        for shop in pool.map(partial(run, cases=given.cases), range(given.seeds)):
            shops.append(shop)
            print(
                f"{shop.seed:4}  {shop.tested:7}  {shop.covered / shop.tested:6.1%}  "
                f"{shop.wrong_found:5} of {shop.wrong_tested:2}  {shop.proposed:8}   "
                f"{shop.before:11.4f}  {shop.after:7.4f}  {shop.truth:6.4f}  {shop.seconds:7.0f}",
                flush=True,
            )
    tested, covered = sum(s.tested for s in shops), sum(s.covered for s in shops)
    fell = sum(shop.after < shop.before for shop in shops)
    print(f"{covered} of {tested} intervals hold the truth: {covered / tested:.1%}")
    print(f"the held-out loss falls in {fell} of {len(shops)} shops")
    print(json.dumps([asdict(shop) for shop in shops]))


if __name__ == "__main__":
    main()
