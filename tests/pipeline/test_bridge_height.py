"""Two readings that are taken anyway say together how high the bridge is, and it is said once."""

from __future__ import annotations

from math import hypot, sqrt
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from demos import shipped
from tailblock.inspection import store
from tailblock.pipeline import examine

if TYPE_CHECKING:
    from tailblock.pipeline import Examined

HEAD = """
tailblock: 1
job: "2031-014"
checklist: flat-top
instrument: {description: An invented guitar, traits: {strings: steel, bridge: pin}}
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: at-pitch}
    readings:
"""
STRINGS = {"string-top": "9.0 mm", "saddle-exposure": "3.4 mm"}  # on a bridge of 5.6 mm
AIM = {"projection-top": "6.4 mm", "projection": "0.5 mm"}  # the same, over 0.3 mm of dome
WHOLE = {"string-top": "12.4 mm", "saddle-exposure": "3.4 mm"}
THICK = {"bridge-thick": "5.6 mm, setup: {strings: slack}"}


def examined(read: dict[str, str]) -> Examined:
    checklist = shipped("flat-top")
    lines = (f"      - {{check: {check}, value: {value}}}\n" for check, value in read.items())
    text = HEAD + "".join(lines)
    return examine(
        checklist, store.from_bytes(text.encode(), Path("job.yaml"), lambda _: checklist)
    )


def probability(read: dict[str, str]) -> float:
    causes = examined(read).causes
    return next(cause.probability for cause in causes if cause.id == "bridge-shaved")


def spoken(read: dict[str, str]) -> dict[str, tuple[float | None, float | None]]:
    return {one.check: (one.value, one.u) for one in examined(read).heard[0].spoken}


def test_the_uncertainty_is_that_of_both_gauges() -> None:
    """JCGM 100, 5.1.2: variances add; of each gauge resolution^2 / 12 and repeatability^2."""
    strings, exposure = (hypot(step / sqrt(12), step) for step in (0.3, 0.2))
    assert spoken(STRINGS)["bridge-by-strings"] == pytest.approx((5.6, hypot(strings, exposure)))
    over_top = hypot(0.25 / sqrt(12), 0.3)
    over_bridge = hypot(0.25 / sqrt(12), 0.25)
    by_aim = spoken(AIM)["bridge-by-aim"]
    assert by_aim == pytest.approx((5.6, hypot(over_top, over_bridge, 0.2)))  # 0.2: the dome's


def test_a_planed_bridge_is_found_without_slackening_a_string() -> None:
    unread = probability({})
    assert probability(STRINGS) > 5 * unread
    assert probability(WHOLE) < unread
    # an aim that looks good over the bridge, with the top too close under it
    assert probability(AIM) > 3 * probability({"projection": "0.5 mm"})


@pytest.mark.parametrize(
    ("read", "speaks"),
    [
        (STRINGS, {"bridge-by-strings", "saddle-exposure"}),
        (AIM, {"bridge-by-aim", "projection-top"}),
        (STRINGS | AIM, {"bridge-by-strings", "saddle-exposure", "projection-top"}),
        (STRINGS | AIM | THICK, {"bridge-thick", "saddle-exposure", "projection-top"}),
        ({"string-top": "9.0 mm"}, {"string-top"}),
    ],
)
def test_the_height_of_the_bridge_speaks_once(read: dict[str, str], speaks: set[str]) -> None:
    """The best of three says it; the reading behind it that shows the same is silent."""
    assert set(spoken(read)) == speaks


def test_more_readings_of_one_height_do_not_add_up() -> None:
    """Whatever is read besides, it is no surer than the calliper alone with the same readings."""
    most = STRINGS | AIM | THICK
    without = {check: value for check, value in most.items() if check != "string-top"}
    assert probability(most) == pytest.approx(probability(without))
