"""Ways between setups: shortest in minutes, never through repair work, never above a ceiling."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from tailblock.advice.setups import SetupMap
from tailblock.knowledge.checklist import Checklist

Read = Callable[[str], Checklist]

BENCH = """
parts: [{id: bridge, name: Bridge}]
setups:
  states:
    strings: ["off", slack, tone-down, at-pitch]
    bridge: ["on", "off"]
  moves:
    - {from: {strings: at-pitch}, to: {strings: slack}, minutes: 3}
    - {from: {strings: at-pitch}, to: {strings: tone-down}, minutes: 1}
    - {from: {strings: slack}, to: {strings: "off"}, minutes: 4}
    - {from: {strings: at-pitch}, to: {strings: "off"}, minutes: 9}
    - {from: {strings: "off"}, to: {strings: slack}, minutes: 8}
    - {from: {strings: slack}, to: {strings: tone-down}, minutes: 5}
    - {from: {strings: tone-down}, to: {strings: at-pitch}, minutes: 2}
    - {from: {strings: "off", bridge: "on"}, to: {bridge: "off"}, minutes: 65, work: true}
    - {from: {strings: slack}, to: {strings: slack}, minutes: 1}  # goes nowhere
"""


@pytest.fixture
def ways(read_checklist: Read) -> SetupMap:
    return SetupMap(read_checklist(BENCH).setups)


def at(strings: str, bridge: str = "on") -> Mapping[str, str]:
    return {"strings": strings, "bridge": bridge}


@pytest.mark.parametrize(
    ("start", "wanted", "minutes", "end"),
    [
        ("at-pitch", {}, 0, "at-pitch"),  # anywhere will do
        ("at-pitch", {"strings": ("slack", "off")}, 3, "slack"),  # the nearer of two
        ("at-pitch", {"strings": ("off",)}, 7, "off"),  # over slack, not straight for 9
        ("off", {"strings": ("at-pitch",)}, 15, "at-pitch"),  # 8 + 5 + 2
        ("slack", {"strings": ("slack",)}, 0, "slack"),
    ],
)
def test_the_way_is_the_shortest(
    ways: SetupMap, start: str, wanted: dict[str, tuple[str, ...]], minutes: float, end: str
) -> None:
    route = ways.route(at(start), wanted)
    assert route is not None
    assert (route.minutes, route.end) == (minutes, at(end))


def test_repair_work_is_no_way(ways: SetupMap) -> None:
    assert ways.route(at("off"), {"bridge": ("off",)}) is None
    assert ways.route(at("off", "off"), {"bridge": ("off",)}) is not None


def test_an_unknown_state_leads_nowhere(ways: SetupMap) -> None:
    assert ways.route(at("missing"), {}) is None


@pytest.mark.parametrize(
    ("start", "wanted", "reachable"),
    [
        ("slack", "at-pitch", False),
        ("slack", "tone-down", False),
        ("slack", "off", True),
        ("off", "slack", False),
        ("at-pitch", "at-pitch", True),
        ("at-pitch", "slack", True),
    ],
)
def test_a_ceiling_shuts_off_more_tension_than_now(
    ways: SetupMap, start: str, wanted: str, reachable: bool
) -> None:
    calm = ways.route(at(start), {"strings": (wanted,)}, ways.tension(at(start)))
    assert (calm is not None) is reachable


def test_a_ceiling_also_shuts_off_ways_that_only_pass_through(read_checklist: Read) -> None:
    # from slack to off there is no straight move here: one would have to go through pitch
    ways = SetupMap(
        read_checklist("""
parts: [{id: bridge, name: Bridge}]
setups:
  moves:
    - {from: {strings: slack}, to: {strings: at-pitch}, minutes: 1}
    - {from: {strings: at-pitch}, to: {strings: "off"}, minutes: 1}
""").setups
    )
    start = {"strings": "slack"}
    assert ways.route(start, {"strings": ("off",)}) is not None
    assert ways.route(start, {"strings": ("off",)}, ways.tension(start)) is None


@pytest.mark.parametrize(
    ("strings", "above"),
    [
        ("at-pitch", []),
        ("tone-down", ["at-pitch"]),
        ("off", ["slack", "tone-down", "at-pitch"]),
    ],
)
def test_states_above_the_present_one(ways: SetupMap, strings: str, above: list[str]) -> None:
    assert [state["strings"] for state in ways.above(at(strings))] == above
    assert ways.at_pitch(at(strings)) is (strings == "at-pitch")


def test_of_two_moves_between_the_same_states_the_shorter_counts(read_checklist: Read) -> None:
    ways = SetupMap(
        read_checklist("""
parts: [{id: bridge, name: Bridge}]
setups:
  moves:
    - {from: {strings: "off"}, to: {strings: slack}, minutes: 12}
    - {from: {strings: "off"}, to: {strings: slack}, minutes: 8}
    - {from: {strings: "off"}, to: {strings: slack}, minutes: 10}
""").setups
    )
    route = ways.route({"strings": "off"}, {"strings": ("slack",)})
    assert route is not None
    assert route.minutes == 8


@pytest.mark.parametrize(
    ("states", "end", "minutes"),
    [
        ("[slack, at-pitch]", "slack", 3),
        ('["off", at-pitch]', "off", None),  # the usual ways lead over slack
        ('["off", slack, at-pitch]', "off", 7),
        ('["off", slack, tone-down, at-pitch]', "tone-down", None),
    ],
)
def test_the_usual_moves_are_those_between_the_states_that_there_are(
    read_checklist: Read, states: str, end: str, minutes: float | None
) -> None:
    setups = read_checklist(
        f"parts: [{{id: top, name: Top}}]\nsetups: {{states: {{strings: {states}}}}}\n"
    ).setups
    route = SetupMap(setups).route({"strings": "at-pitch"}, {"strings": (end,)})
    assert (route.minutes if route else None) == minutes


def test_a_checklist_whose_setups_are_no_strings_has_no_usual_moves(read_checklist: Read) -> None:
    setups = read_checklist(
        "parts: [{id: top, name: Top}]\n"
        "setups: {states: {tail: [loose, tight]}, tension: tail, pitch: tight}\n"
    ).setups
    assert SetupMap(setups).route({"tail": "tight"}, {"tail": ("loose",)}) is None
