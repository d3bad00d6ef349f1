"""Runs of the self-consistency test as a page of Markdown.

In: a checklist, its runs, the stage of the visit. Out: the page: how the three orders compare, what
was wanted and whether it is so, a row for each fault, why the worst ones are not found, and what
somebody wrote about the ten worst, which a later page takes over.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from math import inf
from statistics import mean, median
from typing import TYPE_CHECKING

from tailblock.advice.ranking import weights
from tailblock.practice.consistency_worst import looked_into, most, share, worst
from tailblock.practice.paired import difference, sooner
from tailblock.practice.self_consistency import CHECKS, MINUTES, ORDERS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.practice.self_consistency import Order, Point, Run

HALF = 0.5  # of random order's minutes
EARLY = 12.0  # minutes at which the uncertainty is compared, and again at the end
_NAMES = {"advice": "the advice", "random": "random order", "fixed": "a master's fixed order"}


def median_minutes(runs: Sequence[Run]) -> float:
    """Return the median minutes until the fault leads; infinite if it does in fewer than half."""
    return median_until(runs, _leads)


def median_until(runs: Sequence[Run], is_so: Callable[[Point], bool]) -> float:
    """Return the median minutes until something is so of the fault, as `median_minutes`."""
    return median(minutes_until(runs, is_so))


def median_checks(runs: Iterable[Run]) -> float:
    """Return the median number of checks until the fault leads, as `median_minutes`."""
    return median([inf if run.checks is None else run.checks for run in runs])


def page(checklist: Checklist, runs: Sequence[Run], stage: str, written: str = "") -> str:
    """Return the page; only instruments that were inspected in all orders count.

    Parameters
    ----------
    written
        What was written by hand about the ten worst (see `by_hand`); it ends the page.
    """
    complete = _complete(runs)
    by_order: dict[Order, list[Run]] = {
        order: [run for run in complete if run.order == order] for order in ORDERS
    }
    return "\n".join(
        [
            *_introduction(checklist, by_order["advice"], stage),
            *_orders(by_order),
            *_readings_of_found(by_order),
            *_as_many(checklist, by_order),
            *_wanted(by_order),
            *_steps(by_order["advice"]),
            *_faults(checklist, by_order),
            *worst(checklist, by_order["advice"], stage),
            *looked_into(checklist, by_order["advice"], stage, written),
        ]
    )


def _complete(runs: Sequence[Run]) -> list[Run]:
    """Return the runs of the instruments that every order has inspected, in one order of pairs."""
    found = {(run.fault, run.draw, run.order): run for run in runs}
    pairs = sorted({(run.fault, run.draw) for run in runs})
    return [
        found[(*pair, order)]
        for pair in pairs
        if all((*pair, each) in found for each in ORDERS)
        for order in ORDERS
    ]


def _introduction(checklist: Checklist, runs: Sequence[Run], stage: str) -> Iterator[str]:
    faults = len({run.fault for run in runs})
    yield "# Does the advice find what the network hides?"
    yield ""
    yield (
        f"{checklist.title}, version {checklist.version}: {len(runs)} instruments were drawn from "
        f"the network, each given one of {faults} of its {len(checklist.faults)} faults; whatever "
        "else is wrong with them the network drew as well. Each comes in with one complaint that "
        "the fault brought about, if it brought about any, and is inspected three times from the "
        f"same start (visit: {stage}): as the advice says, in random order, and in a master's "
        "fixed order. An answer is the same whoever asks; a measured value has the error of its "
        "gauge."
    )
    yield ""
    yield (
        "A fault *leads* when it stands at 50 % or more, the readings have raised it, and nothing "
        f"that is not there leads before it. It has {MINUTES:.0f} minutes and {CHECKS} checks for "
        "that. Uncertainty is the sum over all faults of harm times pace times the entropy of the "
        "yes or no, in bits. Instruments from the engine's own network show what the order of "
        "checks is worth and what the checklist lets anybody see; whether its numbers are those of "
        "real guitars they cannot show."
    )
    yield ""
    if faults < len(checklist.faults):
        yield (
            "**This is a sample of the faults**: its shares say little about any one of them. "
            "`tests/benchmarks/self_consistency.py` makes this page and says how to run them all."
        )
        yield ""


def _orders(by_order: dict[Order, list[Run]]) -> Iterator[str]:
    yield "## The three orders"
    yield ""
    yield (
        "| order | fault leads | median checks | median minutes | bits at first "
        f"| after {EARLY:.0f} min | after {MINUTES:.0f} min |"
    )
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for order, runs in by_order.items():
        if not runs:
            continue
        found = sum(run.found is not None for run in runs)
        first = mean(run.points[0].uncertainty for run in runs)
        early, late = (mean(run.uncertainty_at(at) for run in runs) for at in (EARLY, MINUTES))
        yield (
            f"| {_NAMES[order]} | {found} of {len(runs)} "
            f"| {_number(median_checks(runs), CHECKS)} | {_number(median_minutes(runs), MINUTES)} "
            f"| {first:.1f} | {early:.1f} | {late:.1f} |"
        )
    yield ""


def _readings_of_found(by_order: dict[Order, list[Run]]) -> Iterator[str]:
    """Yield when a fault counts as found by milder readings of the word."""
    if not by_order["advice"]:
        return
    yield "### What counts as found"
    yield ""
    yield (
        "With many faults in one instrument the one that was looked for need not lead, although "
        "the inspection has shown it. So two milder readings stand beside the strict one: it is "
        "*probable* (50 % or more, whatever leads before it), or *among the first three* by lead. "
        "How often within the minutes, and after how many (median)."
    )
    yield ""
    yield "| order | leads | probable | among the first three |"
    yield "| --- | --- | --- | --- |"
    for order, runs in by_order.items():
        cells = " | ".join(
            f"{sum(run.first(is_so) is not None for run in runs)} of {len(runs)}, "
            f"{_number(median_until(runs, is_so), MINUTES)} min"
            for is_so in (_leads, _probable, _among_first)
        )
        yield f"| {_NAMES[order]} | {cells} |"
    yield ""


def _as_many(checklist: Checklist, by_order: dict[Order, list[Run]]) -> Iterator[str]:
    """Yield how soon the advice finds as many as random order does."""
    if not by_order["advice"]:
        return
    matter = weights(checklist)
    yield "### As many as random order"
    yield ""
    yield (
        "A median is there only where half are found. Where random order does not come so far "
        f"within {MINUTES:.0f} minutes, the two are compared at as many as it does find, and for "
        "the faults that matter apart: the advice goes by weight (harm times pace), and leaves "
        "what weighs little for later. Beside the ratio stands its 95 % interval, from instruments "
        "drawn anew out of these (bootstrap); *more*: not within the minutes."
    )
    yield ""
    yield "| found | faults | as many | random order, min | the advice, min | ratio |"
    yield "| --- | --- | --- | --- | --- | --- |"
    for label, least in (("all", 0.0), ("weight 0.5 and more", 0.5), ("weight 1 and more", 1.0)):
        ours, theirs = (
            [run for run in by_order[order] if matter[run.fault] >= least]
            for order in ("advice", "random")
        )
        for found, is_so in (("leads", _leads), ("among the first three", _among_first)):
            ahead = sooner(minutes_until(ours, is_so), minutes_until(theirs, is_so))
            if ahead is not None:
                yield (
                    f"| {found} | {label} | {ahead.many} of {len(theirs)} "
                    f"| {_number(ahead.theirs, MINUTES)} | {_number(ahead.ours, MINUTES)} "
                    f"| {_ratio(ahead.ratio)} ({_ratio(ahead.low)} to {_ratio(ahead.high)}) |"
                )
    yield ""


def _ratio(value: float) -> str:
    return "more" if value == inf else f"{value:.2f}"


def minutes_until(runs: Sequence[Run], is_so: Callable[[Point], bool]) -> list[float]:
    """Return for each run the minutes until something is so of the fault, infinite if never."""
    firsts = (run.first(is_so) for run in runs)
    return [point.minutes if point else inf for point in firsts]


def _leads(point: Point) -> bool:
    return point.leads


def _probable(point: Point) -> bool:
    return point.probable


def _among_first(point: Point) -> bool:
    return point.among_first


def _wanted(by_order: dict[Order, list[Run]]) -> Iterator[str]:
    """Yield what the advice is to reach, and whether it does."""
    if not by_order["advice"]:
        return
    yield "## What was wanted"
    yield ""
    ours, theirs = median_minutes(by_order["advice"]), median_minutes(by_order["random"])
    half = "yes" if ours <= HALF * theirs else "no"
    if ours == theirs == inf:
        half = "neither has one, in most runs the fault does not lead in time"
    yield (
        f"- Median minutes at most half of those of random order: {_number(ours, MINUTES)} against "
        f"{_number(theirs, MINUTES)}: {half}."
    )
    ahead = sooner(*(minutes_until(by_order[order], _leads) for order in ("advice", "random")))
    if ahead is not None and theirs == inf:
        yield (
            f"- The same at as many as random order finds in {MINUTES:.0f} minutes ({ahead.many} "
            f"of {len(by_order['random'])}): {_number(ahead.ours, MINUTES)} against "
            f"{_number(ahead.theirs, MINUTES)}: {'yes' if ahead.ratio <= HALF else 'no'}."
        )
    for other in ORDERS[1:]:
        for at in (EARLY, MINUTES):
            pairs = difference(
                [run.uncertainty_at(at) for run in by_order["advice"]],
                [run.uncertainty_at(at) for run in by_order[other]],
            )
            lower = "yes" if pairs.high < 0 else "no" if pairs.low > 0 else "open"
            yield (
                f"- Less uncertainty than {_NAMES[other]} after {at:.0f} minutes: "
                f"{pairs.mean:+.2f} bits ({pairs.low:+.2f} to {pairs.high:+.2f}): {lower}."
            )
    yield ""
    yield (
        "The intervals are 95 % ones of the mean over instruments; *open*: the interval holds zero."
    )
    yield ""


def _steps(runs: Sequence[Run]) -> Iterator[str]:
    """Yield what the advice spends its minutes on, and what a minute of each step brings."""
    spent: dict[str, list[float]] = defaultdict(list)
    less: dict[str, list[float]] = defaultdict(list)
    for run in runs:
        for before, after in pairwise(run.points):
            spent[after.step].append(after.minutes - before.minutes)
            less[after.step].append(before.uncertainty - after.uncertainty)
    whole = sum(map(sum, spent.values()))
    if not whole:
        return
    yield "## Where the minutes of the advice go"
    yield ""
    yield "| step of the advice | checks | share of the minutes | bits less for a minute |"
    yield "| --- | --- | --- | --- |"
    for step, minutes in sorted(spent.items(), key=lambda entry: -sum(entry[1])):
        rate = sum(less[step]) / sum(minutes) if sum(minutes) else 0.0
        yield f"| {step} | {len(minutes)} | {sum(minutes) / whole:.0%} | {rate:+.3f} |"
    yield ""


def _faults(checklist: Checklist, by_order: dict[Order, list[Run]]) -> Iterator[str]:
    yield "## Fault by fault"
    yield ""
    yield (
        "How often it leads in time, with the median checks and minutes by the advice; *most*: the "
        "highest probability that the advice reached, on average."
    )
    yield ""
    yield "| fault | part | runs | advice | checks | minutes | random | fixed | most |"
    yield "| --- | --- | --- | --- | --- | --- | --- | --- | --- |"
    for fault in checklist.faults.values():
        own = {o: [run for run in runs if run.fault == fault.id] for o, runs in by_order.items()}
        runs = own["advice"]
        if not runs:
            continue
        yield (
            f"| {fault.id} | {fault.part} | {len(runs)} | {share(runs):.0%} "
            f"| {_number(median_checks(runs), CHECKS)} | {_number(median_minutes(runs), MINUTES)} "
            f"| {share(own['random']):.0%} | {share(own['fixed']):.0%} "
            f"| {most(runs):.0%} |"
        )
    yield ""


def _number(value: float, limit: float) -> str:
    return f"> {limit:.0f}" if value == inf else f"{value:g}"
