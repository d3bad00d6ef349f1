"""What is said first: what leads, that nothing is wrong, or that it is open."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace

import numpy as np
import pytest

from tailblock.advice import CauseBelief, Verdict
from tailblock.advice.ranking import decibans, leads, weight
from tailblock.advice.verdict import verdict
from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], Checklist]

SHOP = """
parts: [{id: top, name: Top}]
traits: [{id: bridge, ask: Which?, values: [pin, floating]}]
faults:
  - {id: hump, part: top, name: H, plain: H, alone: 0.1, harm: serious, pace: months,
     under_tension: watch}
  - {id: lifting, part: top, name: L, plain: L, alone: 0.05, harm: serious, pace: months,
     under_tension: danger}
  - {id: worn, part: top, name: W, plain: W, alone: 0.9, harm: playability, pace: months,
     under_tension: fine}
  - {id: looks, part: top, name: C, plain: C, alone: 0.1, harm: cosmetic, pace: stable,
     under_tension: fine}
  - {id: dome, part: top, name: D, plain: D, alone: 0.3, harm: none, pace: stable,
     under_tension: fine, rivals: [hump, worn]}
  - {id: ledge, part: top, name: G, plain: G, alone: 0.3, harm: none, pace: stable,
     under_tension: fine, rivals: [lifting]}
  - {id: sticking, part: top, name: S, plain: S, alone: 0.3, harm: playability, pace: stable,
     under_tension: fine}
  - {id: stretching, part: top, name: T, plain: T, alone: 0.3, harm: none, pace: stable,
     under_tension: fine, rivals: [sticking]}
  - {id: hearsay, part: top, name: E, plain: E, alone: 0.3, harm: none, pace: stable,
     under_tension: fine}
"""
# Everything at rest: nothing raised, the rivals low.
REST = {"hump": 0.05, "lifting": 0.02, "worn": 0.1, "looks": 0.05}
START = {"hump": 0.1, "lifting": 0.05, "worn": 0.9, "looks": 0.1}


@pytest.fixture
def said(read_checklist: Read) -> Callable[..., Verdict]:
    shop = read_checklist(SHOP)

    def of(looked_at: Collection[str] = ("hump", "worn", "lifting"), **moved: float) -> Verdict:
        chances = {**dict.fromkeys(shop.faults, 0.1), **REST, **moved}
        causes = [_belief(shop, fault, chance) for fault, chance in chances.items()]
        return verdict(shop, causes, looked_at)

    return of


def _belief(shop: Checklist, fault: str, probability: float) -> CauseBelief:
    entry = shop.faults[fault]
    prior = START.get(fault, 0.3)
    worth = np.array(weight(entry, shop.limits))
    lead = float(leads(worth, np.array(probability), np.array(prior)))
    moved = decibans(probability, prior)
    return CauseBelief(
        fault, "", "", "top", entry.kind, entry.harm, probability, prior, moved, lead
    )


Said = Callable[..., Verdict]


@pytest.mark.parametrize(
    ("moved", "kind", "faults"),
    [
        ({"hump": 0.5}, "leading", ("hump",)),
        ({"hump": 0.499}, "open", ("hump",)),
        ({"hump": 0.199}, "open", ()),
        # by lead, not by probability: 1 x 0.7 x 4.39 bits against 0.14 x 0.9 x 6.34
        ({"looks": 0.9, "hump": 0.7}, "leading", ("hump", "looks")),
        # what everybody has leads nothing, however probable
        ({"worn": 0.9}, "open", ()),
        ({"worn": 0.92}, "open", ("worn",)),  # raised, but by no more than 0.16 in lead
        ({}, "open", ()),
    ],
)
def test_what_leads(
    said: Said, moved: dict[str, float], kind: str, faults: tuple[str, ...]
) -> None:
    answer = said(**moved)
    assert (answer.kind, answer.faults) == (kind, faults)


@pytest.mark.parametrize(
    ("moved", "looked_at", "wins"),
    [
        ({"dome": 0.6}, ("hump", "worn"), True),
        ({"dome": 0.5}, ("hump", "worn"), False),  # above 0.5, not at it
        ({"dome": 0.501}, ("hump", "worn"), True),
        ({"dome": 0.6}, ("hump",), False),  # a rival nobody looked at
        ({"dome": 0.6, "hump": 0.199}, ("hump", "worn"), True),
        ({"dome": 0.6, "hump": 0.2}, ("hump", "worn"), False),
        ({"dome": 0.6, "worn": 0.45}, ("hump", "worn"), True),  # no more than play, and not raised
        ({"dome": 0.6, "worn": 0.5}, ("hump", "worn"), False),  # as likely as not
        ({"stretching": 0.6, "sticking": 0.40}, ("sticking",), True),  # 3/7 to 2/3: 1.9 decibans
        ({"stretching": 0.6, "sticking": 0.41}, ("sticking",), False),  # 2.1 decibans: raised
        ({"dome": 0.6, "lifting": 0.10}, ("hump", "worn"), True),
        ({"dome": 0.6, "lifting": 0.11}, ("hump", "worn"), False),  # a danger fault is open
        ({"ledge": 0.6}, ("lifting",), True),
        ({"ledge": 0.6, "lifting": 0.11}, ("lifting",), False),
        ({"hearsay": 0.9}, ("hump", "worn", "lifting"), False),  # it rules nothing out
        ({"dome": 0.6, "looks": 0.9}, ("hump", "worn"), False),  # something else does lead
    ],
)
def test_nothing_is_wrong(
    said: Said, moved: dict[str, float], looked_at: tuple[str, ...], *, wins: bool
) -> None:
    answer = said(looked_at, **moved)
    assert (answer.kind == "nothing-wrong") is wins
    if wins:
        assert set(answer.faults) == {"dome", "ledge", "stretching"} & moved.keys()


def test_a_harmless_explanation_that_no_reading_raised_explains_nothing(
    read_checklist: Read,
) -> None:
    shop = read_checklist(SHOP)
    chances = {"dome": 0.9, "hump": 0.05, "worn": 0.1}
    causes = [_belief(shop, fault, chance) for fault, chance in chances.items()]
    assert verdict(shop, causes, ("hump", "worn")).kind == "nothing-wrong"
    causes[0] = replace(causes[0], prior=0.9, decibans=0.0)
    assert verdict(shop, causes, ("hump", "worn")).kind == "open"


def test_open_danger_is_always_named(said: Said) -> None:
    assert said(lifting=0.3).danger_open == ("lifting",)
    assert said(hump=0.9, lifting=0.3).danger_open == ("lifting",)
    assert said().danger_open == ()


def test_rivals_that_the_instrument_cannot_have_are_no_rivals(read_checklist: Read) -> None:
    shop = read_checklist(SHOP)
    causes = [_belief(shop, fault, 0.6 if fault == "dome" else 0.1) for fault in ("dome", "hump")]
    assert verdict(shop, causes, ["hump"]).kind == "nothing-wrong"


def test_no_more_are_named_than_two_sentences_carry(said: Said) -> None:
    answer = said(hump=0.9, lifting=0.9, looks=0.9, worn=1.0)
    assert answer.faults == ("lifting", "hump", "worn")
