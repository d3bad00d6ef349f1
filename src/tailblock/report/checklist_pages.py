"""A checklist as pages of Markdown that a person reads: one a part, and what belongs to the whole.

In: a checklist. Out: file name -> text. Every entry has an anchor of its own (`#fault-top-hump`)
that the others link to. Texts are escaped; only a check's and a remedy's steps are Markdown, as
their authors wrote them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from tailblock.knowledge.coverage import direct, through
from tailblock.knowledge.entries import LevelDown
from tailblock.knowledge.graph import graph_of_part
from tailblock.knowledge.levels import levels_of_limits
from tailblock.knowledge.words import word_for
from tailblock.report.graph_svg import to_svg
from tailblock.report.markdown_page import environment
from tailblock.report.plain import markdown_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import (
        Cause,
        Check,
        Condition,
        Fault,
        LevelUp,
        Limits,
        Remedy,
        Shows,
        Symptom,
    )

INDEX, CAUTIONS, SOURCES = "index.md", "cautions.md", "sources.md"
_PICTURES = "pictures"


def pages(checklist: Checklist) -> Mapping[str, str]:
    """Return every page and picture by its path below the folder they are meant for."""
    templates = environment()
    view = _View(checklist)
    found = {
        name: templates.get_template(f"checklist_{name}.j2").render(checklist=checklist, view=view)
        for name in (INDEX, CAUTIONS, SOURCES)
    }
    for part in checklist.parts.values():
        contents = view.contents(part.id)
        graph = graph_of_part(checklist, part.id)
        picture = f"{_PICTURES}/{part.id}.svg" if graph.arrows else ""
        if picture:
            found[picture] = to_svg(graph)
        found[view.page(part.id)] = templates.get_template("checklist_part.md.j2").render(
            checklist=checklist, view=view, part=part, contents=contents, picture=picture
        )
    return found


@dataclass(frozen=True, slots=True)
class Contents:
    """What belongs to a part, in the order of the files."""

    faults: tuple[Fault, ...]
    symptoms: tuple[Symptom, ...]
    checks: tuple[Check, ...]
    remedies: tuple[Remedy, ...]


class _View:
    """What the templates ask about a checklist: links, words for numbers, who shows what."""

    def __init__(self, checklist: Checklist) -> None:
        self._checklist = checklist
        self._direct = direct(checklist)
        self._through = through(checklist)

    def page(self, part: str) -> str:
        """Return the file of a part; `part-` keeps it apart from the pages of the whole."""
        return f"part-{part}.md"

    def contents(self, part: str) -> Contents:
        """Return what belongs to a part."""
        known = self._checklist
        return Contents(
            tuple(entry for entry in known.faults.values() if entry.part == part),
            tuple(entry for entry in known.symptoms.values() if entry.part == part),
            tuple(entry for entry in known.checks.values() if entry.part == part),
            tuple(entry for entry in known.remedies.values() if entry.part == part),
        )

    def anchor(self, kind: str, id_: str) -> Markup:
        """Return the target of links to an entry."""
        return Markup('<a id="{}-{}"></a>').format(kind, id_)

    def node(self, id_: str) -> Markup:
        """Return a link to a fault or a symptom."""
        entry = self._checklist.fault_or_symptom(id_)
        kind = "fault" if id_ in self._checklist.faults else "symptom"
        return _link(entry.name, self.page(entry.part), kind, id_)

    def check(self, id_: str) -> Markup:
        """Return a link to a check."""
        check = self._checklist.checks[id_]
        return _link(check.title, self.page(check.part), "check", id_)

    def remedy(self, id_: str) -> Markup:
        """Return a link to a remedy."""
        remedy = self._checklist.remedies[id_]
        return _link(remedy.name, self.page(remedy.part), "remedy", id_)

    def cautions(self, ids: Iterable[str]) -> Markup:
        """Return links to cautions."""
        titles = ((id_, self._checklist.cautions[id_].title) for id_ in ids)
        return _listed(_link(title, CAUTIONS, "caution", id_) for id_, title in titles)

    def sources(self, ids: Iterable[str]) -> Markup:
        """Return links to sources."""
        return _listed(_link(id_, SOURCES, "source", id_) for id_ in ids)

    def nodes(self, ids: Iterable[str]) -> Markup:
        """Return links to faults and symptoms."""
        return _listed(self.node(id_) for id_ in ids)

    def checks_of(self, node: str) -> Markup:
        """Return links to the checks that show a fault, itself or by a symptom, or a symptom."""
        shown = self._through if node in self._checklist.faults else self._direct
        return _listed(self.check(id_) for id_ in shown.get(node, {}))

    def remedies_of(self, fault: str) -> Markup:
        """Return links to the remedies that fix a fault."""
        return _listed(
            self.remedy(remedy.id)
            for remedy in self._checklist.remedies.values()
            if any(fixed.fault == fault for fixed in remedy.fixes)
        )

    def causes(self, causes: Iterable[Cause]) -> Markup:
        """Return links to causes, each with how often it brings the thing about."""
        return _listed(
            Markup("{} {}").format(self.node(cause.fault), _text(f"({self.held(cause)})"))
            for cause in causes
        )

    def held(self, cause: Cause) -> str:
        """Return a cause's strength in words, and for which traits it holds."""
        condition = self.condition(cause.when)
        return self.chance(cause.strength) + (f", if {condition}" if condition else "")

    def chance(self, chance: float) -> str:
        """Return the word for a chance."""
        return word_for(chance).replace("-", " ")

    def condition(self, when: Condition) -> str:
        """Return a condition in words."""
        return " and ".join(
            f"{self._called(name)}: {' or '.join(map(self._value(name), values))}"
            for name, values in when.items()
        )

    def _called(self, name: str) -> str:
        trait = self._checklist.traits.get(name)
        return trait.called if trait else name

    def _value(self, name: str) -> Callable[[str], str]:
        trait = self._checklist.traits.get(name)
        return trait.text if trait else lambda value: value.replace("-", " ")

    def levels(self, check: Check) -> Iterator[tuple[str, str]]:
        """Yield each level of a check with what it means: a text, or its limits."""
        if check.measure is None:
            for choice in check.choices:
                yield choice.level, choice.text
            return
        yield from _limits(check.measure)

    def special(self, check: Check) -> Iterator[tuple[str, str]]:
        """Yield the limits of a measurement that hold for some traits: which, and the limits."""
        for limits in check.measure.limits_when if check.measure else ():
            bands = (f"{level} {band}" for level, band in _limits(limits))
            yield self.condition(limits.when), "; ".join(bands)

    def shows(self, check: Check) -> Iterator[tuple[Markup, str]]:
        """Yield what a check shows and how often, at least at each level."""
        for link in check.shows:
            condition = self.condition(link.when)
            yield self.node(link.target), _shown(link) + (f" (if {condition})" if condition else "")

    def otherwise(self, check: Check) -> str:
        """Return how often each level comes with nothing there that the check shows."""
        return ", ".join(f"{level} {self.chance(c)}" for level, c in check.otherwise.items())

    def gates(self, check: Check) -> Iterator[str]:
        """Yield what a check decides about others."""
        for gate in check.gate:
            of = ", ".join(
                self._checklist.checks[name].title if name in self._checklist.checks else name
                for name in gate.of
            )
            said = "count for nothing" if gate.then == "no-evidence" else "are trusted less"
            why = f" ({gate.why})" if gate.why else ""
            yield f"From {' or '.join(gate.from_)} on these {said}: {of}{why}."


def _shown(link: Shows) -> str:
    return ", ".join(
        f"{level} {word_for(chance).replace('-', ' ')}"
        for side in (link.at_least, link.at_least_low, link.at_least_high)
        for level, chance in side.items()
    )


def _limits(limits: Limits) -> Iterator[tuple[str, str]]:
    """Yield the levels of a scale from the lowest to the highest with their limits."""
    bands = {level.level: _band(level) for level in (*limits.levels, *limits.levels_high)}
    bands |= {level.level: _band(level) for level in limits.levels_low}
    if limits.normal is not None:
        ends = (("from", limits.normal.from_), ("to", limits.normal.to))
        bands["normal"] = " ".join(f"{word} {end}" for word, end in ends if end)
    for level in levels_of_limits(limits).ids:
        yield level, bands[level]


def _band(level: LevelUp | LevelDown) -> str:
    limit = level.down_to if isinstance(level, LevelDown) else level.up_to
    words = "down to" if isinstance(level, LevelDown) else "up to"
    band = f"{words} {limit}" if limit else "beyond"
    return f"{band}: {level.text}" if level.text else band


def _link(text: str, page: str, kind: str, id_: str) -> Markup:
    return Markup("[{}]({}#{}-{})").format(_text(text), page, kind, id_)


def _listed(links: Iterable[Markup]) -> Markup:
    return Markup(", ").join(links)


def _text(text: str) -> Markup:
    return Markup(markdown_text(text))  # noqa: S704  escaped for Markdown, which is what this is
