"""Height and groove together say what neither says alone: whether wire is left to dress."""

from __future__ import annotations

from pathlib import Path

from demos import shipped
from tailblock.inspection import store
from tailblock.pipeline import Examined, examine


def examined(height: str, groove: str) -> Examined:
    checklist = shipped("flat-top")
    text = f"""
tailblock: 1
job: "2031-014"
checklist: flat-top
instrument: {{description: An invented guitar, traits: {{strings: steel, bridge: pin}}}}
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {{strings: slack}}
    readings:
      - {{check: fret-height, value: {height}}}
      - {{check: fret-groove, value: {groove}}}
"""
    inspection = store.from_bytes(text.encode(), Path("job.yaml"), lambda _: checklist)
    return examine(checklist, inspection)


def probability(found: Examined, fault: str) -> float:
    return next(cause.probability for cause in found.causes if cause.id == fault)


def test_a_deep_groove_in_wire_of_good_height_leaves_too_little() -> None:
    """0.95 mm is a good height by itself; less 0.40 mm it is not."""
    grooved, sound = examined("0.95 mm", "0.40 mm"), examined("0.95 mm", "0 mm")
    assert grooved.heard[0].levels["fret-left"] == "worn-out"
    assert sound.heard[0].levels["fret-left"] == "normal"
    assert probability(grooved, "frets-low") > 5 * probability(sound, "frets-low")
    assert probability(grooved, "frets-grooved") > 0.8


def test_what_a_dressing_would_bring_below_its_least_speaks_for_low_frets() -> None:
    """0.95 mm less 0.25 is 0.70: under 0.75 mm before a file has touched it."""
    found = next(
        cause for cause in examined("0.95 mm", "0.25 mm").causes if cause.id == "frets-low"
    )
    assert found.probability > 2 * found.prior


def test_the_height_is_not_counted_twice() -> None:
    """What is left speaks for the height; the groove speaks for itself besides."""
    spoken = {one.check for one in examined("0.95 mm", "0.40 mm").heard[0].spoken}
    assert spoken == {"fret-left", "fret-groove"}
