"""A small checklist, and what was said on visits of it as a compiled network with evidence."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from oracles.enumeration import enumerate_all
from tailblock.advice.weighing import Weigher
from tailblock.inspection.likelihood import likelihood
from tailblock.inspection.speaks import Heard, Spoken
from tailblock.network.arrays import Evidence, FloatArray
from tailblock.network.compile import Compiled, compile_network
from tailblock.network.timeline import VisitSkeleton

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist

SHOP = """
parts: [{id: top, name: Top}, {id: bridge, name: Bridge}]
traits: [{id: bridge, ask: Which?, values: [pin, floating]}]
faults:
  - {id: lifting, part: bridge, name: Lifting, plain: It lifts., alone: 0.05, harm: serious,
     pace: months, under_tension: danger, applies_when: {bridge: pin},
     caused_by: [{fault: hump, strength: 0.6}, {fault: heat, strength: 0.3}]}
  - {id: hump, part: top, name: Hump, plain: It rises., alone: 0.1, harm: serious, pace: months,
     under_tension: watch, caused_by: [{fault: heat, strength: 0.6}]}
  - {id: heat, part: top, name: Heat, plain: It was hot., kind: event, alone: 0.1, harm: serious,
     pace: stable, under_tension: fine}
  - {id: dome, part: top, name: Dome, plain: It is made so., alone: 0.3, harm: none, pace: stable,
     under_tension: fine}
symptoms:
  - {id: gap, part: bridge, name: Gap, alone: 0.03, caused_by: [{fault: lifting, strength: 0.95}]}
checks:
  - {id: lamp, part: bridge, title: Lamp, ask: A?, how: Look., minutes: 1,
     choices: [{level: shut, text: N}, {level: slight, text: S}, {level: open, text: Y}],
     shows: [{symptom: gap, at_least: {slight: 0.8, open: 0.5}}]}
  - {id: story, part: top, title: Story, ask: A?, how: Ask., minutes: 1,
     choices: [{level: none, text: N}, {level: hot, text: Y}],
     shows: [{fault: heat, at_least: {hot: 0.8}}]}
  - id: belly
    part: top
    title: Belly
    ask: How high?
    how: Measure.
    minutes: 2
    measure:
      quantity: length
      unit: mm
      possible: {from: -9 mm, to: 12 mm}
      gauge: {resolution: 0.5 mm, repeatability: 0.4 mm}
      normal: {from: -1 mm, to: 1 mm}
      levels_low: [{level: sunken}]
      levels_high: [{level: high, up_to: 3 mm}, {level: very-high}]
    shows:
      - {fault: hump, at_least_high: {high: 0.8, very-high: 0.3}}
      - {fault: dome, at_least_high: {high: 0.6}}
      - {fault: heat, at_least_low: {sunken: 0.2}}
remedies:
  - {id: reglue, part: bridge, name: R, plain: R, fixes: [{fault: lifting, how_well: 0.9}],
     hours: {low: 1, likely: 2, high: 3}, reversible: true}
"""
DAYS = (date(2031, 3, 2), date(2031, 3, 9))


@dataclass(frozen=True)
class Bench:
    """A compiled network with what was said on its visits."""

    shop: Checklist
    compiled: Compiled
    said: tuple[Heard, ...]
    evidence: Evidence

    @property
    def reasoner(self) -> Weigher:
        return Weigher(self.compiled.network, self.evidence)

    def enumerated(self, without: int | None = None) -> FloatArray:
        soft = {k: row for k, row in self.evidence.soft.items() if k != without}
        return enumerate_all(self.compiled.network, Evidence(soft)).posterior


LEVELS = {"1.9 mm": "high", "4.5 mm": "very-high", "-3 mm": "sunken", "0 mm": "normal"}


def bench(
    shop: Checklist,
    *visits: dict[str, str],
    work: tuple[str, ...] = (),
    bridge: str = "pin",
) -> Bench:
    traits = {"bridge": bridge}
    skeletons = [
        VisitSkeleton("arrival", day, work if place else ())
        for place, day in zip(range(len(visits)), DAYS, strict=False)
    ]
    compiled = compile_network(shop, traits, skeletons)
    heard = tuple(_heard(answers) for answers in visits)
    soft = {}
    for visit, said in enumerate(heard):
        for spoken in said.spoken:
            finding = compiled.finding_of(spoken.check, visit)
            assert finding is not None
            soft[finding] = likelihood(shop, traits, spoken)
    return Bench(shop, compiled, heard, Evidence(soft))


def _heard(answers: dict[str, str]) -> Heard:
    spoken = []
    for check, answer in answers.items():
        if answer in LEVELS:
            spoken.append(Spoken(check, (0,), value=float(answer.split()[0]), u=0.4))
        else:
            spoken.append(Spoken(check, (0,), level=answer))
    levels = {check: LEVELS.get(answer, answer) for check, answer in answers.items()}
    return Heard(tuple(spoken), (), levels, frozenset())
