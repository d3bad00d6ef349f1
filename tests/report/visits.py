"""Inspections of one invented guitar under the checklist of `bench.yaml`, as YAML text."""

from __future__ import annotations

from collections.abc import Callable

from tailblock.report.model import Report

Reported = Callable[..., Report]  # a maker of reports from the text of the visits

HEAD = """
tailblock: 1
job: "2031-014"
checklist: bench
instrument:
  description: Small dark guitar with a pin bridge
  traits: {bracing: x, bridge: pin}
  scale_length: 632 mm
player: {name: Ada Example, contact: "ada@example.org"}
visits:
"""

# It sat in a hot car: the bridge is coming off, and it must not be strung.
HOT_CAR = """
  - stage: arrival
    date: 2031-03-02
    by: R. Bench
    climate: {temperature: 21 C, humidity: 43 %}
    setup: {strings: at-pitch}
    note: came in a shut case, still warm
    readings:
      - {check: heat-story, value: hot, note: "Two hours in a parked car, in July."}
      - {check: at-pitch-now, value: at-pitch}
      - {check: action-12-bass, value: 9/64 in}
      - {check: saddle-exposure, value: 4 mm}
      - {check: belly-across, value: 4.5 mm, photos: [photos/a.jpg]}
      - {check: fret-look, value: round}
      - {check: pin-look, value: level}
      - {check: saddle-look, value: unknown, note: could not see it}
      - {check: bridge-light, value: slight, setup: {strings: slack}}
      - {check: bridge-feeler, value: 6 mm}
"""

# Nothing is wrong with it: new strings are settling.
SOUND = """
  - stage: arrival
    date: 2031-03-02
    setup: {strings: at-pitch}
    readings:
      - {check: heat-story, value: cool}
      - {check: at-pitch-now, value: at-pitch}
      - {check: action-12-bass, value: 2.4 mm}
      - {check: belly-across, value: 1 mm}
      - {check: fret-look, value: round}
      - {check: saddle-exposure, value: 4 mm}
      - {check: pin-look, value: level}
      - {check: new-strings, value: new}
      - {check: bridge-feeler, value: 0 mm, setup: {strings: slack}}
"""

# Nobody has looked yet.
UNREAD = """
  - {stage: arrival, date: 2031-03-02, setup: {strings: at-pitch}}
"""
