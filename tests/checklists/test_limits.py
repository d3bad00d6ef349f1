"""Where six steel strings, twelve and nylon have limits of their own.

Published values come with their source; what has none is common practice or from memory, as the
checklists say themselves, and only that it differs, and which way, is held here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.knowledge.lint.profiles import plain
from tailblock.measures import parse
from tailblock.report.measured import ruler

if TYPE_CHECKING:
    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.measured import Ruler


def limits(checklist: Checklist, check: str, **traits: str) -> Ruler:
    """Return the limits of a check on a plain instrument of that checklist."""
    found = checklist.checks[check]
    assert found.measure is not None
    world = plain(checklist) | {name.replace("_", "-"): value for name, value in traits.items()}
    return ruler(found, found.measure, world, checklist)


def level(checklist: Checklist, check: str, value: str, **traits: str) -> str:
    """Return the level that a value has."""
    one = limits(checklist, check, **traits)
    return one.level(parse(value, one.measure.quantity, one.measure.unit).quantity.value)


@pytest.mark.parametrize(
    ("check", "value", "source"),
    [
        # Hill, K., Classical guitar set-up: 4 to 5 mm over the top, read in an excerpt
        ("projection-top", "4 mm", "hill-set-up"),
        ("projection-top", "5 mm", "hill-set-up"),
        # Cumpiano, Newsletter 5: 1/16 in below the front lip of the bridge, read in an excerpt
        ("projection", "-1/16 in", "cumpiano-newsletter-5"),
    ],
)
def test_what_a_builder_of_classicals_aims_at_is_normal_on_nylon_alone(
    nylon: Checklist, flat_top: Checklist, check: str, value: str, source: str
) -> None:
    assert level(nylon, check, value) == "normal"
    assert level(flat_top, check, value) != "normal"
    assert source in nylon.checks[check].sources
    assert nylon.sources[source].seen == "read"


@pytest.mark.parametrize(
    ("check", "value"),
    # an old set-up page (guitar-guide.biz), in an excerpt: 5 mm at fret 12, 1.5 mm open at fret 1
    [("action-12-bass", "5 mm"), ("nut-open-first", "1.5 mm")],
)
def test_the_old_pages_values_are_the_high_end_of_the_span(
    nylon: Checklist, check: str, value: str
) -> None:
    one = limits(nylon, check)
    assert level(nylon, check, value) in {"very-high", "high"}
    assert "classical-set-up-page" in one.check.sources


def test_the_pull_of_a_makers_medium_set_is_far_too_much_for_a_light_twelve(
    twelve: Checklist,
) -> None:
    # Guitar bridges: a primer, in an excerpt: 322 lb for a medium set on twelve strings
    assert level(twelve, "set-pull", "322 lbf", build="light") == "far-too-much"
    assert level(twelve, "set-pull", "322 lbf", build="medium") == "far-too-much"
    assert "bridge-primer-tensions" in twelve.checks["set-pull"].sources


def test_the_pull_of_a_set_follows_from_gauge_scale_and_tuning(twelve: Checklist) -> None:
    # the worked example of the figure: .010 in, 645.16 mm, two semitones lower: 879 N
    check = twelve.checks["set-pull"]
    assert check.derived == "twelve_string_tension"
    assert set(check.from_) == {"first_gauge", "scale_length", "semitones_lower"}
    assert level(twelve, "set-pull", "879 N", build="light") == "usual"


@pytest.mark.parametrize(
    ("check", "higher"),
    [
        # common practice: nylon swings wider and is set higher everywhere
        ("action-12-bass", True),
        ("action-12-treble", True),
        ("relief-bass", True),
        ("relief-treble", True),
        ("nut-gap-third", True),
        ("nut-open-first", True),
        ("nut-spacing", True),
        # thinner tops, lower bridges, less break
        ("projection", False),
        ("projection-top", False),
        ("projection-unloaded", False),
        ("string-top", False),
        ("bridge-thick", False),
        ("bridge-by-strings", False),
        ("bridge-by-aim", False),
        ("break-angle", False),
        ("top-thick", False),
    ],
)
def test_nylon_has_its_own_normal_band(
    nylon: Checklist, flat_top: Checklist, check: str, higher: bool
) -> None:
    own, steel = limits(nylon, check).normal[0], limits(flat_top, check).normal[0]
    assert own is not None
    assert steel is not None
    assert (own > steel) is higher
    assert own != steel


@pytest.mark.parametrize(
    ("check", "higher"),
    [
        # common practice: a twelve is set lower and with less relief, because it is harder to press
        ("action-12-bass", False),
        ("action-12-treble", False),
        ("relief-bass", False),
        ("nut-gap-third", False),
        ("nut-open-first", False),
        ("saddle-exposure", False),
        ("nut-spacing", False),
        # and aims a little higher, against the load
        ("projection", True),
        ("projection-top", True),
        # its rear row stands farther behind the saddle
        ("break-height", True),
        ("break-distance", True),
    ],
)
def test_a_twelve_has_its_own_normal_band(
    twelve: Checklist, flat_top: Checklist, check: str, higher: bool
) -> None:
    own = limits(twelve, check).normal[0]
    six = limits(flat_top, check, strings="steel").normal[0]
    assert own is not None
    assert six is not None
    assert (own > six) is higher
    assert own != six


@pytest.mark.parametrize("check", ["action-tone-down", "belly-change", "tilt-change"])
def test_load_moves_a_twelve_more_and_a_nylon_string_less(
    flat_top: Checklist, twelve: Checklist, nylon: Checklist, check: str
) -> None:
    first = {one.id: limits(one, check).edges.values[0] for one in (nylon, flat_top, twelve)}
    assert first["nylon-string"] < first["flat-top"] < first["twelve-string"]


def test_a_twelve_strung_with_six_is_judged_as_a_six(twelve: Checklist) -> None:
    # 2.6 mm at fret 12: ordinary on six strings, high on twelve (common practice)
    assert level(twelve, "action-12-bass", "2.6 mm", strings="steel") == "normal"
    assert level(twelve, "action-12-bass", "2.6 mm") == "high"


def test_what_counts_as_a_hard_set_depends_on_the_material(nylon: Checklist) -> None:
    # 0.70 mm: a normal nylon first, far too heavy in carbon (common gauges, from memory)
    assert level(nylon, "string-gauge", "0.70 mm", strings="nylon") == "light-set"
    assert level(nylon, "string-gauge", "0.70 mm", strings="carbon") == "heavy-set"


def test_the_sixth_of_each_kind_gives_as_statics_says(
    flat_top: Checklist, twelve: Checklist, nylon: Checklist
) -> None:
    # pulled by F in its middle a string gives F L / (4 T): 2.9 N over 648, 640, 650 mm, with the
    # pulls of an ordinary sixth (from memory); no ordinary set may be called slack
    for checklist, length, pull in ((flat_top, 648, 110), (twelve, 640, 85), (nylon, 650, 62)):
        gives = 2.9 * length / (4 * pull)
        assert level(checklist, "string-pull", f"{gives:.1f} mm") == "firm"


def test_the_break_over_a_tie_block_knows_of_the_loop(nylon: Checklist) -> None:
    # the worked example of the figure: 6 mm of saddle, hole 2 mm higher, loop 0.8 mm: 16.2 degrees
    check = nylon.checks["break-angle"]
    assert check.derived == "break_angle_tied"
    assert set(check.from_) == {"exposure", "hole_drop", "distance", "loop_lift"}
    assert level(nylon, "break-angle", "16.2 deg") == "normal"
