"""A checklist and the head of an inspection as YAML text, for tests that record readings.

In: nothing. Out: `BENCH`, a checklist of a few checks of every form; `HEAD`, an inspection of it up
to its visits; `TYPED`, the characters of a text; `Read`, the type of the fixture that reads one.
"""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st

from tailblock.inspection.record import Inspection

# A checklist of a few checks of every form: what the tests of this folder inspect with.
BENCH = """\
tailblock: 1
id: bench
title: A few checks of every form
version: 1.0.0
parts: [{id: bridge, name: Bridge}, {id: neck, name: Neck}]
traits:
  - {id: bridge, ask: Which bridge?, values: [pin, pinless, floating]}
  - id: strings
    ask: Which strings?
    values: [steel, nylon, unknown]
    shares: {steel: 0.75, nylon: 0.25}
setups:
  states: {strings: ["off", slack, at-pitch], bridge: ["on", "off"]}
stages:
  - {id: arrival, budget: 12 min}
  - {id: opened, budget: 45 min}
  - {id: settled, budget: 20 min}
faults:
  - {id: bridge-lifting, part: bridge, name: Lifting, plain: It lifts., alone: seldom,
     harm: serious, pace: months, under_tension: danger, applies_when: {bridge: [pin, pinless]}}
  - {id: top-hump, part: bridge, name: Hump, plain: It rises., alone: rarely, harm: serious,
     pace: years, under_tension: watch}
  - {id: neck-angle-lost, part: neck, name: Angle lost, plain: It leans., alone: seldom,
     harm: playability, pace: years, under_tension: watch}
symptoms:
  - {id: soft, part: bridge, name: Gives, alone: rarely,
     caused_by: [{fault: top-hump, strength: often}]}
checks:
  - id: tap
    part: bridge
    title: Tap the top
    ask: Does it buzz?
    how: Tap.
    minutes: 1
    choices:
      - {level: none, text: No}
      - {level: slight, text: A bit}
      - {level: slight-and-dull, text: Dull}
    shows: [{fault: bridge-lifting, at_least: {slight: often}}]
  - id: pins
    part: bridge
    title: Look at the pins
    ask: Do they stand straight?
    how: Look.
    minutes: 1
    applies_when: {bridge: pin}
    choices: [{level: straight, text: Yes}, {level: leaning, text: No}]
    shows: [{fault: bridge-lifting, at_least: {leaning: often}}]
  - id: feeler
    part: bridge
    title: Feel for an open seam
    ask: How far does it go in?
    how: Slide it.
    minutes: 2
    setup: {strings: [slack, "off"]}
    measure:
      quantity: length
      unit: mm
      possible: {from: 0 mm, to: 30 mm}
      gauge: {resolution: 0.5 mm, repeatability: 0.4 mm}
      levels: [{level: shut, up_to: 0.5 mm}, {level: slight, up_to: 3 mm}, {level: open}]
    shows: [{fault: bridge-lifting, at_least: {slight: often}}]
  - id: action
    part: neck
    title: Measure the action
    ask: How high?
    how: Measure.
    minutes: 1
    measure: &action
      quantity: length
      unit: mm
      possible: {from: 0.5 mm, to: 12 mm}
      gauge: {resolution: 0.1 mm, repeatability: 0.05 mm}
      normal: {from: 2.0 mm, to: 2.8 mm}
      levels_low: [{level: low, down_to: 1.5 mm}, {level: very-low}]
      levels_high: [{level: high, up_to: 3.6 mm}, {level: very-high}]
      limits_when:
        - when: {strings: nylon}
          normal: {from: 2.8 mm, to: 4.0 mm}
          levels_low: [{level: low, down_to: 2.2 mm}, {level: very-low}]
          levels_high: [{level: high, up_to: 4.8 mm}, {level: very-high}]
    shows: [{fault: neck-angle-lost, at_least_high: {high: often}}]
  - {id: action-guessed, part: neck, title: Guess the action, ask: How high?, how: Look.,
     minutes: 1, measure: *action, shows: [{fault: neck-angle-lost, at_least_high: {high: often}}]}
  - id: tilt
    part: bridge
    title: Measure the tilt
    ask: Which angle?
    how: Measure.
    minutes: 1
    measure: &tilt
      quantity: angle
      unit: deg
      possible: {from: -20 deg, to: 20 deg}
      gauge: {resolution: 0.1 deg, repeatability: 0.2 deg}
      levels: [{level: upright, up_to: 2 deg}, {level: leaning, up_to: 4 deg}, {level: tipped}]
    shows: [{symptom: soft, at_least: {leaning: often}}]
  - id: tilt-change
    part: bridge
    title: Tilt between slack and pitch
    ask: How far does it move?
    minutes: 1
    derived: tilt_change
    from:
      pitch: {check: tilt, setup: {strings: at-pitch}}
      slack: {check: tilt, setup: {strings: slack}}
    measure: *tilt
    shows: [{symptom: soft, at_least: {leaning: often}}]
  - id: settling
    part: bridge
    title: Has it come to rest?
    ask: How long has it been in the room?
    how: Ask.
    minutes: 1
    choices:
      - {level: rested, text: For a day}
      - {level: an-hour, text: For an hour}
      - {level: just-in, text: Just in}
    gate:
      - {from: an-hour, of: [action, pins], then: {widen: 0.3 mm}, why: wood drifts for an hour}
      - {from: an-hour, of: [tilt-change], then: {widen: 1 deg}, why: wood drifts for an hour}
      - {from: just-in, of: [action, pins], then: no-evidence, why: wood and strings drift}
      - {from: just-in, of: [tilt-change], then: no-evidence}
  - id: room
    part: bridge
    title: Humidity of the room
    ask: Which humidity?
    how: Read it.
    minutes: 1
    measure:
      quantity: percent
      unit: "%"
      possible: {from: 0 %, to: 100 %}
      gauge: {resolution: 1 %, repeatability: 2 %}
      normal: {from: 40 %, to: 55 %}
      levels_low: [{level: dry, down_to: 30 %}, {level: parched}]
      levels_high: [{level: damp, up_to: 65 %}, {level: wet}]
    gate: {from: [parched, wet], of: [length], then: {widen_bands: 0.5}}
  - id: aim
    part: neck
    title: Aim of the neck at ordinary relief
    ask: Where does it point?
    minutes: 1
    derived: aim_at_normal_relief
    from: {projection: {check: projection}, relief: {check: relief, also_speaks: true}}
    measure: &aim
      quantity: length
      unit: mm
      possible: {from: -8 mm, to: 8 mm}
      gauge: {resolution: 0.5 mm, repeatability: 0.2 mm}
      normal: {from: -0.8 mm, to: 0.8 mm}
      levels_low: [{level: low, down_to: -2 mm}, {level: very-low}]
      levels_high: [{level: high}]
    shows: [{fault: neck-angle-lost, at_least_low: {low: usually}}]
  - {id: projection, part: neck, title: Aim of the neck, ask: Where to?, how: Lay it on.,
     minutes: 1, measure: *aim, shows: [{fault: neck-angle-lost, at_least_low: {low: usually}}]}
  - id: relief
    part: neck
    title: Measure the relief
    ask: How deep?
    how: Press.
    minutes: 1
    measure:
      quantity: length
      unit: mm
      possible: {from: -1 mm, to: 2 mm}
      gauge: {resolution: 0.05 mm, repeatability: 0.03 mm}
      levels: [{level: ordinary, up_to: 0.3 mm}, {level: deep}]
    shows: [{fault: neck-angle-lost, at_least: {deep: seldom}}]
  - id: reset-angle
    part: neck
    title: Angle that the neck has lost
    ask: How far must it go back?
    minutes: 1
    stages: [settled]
    derived: neck_reset_angle
    from: {rise: {check: aim}, scale_length: {given: scale_length}}
    measure:
      quantity: angle
      unit: deg
      possible: {from: -3 deg, to: 3 deg}
      gauge: {resolution: 0.1 deg, repeatability: 0.1 deg}
      normal: {from: -0.1 deg, to: 0.1 deg}
      levels_low: [{level: back}]
      levels_high: [{level: forward}]
    shows: [{fault: neck-angle-lost, at_least_low: {back: usually}}]
  - {id: season-action, part: neck, title: Action at ordinary humidity, ask: How high?, minutes: 1,
     stages: [settled], derived: season_action, measure: *action,
     from: {action: {check: action}, humidity: {check: room}},
     shows: [{fault: top-hump, at_least_high: {high: often}}]}
families: [{id: action-family, checks: [action, action-guessed]}]
remedies:
  - {id: bridge-reglue, part: bridge, name: Reglue, plain: Glue it., reversible: true,
     fixes: [{fault: bridge-lifting, how_well: usually}], hours: {low: 2, likely: 3, high: 6}}
"""

HEAD = """\
tailblock: 1
job: "0012"
checklist: bench
instrument: {description: a guitar, traits: {bridge: pin, strings: steel}, scale_length: 25.5 in}
visits:
"""

# Every character that may stand in a text file.
TYPED = st.characters(
    exclude_categories=["Cs", "Cc"],
    exclude_characters="\ufffe\uffff",
    include_characters="\t\n\r\x85",
)

Read = Callable[..., Inspection]
