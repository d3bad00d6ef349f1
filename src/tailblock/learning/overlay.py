"""What was learned, as a checklist that extends the one it was learned for.

In: a checklist and chances that are to change. Out: the text of a `checklist.yaml` in which each
change stands with the trials behind it, for a person to review; or a folder with it.
"""

from __future__ import annotations

import re
import shutil
import tempfile
from collections import defaultdict
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from tailblock.errors import TailblockError
from tailblock.inspection.spell import flow, scalar
from tailblock.knowledge.entries import ID_PATTERN
from tailblock.knowledge.library import HEAD
from tailblock.knowledge.numbers import spoken
from tailblock.knowledge.traits import alone_under, deciding
from tailblock.knowledge.words import WORDS, word_for
from tailblock.learning.proposals import condition_of
from tailblock.network.written import Written

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Condition, Fault, Symptom
    from tailblock.knowledge.yamlmarks import Data
    from tailblock.learning.proposals import Chance

_TOP = """\
# Proposed by `tailblock learn` from {cases} confirmed cases. Nothing of it is in force until a
# person names this checklist in an inspection: take out what you do not believe. Each change says
# what it rests on; a word counts as {strength:g} trials.
"""


class NotAnId(TailblockError):
    """A folder whose name no checklist can have."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        super().__init__(
            f"{folder}: the name of the folder becomes the id of a checklist (small letters, "
            "digits and hyphens, as flat-top-ours)"
        )


class IsThere(TailblockError):
    """Something stands where the proposal should go."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        super().__init__(f"{folder}: there is something of that name already (choose another one)")


def require_free(folder: Path) -> None:
    """Refuse a folder that a proposal cannot be written to.

    Raises
    ------
    NotAnId, IsThere
    """
    if not re.fullmatch(ID_PATTERN, folder.name):
        raise NotAnId(folder)
    if folder.exists() or folder.is_symlink():
        raise IsThere(folder)


def write_overlay(folder: Path, text: str) -> None:
    """Make the folder of a checklist with this one file, whole or not at all.

    Raises
    ------
    NotAnId, IsThere
        Nothing was written.
    OSError
        The system refuses; nothing is left.
    """
    require_free(folder)
    folder.parent.mkdir(parents=True, exist_ok=True)
    made = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    try:
        (made / HEAD).write_text(text, encoding="utf-8")
        made.chmod(0o755)  # a temporary folder is for its owner alone
        made.rename(folder)
    except BaseException:
        shutil.rmtree(made, ignore_errors=True)
        raise


def overlay(
    checklist: Checklist, name: str, changes: Sequence[Chance], *, cases: int, strength: float
) -> str:
    """Return the text of a checklist that changes some chances of another and nothing else.

    Parameters
    ----------
    name
        Its id.
    changes
        Each with the chance that it becomes (`after`).
    cases, strength
        From how many cases, and how many trials a word was worth.
    """
    by_entry: dict[str, list[Chance]] = defaultdict(list)
    for change in changes:
        by_entry[change.written.entry].append(change)
    title = scalar(f"{checklist.title}, with chances learned from {cases} cases")
    lines = [
        "tailblock: 1",
        f"id: {name}",
        f"title: {title}",
        f"version: {scalar(checklist.version)}",
        f"licence: {scalar(checklist.licence)}",
        f"extends: {checklist.id}",
    ]
    if by_entry:
        lines += ["", "override:"]
    for entry, some in by_entry.items():
        for change in some:
            lines += [f"  # {line}" for line in _because(change)]
        lines += _override(checklist.fault_or_symptom(entry), some)
    return _TOP.format(cases=cases, strength=strength) + "\n".join(lines) + "\n"


def _because(change: Chance) -> Iterator[str]:
    nearest = word_for(change.after)
    now = f"{change.after:g} (nearest word: {nearest})"
    yield f"{change.says}: was {spoken(change.before)}, now {now}"
    yield (
        f"  {change.trials:.0f} trials, met {change.met:.0f} times; "
        f"90 % interval {change.low:.2g} to {change.high:.2g}"
    )


def _override(node: Fault | Symptom, changes: Sequence[Chance]) -> Iterator[str]:
    new = {change.written: change.after for change in changes}
    yield f"  - id: {node.id}"
    if any(written.cause is None for written in new):
        yield from _starting(node, new)
    if any(written.cause is not None for written in new):
        yield "    caused_by:"
        for place, cause in enumerate(node.caused_by):
            strength = new.get(Written(node.id, cause=place), cause.strength)
            link: dict[str, Data] = {"fault": cause.fault, "strength": _chance(strength)}
            if cause.when:
                link["when"] = _condition(cause.when)
            yield f"      - {flow(link)}"


def _starting(node: Fault | Symptom, new: Mapping[Written, float]) -> Iterator[str]:
    """Yield `alone` and `alone_when`.

    A `shift` moves words and cannot say a number: where there is one, each combination of rules
    gets its own `alone`, most of them together first.
    """

    def value(*held: int) -> float:
        rules = deciding(node, held)
        return new.get(Written(node.id, rules=rules), alone_under(node, rules))

    yield f"    alone: {_chance(value())}"
    rules: list[tuple[Condition, float]] = []
    if any(rule.shift is not None for rule in node.alone_when):
        rules = _told_apart(node, value)
    else:
        rules = [(rule.when, value(place)) for place, rule in enumerate(node.alone_when)]
    if node.alone_when:
        yield "    alone_when:"
    for when, chance in rules:
        yield f"      - {flow({'when': _condition(when), 'alone': _chance(chance)})}"


class _Value(Protocol):
    def __call__(self, *held: int) -> float: ...


def _told_apart(node: Fault | Symptom, value: _Value) -> list[tuple[Condition, float]]:
    """Return a rule for each combination of rules that can hold, unless a later one says the same.

    The first that matches counts, so the largest stand first.
    """
    kept: list[tuple[tuple[int, ...], Condition, float]] = []
    for size in range(1, len(node.alone_when) + 1):
        larger = []
        for held in combinations(range(len(node.alone_when)), size):
            when = condition_of(node, held)
            if when is None:
                continue
            chance = value(*held)
            otherwise = next((c for some, _, c in kept if {*some} < {*held}), value())
            if chance != otherwise:
                larger.append((held, when, chance))
        kept = [*larger, *kept]
    return [(when, chance) for _, when, chance in kept]


def _condition(when: Condition) -> dict[str, Data]:
    return {
        trait: values[0] if len(values) == 1 else list(values) for trait, values in when.items()
    }


def _chance(chance: float) -> str:
    """Return a chance as it is written: the word if there is one that says it."""
    return spoken(chance) if chance in WORDS.values() else f"{chance:g}"
