"""What the words of the flat-top checklist imply together, before anything is read.

Each starting chance and each cause reads well by itself; many causes of "sometimes" add up to more
than a bench would believe. So the totals are held against what a bench expects of the instruments
that come in. Nothing published counts used guitars that arrive at a shop: all figures here are
bench judgement, from memory, worked out once as a noisy-OR of whole bench tables with more weak
causes than the checklist draws. What those would add stands in a fault's `alone`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from bench import PLAIN, bench

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tailblock.knowledge.checklist import Checklist

# The same, forty years on and with traces of somebody's work.
OLD = {**PLAIN, "age": "over-40", "prior-other": "yes"}

# Fault: chance in PLAIN, chance in OLD. Bench judgement, from memory.
TOTALS = {
    "plate-worn": (0.14, 0.65),
    "tuner-worn": (0.30, 0.60),
    "finish-checked": (0.10, 0.60),
    "strings-worn": (0.60, 0.60),
    "made-dome": (0.60, 0.60),
    "shape-set-old": (0.03, 0.60),
    "neck-angle-lost": (0.25, 0.59),
    "saddle-too-low": (0.21, 0.45),
    "neck-block-rotated": (0.12, 0.38),
    "board-worn": (0.05, 0.37),
    "fret-lifted": (0.16, 0.36),
    "back-brace-loose": (0.16, 0.35),
    "brace-loose-secondary": (0.16, 0.35),
    "frets-uneven": (0.33, 0.35),
    "frets-low": (0.07, 0.34),
    "bridge-lifting": (0.19, 0.32),
    "binding-loose": (0.13, 0.32),
    "back-crack": (0.05, 0.31),
    "top-worn-through": (0.03, 0.30),
    "nut-slots-high": (0.30, 0.30),
    "bridge-ledge": (0.30, 0.30),
    "nut-slot-binding": (0.30, 0.30),
    "seasonal-movement": (0.30, 0.30),
    "pin-holes-worn": (0.03, 0.30),
    "poor-earlier-repair": (0.10, 0.30),
    "heel-line-film": (0.10, 0.30),
    "tuning-limit": (0.30, 0.30),
    "contamination-wax": (0.03, 0.30),
    "frets-grooved": (0.30, 0.30),
    "top-hump": (0.17, 0.29),
    "ball-end-unseated": (0.14, 0.28),
    "bridge-rotated": (0.18, 0.27),
    "top-sunken-soundhole": (0.16, 0.23),
    "saddle-compensation-off": (0.18, 0.21),
    "board-hump": (0.15, 0.19),
    "old-glue-foreign": (0.06, 0.18),
    "fret-ends-sharp": (0.17, 0.17),
    "neck-back-bow": (0.16, 0.17),
    "tongue-fallen": (0.09, 0.17),
    "plate-cracked": (0.05, 0.17),
    "bridge-shaved": (0.06, 0.16),
    "saddle-crown-poor": (0.11, 0.16),
    "brace-loose-main": (0.08, 0.15),
    "saddle-unseated": (0.12, 0.15),
    "bridge-split-pins": (0.05, 0.14),
    "neck-joint-loose": (0.05, 0.14),
    "bridge-warped": (0.10, 0.14),
    "neck-excess-relief": (0.14, 0.14),
    "top-crack-grain": (0.07, 0.14),
    "side-crack": (0.06, 0.13),
    "saddle-slot-loose": (0.11, 0.13),
    "finish-overspray": (0.04, 0.13),
    "board-cracked": (0.06, 0.13),
    "loose-object": (0.11, 0.12),
    "pickguard-loose": (0.11, 0.11),
    "strap-button-loose": (0.11, 0.11),
    "tuner-bushing-loose": (0.11, 0.11),
    "nut-slot-shape": (0.11, 0.11),
    "tuner-binding": (0.04, 0.11),
    "saddle-leaning": (0.09, 0.10),
    "body-resonance": (0.10, 0.10),
    "player-expectation": (0.10, 0.10),
    "nut-slots-low": (0.10, 0.10),
    "pins-poor-fit": (0.10, 0.10),
    "impact-damage": (0.10, 0.10),
    "climate-dry": (0.10, 0.10),
    "binding-decayed": (0.01, 0.10),
    "player-touch": (0.10, 0.10),
    "strings-badly-wound": (0.10, 0.10),
    "strings-settling": (0.10, 0.10),
    "rattle-outside": (0.10, 0.10),
    "string-false": (0.10, 0.10),
    "tuner-screws-loose": (0.10, 0.10),
    "dead-note": (0.10, 0.10),
    "top-crack-tongue": (0.08, 0.09),
    "top-torn": (0.06, 0.09),
    "top-crack-repair-failed": (0.05, 0.09),
    "tongue-loose": (0.05, 0.08),
    "upper-bout-shift": (0.04, 0.07),
    "neck-misaligned": (0.04, 0.07),
    "top-edge-open": (0.07, 0.07),
    "bridge-split-slot": (0.06, 0.07),
    "back-edge-open": (0.07, 0.07),
    "finish-reacted": (0.04, 0.06),
    "bridge-misplaced": (0.04, 0.06),
    "bridge-bolted": (0.04, 0.06),
    "tongue-high": (0.05, 0.06),
    "top-crack-pickguard": (0.06, 0.06),
    "lining-loose": (0.06, 0.06),
    "top-crack-bridge-line": (0.03, 0.05),
    "transverse-bar-loose": (0.05, 0.05),
    "soundhole-brace-loose": (0.05, 0.05),
    "block-back-loose": (0.03, 0.05),
    "plate-loose": (0.04, 0.05),
    "rod-overtight": (0.04, 0.05),
    "top-seam-open": (0.04, 0.05),
    "saddle-too-tall": (0.03, 0.04),
    "brace-broken": (0.04, 0.04),
    "truss-rod-maxed": (0.04, 0.04),
    "headstock-wing-loose": (0.04, 0.04),
    "cleat-loose": (0.02, 0.04),
    "headstock-crack": (0.04, 0.04),
    "nut-loose": (0.04, 0.04),
    "soundhole-edge-broken": (0.04, 0.04),
    "back-seam-open": (0.04, 0.04),
    "wrong-string-type": (0.03, 0.03),
    "top-sheared": (0.02, 0.03),
    "heel-crack": (0.02, 0.02),
    "neck-block-loose": (0.02, 0.02),
    "fingerboard-loose": (0.02, 0.02),
    "headstock-repair-failing": (0.01, 0.02),
    "headstock-broken": (0.02, 0.02),
    "scarf-joint-open": (0.01, 0.02),
    "neck-block-cracked": (0.01, 0.01),
}
WITHIN = 0.03
ROUNDING = 1e-9

# Where the checklist is right to differ from the table, and why.
PLAIN_OTHERWISE = {
    # the table's word is for any body that comes in; an X is the mark of a steel-string build
    "wrong-string-type": 0.003,
    # the table left out screwed-down bushings, under whose nuts the wood of young heads has given
    "tuner-bushing-loose": 0.20,
    # the profile says that it lives with the weather; the table did not ask, and took the middle
    "seasonal-movement": 0.60,
}
OLD_OTHERWISE = {
    "wrong-string-type": 0.003,
    "seasonal-movement": 0.60,
    # the table's word is for a solid back of a brittle wood; no trait asks for the wood of the
    # back, and about half are plies
    "back-crack": 0.21,
    # the table counted no earlier repair of cracks or nut, which are the likeliest to be mended;
    # the profile has traces of work
    "top-crack-repair-failed": 0.22,
    "cleat-loose": 0.13,
    "nut-loose": 0.10,
}


def starting_chances(checklist: Checklist, traits: Mapping[str, str]) -> dict[str, float]:
    """Return the exact chance of every fault that applies, before any reading."""
    said = bench(checklist, traits, {})
    return {
        fault: said.start(fault) for fault in said.compiled.current[0] if fault in checklist.faults
    }


@pytest.fixture(scope="module")
def plain(flat_top: Checklist) -> dict[str, float]:
    return starting_chances(flat_top, PLAIN)


@pytest.fixture(scope="module")
def old(flat_top: Checklist) -> dict[str, float]:
    return starting_chances(flat_top, OLD)


@pytest.mark.parametrize("fault", TOTALS)
def test_a_plain_instrument_starts_where_a_bench_expects(
    fault: str, plain: dict[str, float]
) -> None:
    expected = PLAIN_OTHERWISE.get(fault, TOTALS[fault][0])
    assert plain[fault] == pytest.approx(expected, abs=WITHIN + ROUNDING)


@pytest.mark.parametrize("fault", TOTALS)
def test_an_old_instrument_starts_where_a_bench_expects(fault: str, old: dict[str, float]) -> None:
    expected = OLD_OTHERWISE.get(fault, TOTALS[fault][1])
    assert old[fault] == pytest.approx(expected, abs=WITHIN + ROUNDING)


def test_what_differs_from_the_table_does_differ() -> None:
    # an exception that no longer makes a difference would hide the next one
    for column, otherwise in enumerate((PLAIN_OTHERWISE, OLD_OTHERWISE)):
        for fault, expected in otherwise.items():
            assert abs(TOTALS[fault][column] - expected) > WITHIN - 0.01, fault


# A trait that is told moves the chance to where a bench would put it. From memory, all of them.
@pytest.mark.parametrize(
    ("fault", "traits", "low", "high"),
    [
        # a straight head of one piece is no more in danger than most; a steep one is not asked for
        ("headstock-crack", {"head": "one-piece"}, 0.04, 0.09),
        ("headstock-crack", {"head": "one-piece", "fell": "yes"}, 0.10, 0.20),
        (
            "poor-earlier-repair",
            {"prior-neck": "no", "prior-head": "no", "prior-other": "no"},
            0.01,
            0.05,
        ),
        # nobody tells of everything that was done in forty years
        ("poor-earlier-repair", {"age": "over-40"}, 0.10, 0.25),
        # with a rod, age by itself does not bow a neck; without one, it does
        ("neck-excess-relief", {"age": "over-40"}, 0.10, 0.18),
        ("neck-excess-relief", {"age": "over-40", "truss": "none"}, 0.50, 0.70),
        ("bridge-lifting", {"climate-history": "hot-car"}, 0.55, 0.75),
        ("brace-loose-main", {"climate-history": "hot-car"}, 0.40, 0.60),
        ("brace-loose-main", {"bracing": "ladder", "age": "over-80"}, 0.25, 0.45),
        ("top-hump", {"bracing": "ladder"}, 0.28, 0.50),
        ("plate-worn", {"plate-wood": "softwood"}, 0.75, 0.90),
        ("climate-dry", {"climate-history": "dry-heat"}, 0.75, 0.85),
        ("climate-wet", {"climate-history": "damp"}, 0.55, 0.65),
    ],
)
def test_what_is_told_moves_a_chance_where_a_bench_would_put_it(
    fault: str, traits: dict[str, str], low: float, high: float, flat_top: Checklist
) -> None:
    assert low <= starting_chances(flat_top, {**PLAIN, **traits})[fault] <= high
