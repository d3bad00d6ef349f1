"""What a chance becomes for known and unknown traits. Expected numbers are worked out by hand."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.knowledge import traits
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from collections.abc import Callable

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Fault

TEXT = """\
tailblock: 1
id: small
title: Small
version: 1
parts: [{id: bridge, name: Bridge}]
traits:
  - {id: bridge, ask: Which?, values: [pin, pinless, floating]}
  - {id: bracing, ask: Which?, values: [x, ladder, fan, unknown],
     shares: {x: 0.80, ladder: 0.15, fan: 0.05}}
  - {id: age, ask: How old?, values: [new, old, unknown], shares: {new: 0.7, old: 0.3}}
  - {id: finish, ask: Which?, values: [oil, lacquer, unknown]}
faults:
  - id: root
    part: bridge
    name: Root
    plain: Root.
    alone: sometimes
    applies_when: {bridge: [pin, pinless]}
    harm: serious
    pace: years
    under_tension: fine
  - id: hump
    part: bridge
    name: Hump
    plain: Up.
    alone: seldom
    alone_when:
      - {when: {bridge: pinless}, alone: sometimes}
      - {when: {bracing: ladder}, alone: often}
      - {when: {age: old}, shift: 1}
      - {when: {bridge: pin, bracing: [ladder, fan]}, shift: 1}
    applies_when: {bracing: [x, ladder]}
    caused_by:
      - {fault: root, strength: usually, when: {age: [old]}}
      - {fault: root, strength: 0.5}
    harm: serious
    pace: years
    under_tension: fine
checks:
  - id: look
    part: bridge
    title: Look
    ask: Up?
    how: Look.
    minutes: 1
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 9 mm}
      gauge: {resolution: 0.1 mm, repeatability: 0.1 mm}
      levels: [{level: flat, up_to: 1 mm}, {level: up}]
      limits_when:
        - {when: {bracing: ladder}, levels: [{level: flat, up_to: 2 mm}, {level: up}]}
        - {when: {age: old}, levels: [{level: flat, up_to: 3 mm}, {level: up}]}
    shows: [{fault: hump, at_least: {up: often}, when: {age: old}}]
"""


@pytest.fixture
def known(checklist: Callable[[str], Checklist]) -> Checklist:
    return checklist(TEXT)


@pytest.mark.parametrize(
    ("condition", "given_traits", "expected"),
    [
        ({}, {}, 1.0),
        ({"bridge": ("pin",)}, {"bridge": "pin"}, 1.0),
        ({"bridge": ("pin",)}, {"bridge": "floating"}, 0.0),
        ({"bridge": ("pin", "floating")}, {"bridge": "floating"}, 1.0),
        # unknown with shares: they add up
        ({"bracing": ("ladder",)}, {}, 0.15),
        ({"bracing": ("ladder", "fan")}, {"bracing": "unknown"}, 0.20),
        # and between traits: the product, as if they were independent
        ({"bracing": ("ladder",), "age": ("old",)}, {}, 0.15 * 0.3),
        ({"bracing": ("ladder",), "age": ("old",)}, {"age": "old"}, 0.15),
        # unknown without shares: only a condition that lists `unknown` holds
        ({"finish": ("oil",)}, {}, 0.0),
        ({"finish": ("unknown",)}, {}, 1.0),
        ({"finish": ("unknown",)}, {"finish": "oil"}, 0.0),
        # the same with shares
        ({"age": ("unknown",)}, {}, 1.0),
        ({"age": ("unknown", "old")}, {"age": "new"}, 0.0),
    ],
)
def test_share(
    known: Checklist,
    condition: dict[str, tuple[str, ...]],
    given_traits: dict[str, str],
    expected: float,
) -> None:
    assert traits.share(condition, given_traits, known) == pytest.approx(expected, abs=1e-15)


@pytest.mark.parametrize(
    ("given_traits", "expected"),
    [
        ({"bracing": "x", "age": "new", "bridge": "pin"}, 0.10),  # the plain chance
        ({"bracing": "x", "age": "old", "bridge": "pin"}, 0.30),  # one word up
        ({"bracing": "x", "age": "new", "bridge": "pinless"}, 0.30),  # replaced
        # the first replacement that matches counts, not the last
        ({"bracing": "ladder", "age": "new", "bridge": "pinless"}, 0.30),
        # replaced by often, then both shifts: almost-always
        ({"bracing": "ladder", "age": "old", "bridge": "pin"}, 0.95),
        ({"bracing": "ladder", "age": "new", "bridge": "pin"}, 0.80),
        ({"bracing": "fan", "age": "new", "bridge": "pin"}, 0.0),  # it does not apply
        # age unknown: 0.7 x 0.10 + 0.3 x 0.30
        ({"bracing": "x", "bridge": "pin"}, 0.16),
        # bracing unknown, too: 0.80 x 0.16 + 0.15 (0.7 x 0.80 + 0.3 x 0.95) + 0.05 x 0
        ({"bridge": "pin"}, 0.80 * 0.16 + 0.15 * (0.7 * 0.80 + 0.3 * 0.95)),
    ],
)
def test_alone(known: Checklist, given_traits: dict[str, str], expected: float) -> None:
    hump = known.faults["hump"]
    assert traits.alone(hump, given_traits, known) == pytest.approx(expected, abs=1e-15)


@pytest.mark.parametrize(
    ("given_traits", "with_when", "plain"),
    [
        ({"bracing": "x", "age": "old"}, 0.8, 0.5),
        ({"bracing": "x", "age": "new"}, 0.0, 0.5),
        ({"bracing": "fan", "age": "old"}, 0.0, 0.0),  # the child does not apply
        ({"bracing": "x"}, 0.8 * 0.3, 0.5),
        ({}, 0.8 * 0.3 * 0.95, 0.5 * 0.95),
    ],
)
def test_strength(
    known: Checklist, given_traits: dict[str, str], with_when: float, plain: float
) -> None:
    hump = known.faults["hump"]
    found = [traits.strength(hump, cause, given_traits, known) for cause in hump.caused_by]
    assert found == pytest.approx([with_when, plain], abs=1e-15)


@pytest.mark.parametrize(
    ("given_traits", "expected"),
    [
        ({"bracing": "x", "age": "new"}, {"1 mm": 1.0}),
        ({"bracing": "ladder", "age": "old"}, {"2 mm": 1.0}),  # the first that matches
        ({"bracing": "x"}, {"1 mm": 0.7, "3 mm": 0.3}),
        ({}, {"2 mm": 0.15, "1 mm": 0.85 * 0.7, "3 mm": 0.85 * 0.3}),
    ],
)
def test_limits_are_mixed(
    known: Checklist, given_traits: dict[str, str], expected: dict[str, float]
) -> None:
    mixed = traits.limits_for(known.checks["look"], given_traits, known)
    found = {str(each.limits.levels[0].up_to): each.weight for each in mixed}
    assert found == pytest.approx(expected, abs=1e-15)


def test_what_is_not_measured_has_no_limits(checklist: Callable[[str], Checklist]) -> None:
    text = (
        TEXT[: TEXT.index("    measure:")]
        + "    choices: [{level: a, text: A}, {level: b, text: B}]\n"
    )
    known = checklist(text)
    assert traits.limits_for(known.checks["look"], {}, known) == ()


def test_the_weight_of_a_link(known: Checklist) -> None:
    [link] = known.checks["look"].shows
    assert traits.link_share(link, {}, known) == 0.3
    assert traits.link_share(link, {"age": "new"}, known) == 0.0


@pytest.mark.parametrize(
    ("applies_when", "given_traits", "applies", "label"),
    [
        ("{}", {}, True, None),
        ("{bracing: ladder}", {"bracing": "ladder"}, True, None),
        ("{bracing: ladder}", {"bracing": "x"}, False, None),
        ("{bracing: ladder}", {}, True, "if ladder"),
        ("{bracing: [ladder, fan]}", {}, True, "if ladder or fan"),
        ("{bracing: [ladder, fan], age: old}", {}, True, "if ladder or fan and old"),
        ("{bracing: ladder, bridge: pin}", {"bridge": "pin"}, True, "if ladder"),
        ("{bracing: ladder, bridge: pin}", {"bridge": "floating"}, False, None),
    ],
)
def test_labels(
    checklist: Callable[[str], Checklist],
    applies_when: str,
    given_traits: dict[str, str],
    applies: bool,
    label: str | None,
) -> None:
    known = checklist(TEXT + f"    applies_when: {applies_when}\n")
    look = known.checks["look"]
    assert traits.applies(look, given_traits, known) is applies
    assert traits.trait_label(look, given_traits, known) == label


WORLDS = {"bracing": ["x", "ladder", "fan"], "age": ["new", "old"], "bridge": ["pin", "pinless"]}


@pytest.fixture(scope="module")
def lasting(tmp_path_factory: pytest.TempPathFactory) -> Checklist:
    folder = tmp_path_factory.mktemp("lists") / "small"
    folder.mkdir()
    (folder / "checklist.yaml").write_text(TEXT, encoding="utf-8")
    loaded = load(folder).checklist
    assert loaded is not None
    return loaded


@given(
    st.fixed_dictionaries({name: st.sampled_from([*v, "unknown"]) for name, v in WORLDS.items()})
)
def test_unknown_is_the_share_weighted_mean(lasting: Checklist, some: dict[str, str]) -> None:
    """Against plain enumeration of every instrument that the traits leave open."""
    if some["bridge"] == "unknown":
        some["bridge"] = "pin"  # it has no shares
    hump: Fault = lasting.faults["hump"]
    expected = {"alone": 0.0, "strength": 0.0}
    for values in product(*WORLDS.values()):
        world = dict(zip(WORLDS, values, strict=True))
        weight = 1.0
        for name, value in world.items():
            if some[name] == "unknown":
                weight *= lasting.traits[name].shares[value]
            elif some[name] != value:
                weight = 0.0
        expected["alone"] += weight * traits.alone(hump, world, lasting)
        expected["strength"] += weight * traits.strength(hump, hump.caused_by[0], world, lasting)
    assert traits.alone(hump, some, lasting) == pytest.approx(expected["alone"], abs=1e-12)
    found = traits.strength(hump, hump.caused_by[0], some, lasting)
    assert found == pytest.approx(expected["strength"], abs=1e-12)
