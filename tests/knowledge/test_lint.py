"""Rules of lint where one example is not enough: every link, every condition, every quantity."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.knowledge import lint
from tailblock.knowledge.checklist import Checklist
from tailblock.knowledge.lint import RULES, cycles, hidden_width, units, walk
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from tailblock.knowledge.yamlmarks import Place

Read = Callable[..., Checklist]
EVERY_FORM = (Path(__file__).parents[1] / "examples" / "good" / "every-form.yaml").read_text(
    "utf-8"
)


def _every_form(folder: Path, text: str = EVERY_FORM) -> Checklist:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "checklist.yaml").write_text(text, encoding="utf-8")
    loaded = load(folder)
    assert loaded.checklist is not None, "\n".join(map(str, loaded.problems))
    return loaded.checklist


def replaced(text: str, place: Place, new: str) -> str:
    """Return the text with the word (of letters, digits, hyphens) at a place replaced."""
    lines = text.splitlines(keepends=True)
    line = lines[place.line - 1]
    end = place.column - 1
    while end < len(line) and (line[end].isalnum() or line[end] == "-"):
        end += 1
    lines[place.line - 1] = line[: place.column - 1] + new + line[end:]
    return "".join(lines)


def test_every_dangling_id_is_found_where_it_stands(tmp_path: Path) -> None:
    """Each id that any entry names, replaced by one that is nowhere."""
    whole = _every_form(tmp_path / "every-form")
    links = list(walk.links(whole))
    assert {kind for link in links for kind in link.wanted} == {
        "part", "stage", "fault", "symptom", "check", "remedy", "caution", "source", "quantity",
    }  # fmt: skip
    for link in links:
        place = whole.places.within(link.spot.kind, link.spot.entry, *link.spot.path)
        broken = _every_form(tmp_path / "every-form", replaced(EVERY_FORM, place, "nowhere"))
        [found] = RULES["references"](broken)
        assert (found.line, found.column) == (place.line, place.column), found
        assert found.message == f"there is no {' or '.join(link.wanted)} `nowhere`"


def test_every_condition_is_judged(tmp_path: Path) -> None:
    """Each trait, and each value, of each condition, replaced by one that is nowhere."""
    whole = _every_form(tmp_path / "every-form")
    conditions = [(spot, condition) for spot, condition in walk.conditions(whole) if condition]
    assert len(conditions) >= 6
    for spot, condition in conditions:
        for trait, values in condition.items():
            for i, value in enumerate(values):
                place = whole.places.within(spot.kind, spot.entry, *spot.path, trait, i)
                text = replaced(EVERY_FORM, place, "nothing")
                [found] = RULES["conditions"](_every_form(tmp_path / "every-form", text))
                assert (found.line, found.column) == (place.line, place.column)
                assert found.message == f"`nothing` is no value of the trait `{trait}`", value


def test_every_setup_is_judged(tmp_path: Path) -> None:
    whole = _every_form(tmp_path / "every-form")
    setups = [(spot, setup) for spot, setup in walk.setups(whole) if setup]
    assert {spot.kind for spot, _ in setups} == {"check", "remedy", "checklist"}
    for spot, setup in setups:
        for dimension, states in setup.items():
            for i, _ in enumerate(states):
                place = whole.places.within(spot.kind, spot.entry, *spot.path, dimension, i)
                text = replaced(EVERY_FORM, place, "nothing")
                [found] = RULES["setups"](_every_form(tmp_path / "every-form", text))
                assert (found.line, found.column) == (place.line, place.column)
                assert found.message == f"`nothing` is no state of `{dimension}`"


def test_every_quantity_of_a_measurement_is_read(tmp_path: Path) -> None:
    whole = _every_form(tmp_path / "every-form")
    seen = 0
    for check in whole.checks.values():
        if check.measure is None:
            continue
        for spot, written, _ in units._texts(
            check.measure, walk.Spot("check", check.id, ("measure",))
        ):
            if written is None:
                continue
            place = whole.places.within(spot.kind, spot.entry, *spot.path)
            lines = EVERY_FORM.splitlines(keepends=True)
            line = lines[place.line - 1]
            assert line[place.column - 1 :].startswith(written)
            lines[place.line - 1] = (
                line[: place.column - 1] + "4 deg" + line[place.column - 1 + len(written) :]
            )
            [found] = RULES["units"](_every_form(tmp_path / "every-form", "".join(lines)))
            assert (found.line, found.column) == (place.line, place.column)
            seen += 1
    assert seen == 29  # counted by hand: 6 + 12 + 6 + 5


@pytest.mark.parametrize(
    ("was", "becomes", "message"),
    [
        ("budget: 12 min", "budget: 12 mm", ("'12 mm' is a length; a time is wanted, "
         "such as 12 min or 6 months")),
        ("after: 2 weeks", "after: 2", ("'2' has no unit; a time is wanted, "
         "such as 12 min or 6 months")),
        ("danger: 0.08", "fresh_after: soon",
         "'soon' is not a time; write it like 12 min or 6 months"),
        ("danger: 0.08", "onset_over: {weeks: 3 kg}", ("'3 kg' is a mass; a time is wanted, "
         "such as 12 min or 6 months")),
        ("then: no-evidence", "then: {widen: 2 deg}", ("'2 deg' is an angle; a length is wanted, "
         "such as 0.3 mm or 5/64 in")),
    ],
)  # fmt: skip
def test_other_quantities_are_read(tmp_path: Path, was: str, becomes: str, message: str) -> None:
    read = _every_form(tmp_path / "every-form", EVERY_FORM.replace(was, becomes, 1))
    assert {problem.message for problem in RULES["units"](read)} == {message}


def test_what_is_not_measured_cannot_be_widened(tmp_path: Path) -> None:
    text = EVERY_FORM.replace("of: [action, angle]", "of: [bridge-edge]")
    read = _every_form(tmp_path / "every-form", text.replace("no-evidence", "{widen_bands: 0.5}"))
    assert [problem.message for problem in RULES["units"](read)] == [
        "`bridge-edge` is not measured: its uncertainty cannot be widened"
    ]


@pytest.mark.parametrize(
    ("rule", "was", "becomes", "message"),
    [
        ("traits", "values: [pin, pinless]", "values: [pin, pinless, pin]",
         "`pin` is listed twice"),
        ("traits", "default: pin}", "default: tie}", "`tie` is not one of its values"),
        ("traits", "{x: two bars that cross,", "{xx: two bars that cross,",
         "`xx` has a text and is not one of its values"),
        ("traits", "{x: 0.88, ladder: 0.12}", "{x: 0.88, laddr: 0.12}",
         "`laddr` has a share and is not one of its values"),
        ("traits", "{x: 0.88, ladder: 0.12}", "{x: 0.88, unknown: 0.12}",
         "`unknown` has a share and is not one of its values"),
        ("traits", "{x: 0.88, ladder: 0.12}", "{x: 1.2, ladder: -0.2}", "a share is not negative"),
        ("traits", "values: [x, ladder, unknown]", "values: [x, ladder]",
         "it has shares and cannot be unknown"),
        ("setups", "limits:", "  tension: string\nlimits:",
         "`tension: string` is none of the dimensions"),
        ("setups", "limits:", "  pitch: tuned\nlimits:", "`pitch: tuned` is no state of `strings`"),
        ("setups", "setup: {strings: [slack, off]}", "setup: {string: slack}",
         "the setup has no dimension `string`"),
        ("levels", "{level: very-low}]\n      levels_high: [{level: high, up_to: 3.2",
         "{level: high}]\n      levels_high: [{level: high, up_to: 3.2",
         "the level `high` is there twice"),
        ("levels", "[{level: \"no\", text: No}, {level: \"yes\", text: Yes}]",
         "[{level: \"yes\", text: Yes}]", "a check has at least two levels"),
        ("levels", "{level: low, down_to: 1.5 mm}", "{level: normal, down_to: 1.5 mm}",
         "the level `normal` is the middle one"),
        ("levels", "levels_high: [{level: high, up_to: 1/8 in}, {level: very-high}]",
         "levels_high: [{level: high}]",
         "these limits must have the levels very-low, low, normal, high, very-high, in this order"),
        ("levels", "at_least_high: {high: often", "at_least: {high: often",
         "this check has two sides"),
        ("levels", "otherwise: {slight: rarely, open: very-rarely}",
         "otherwise: {slight: rarely, open: seldom}",
         "at least `open` cannot be more likely than at least `slight`"),
        ("levels", "otherwise: {slight: rarely", "otherwise: {none: rarely",
         "`none` is no level that can stand here"),
        ("levels", "from: low\n", "from: slack\n", "`slack` is no level that can stand here"),
        ("levels", "from: low\n", "from: \"yes\"\n", "`yes` is no level that can stand here"),
        ("levels", "from: slight}", "from: wide}", "`wide` is no level that can stand here"),
        ("limits", "normal: {from: -0.3 mm}", "normal: {to: 1 mm}",
         "the level `normal` has no limit: give it `from: ...`"),
        ("limits", "possible: {from: 0 mm, to: 15 mm}", "possible: {from: 2 mm, to: 15 mm}",
         "1.5 is outside what is possible, 2 to 15"),
        ("limits", "{level: very-high}]\n      limits",
         "{level: very-high, up_to: 9 mm}]\n      limits", "the last level is open"),
        ("limits", "normal: {from: 1.9 mm, to: 2.7 mm}", "normal: {from: 2.9 mm, to: 2.7 mm}",
         "the limits do not ascend: 2.7 comes after 2.9"),
        ("derived", "slack: {check: angle,", "slak: {check: angle,",
         "`projection_change` does not take `slak`"),
        ("derived", "slack: {check: angle,", "slack: {check: at-pitch,",
         "`slack` is length, and this is not measured"),
        ("derived", "derived: projection_change", "derived: tilt_change",
         "`tilt_change` gives angle, not length"),
        # the scale is a length, too
        ("derived", "{check: angle, setup: {strings: slack}}", "{given: scale_length}", None),
        ("derived", "derived: projection_change", "derived: projection",
         "there is no figure `projection`"),
        ("idle-checks", "    shows: [{fault: neck-angle-lost, at_least: {much: sometimes}}]\n", "",
         "it shows nothing: it is printed as a cross-check only"),
        ("cautions", "cautions: [solvents]", "cautions: [hot]",
         "it involves solvent and has no caution of that hazard"),
        ("stages", "opening: [at-pitch", "opening: [angle-change",
         "`angle-change` is derived and never asked by itself"),
        ("cautions", "with a heat lamp", "in a heating season", None),
        ("stages", "opening: [at-pitch", "on_each_step: [feeler]\n    opening: [at-pitch",
         "`feeler` cannot be read with strings at-pitch"),
        ("cycles", "    needs: {remedies: [reset], setup: {strings: off}}",
         "    needs: {remedies: [bridge-reglue], setup: {strings: off}}",
         "a ring of work: bridge-reglue comes before bridge-reglue"),
        ("stages", "budget: 12 min", "budget: soon", None),  # the rule `units` says so
        ("stages", "budget: 12 min", "budget: 1 min", "the opening takes 2 min of a budget of 1"),
        ("few-checks", "hard_to_reach: Only a straightedge tells.\n", "left_alone: Nothing.\n",
         "only one check shows it"),
        ("few-checks", "setup: {strings: [slack, off]}\n    applies_when",
         "setup: {bridge: off}\n    applies_when", None),
    ],
)  # fmt: skip
def test_what_else_a_rule_finds(
    tmp_path: Path, rule: str, was: str, becomes: str, message: str | None
) -> None:
    assert was in EVERY_FORM
    read = _every_form(tmp_path / "every-form", EVERY_FORM.replace(was, becomes, 1))
    found = {problem.message for problem in RULES[rule](read)}
    assert (message in found) if message else not found


def test_a_fault_that_only_shows_when_opened(tmp_path: Path) -> None:
    text = EVERY_FORM.replace("    stages: [arrival]\n    setup: {strings: [slack, off]}",
                              "    setup: {bridge: off}")  # fmt: skip
    text = text.replace("{symptom: edge-gap, at_least: {slight: usually, open: often}}",
                        "{fault: heat-exposure, at_least: {open: rarely}}")  # fmt: skip
    read = _every_form(tmp_path / "every-form", text)
    assert ("bridge-lifting", "every check that shows it needs something taken apart") in {
        (problem.entry, problem.message) for problem in RULES["few-checks"](read)
    }


FAULT = """\
  - {{id: {0}, part: p, name: N, plain: P, alone: {1}, harm: serious, pace: years,
     under_tension: {2}, caused_by: [{3}]{4}}}
"""
HEAD = "tailblock: 1\nid: small\ntitle: S\nversion: 1\nparts: [{id: p, name: P}]\n"


def faults(causes: dict[str, list[str]], strength: str = "often") -> str:
    """Return a checklist of faults with their causes."""
    rows = [
        FAULT.format(
            name, "seldom", "fine",
            ", ".join(f"{{fault: {cause}, strength: {strength}}}" for cause in listed), "",
        )
        for name, listed in causes.items()
    ]  # fmt: skip
    return HEAD + "faults:\n" + "".join(rows)


def test_two_rings_are_both_found(checklist: Read) -> None:
    read = checklist(faults({"a": ["b"], "b": ["a"], "c": ["d"], "d": ["e"], "e": ["c"]}))
    found = list(RULES["cycles"](read))
    assert len(found) == 2
    assert sorted(sorted(set(p.message.split(": ")[1].split(" brings about "))) for p in found) == [
        ["a", "b"], ["c", "d", "e"],
    ]  # fmt: skip


@given(st.dictionaries(st.sampled_from("abcdef"), st.lists(st.sampled_from("abcdef"), max_size=3)))
def test_rings_are_found_exactly_where_networkx_sees_them(causes: dict[str, list[str]]) -> None:
    graph = nx.DiGraph([(cause, effect) for effect, listed in causes.items() for cause in listed])
    ring = cycles._ring({effect: list(listed) for effect, listed in causes.items()})
    assert bool(ring) == (not nx.is_directed_acyclic_graph(graph))
    assert all(graph.has_edge(one, other) for one, other in itertools.pairwise(ring))


def test_the_hidden_width_of_a_known_graph(checklist: Read) -> None:
    """One effect of n causes: its moral graph is complete on n + 1 nodes, of width n."""
    for count in (12, 13):
        roots = [f"f{i}" for i in range(count)]
        read = checklist(faults({**{root: [] for root in roots}, "wreck": roots}))
        found = [problem.message for problem in RULES["hidden-width"](read)]
        assert found == ([f"the hidden graph has width {count}"] if count > 12 else [])


@given(st.sets(st.tuples(st.integers(0, 6), st.integers(0, 6)).filter(lambda e: e[0] < e[1])))
def test_the_width_is_never_below_the_degeneracy(edges: set[tuple[int, int]]) -> None:
    """Degeneracy (the largest k-core) is a lower bound of treewidth; n - 1 is an upper one."""
    named = frozenset((f"n{a}", f"n{b}") for a, b in edges)
    if named:
        graph = nx.Graph(named)
        width = hidden_width._width(named)
        assert max(nx.core_number(graph).values()) <= width <= len(graph) - 1


WIDE = """\
traits:
  - {{id: bridge, ask: A, values: [pin, floating{unknown}]{shares}}}
faults:
{faults}checks:
  - {{id: look, part: p, title: L, ask: A, how: H, minutes: 1,
     choices: [{{level: "no", text: N}}, {{level: "yes", text: Y}}], shows: [{shows}]}}
"""


@pytest.mark.parametrize(
    ("unknown", "shares", "wide"),
    [
        # twelve links, of which six go with each bridge: six at a time
        ("", "", False),
        # nobody knows the bridge: all twelve stand in one network
        (", unknown", ", shares: {pin: 0.5, floating: 0.5}", True),
    ],
)
def test_width_is_counted_after_traits(
    checklist: Read, unknown: str, shares: str, wide: bool
) -> None:
    names = [f"f{i}" for i in range(12)]
    bridges = ["pin" if i % 2 else "floating" for i in range(12)]
    entries = "".join(
        FAULT.format(name, "seldom", "fine", "", f", applies_when: {{bridge: {bridge}}}")
        for name, bridge in zip(names, bridges, strict=True)
    )
    shows = ", ".join(f'{{fault: {name}, at_least: {{"yes": often}}}}' for name in names)
    text = HEAD + WIDE.format(unknown=unknown, shares=shares, faults=entries, shows=shows)
    found = [problem.message for problem in RULES["width"](checklist(text))]
    assert found == (["12 linked nodes on one side, 12 in all"] if wide else [])


def test_a_check_that_never_applies_is_not_wide(checklist: Read) -> None:
    names = [f"f{i}" for i in range(9)]
    entries = "".join(FAULT.format(name, "seldom", "fine", "", "") for name in names)
    shows = ", ".join(f'{{fault: {name}, at_least: {{"yes": often}}}}' for name in [*names, "x"])
    text = HEAD + WIDE.format(unknown="", shares="", faults=entries, shows=shows)
    [found] = RULES["width"](checklist(text))  # the dangling one is not counted
    assert found.message == "9 linked nodes on one side, 9 in all"
    never = text.replace("how: H,", "how: H, applies_when: {bridge: tie},")
    assert list(RULES["width"](checklist(never))) == []


CLEARING = """\
symptoms:
  - {{id: gap, part: p, name: G, alone: rarely, caused_by: [{{fault: lift, strength: {strength}}}]}}
checks:
  - {{id: look, part: p, title: L, ask: A, how: H, minutes: 1{more},
     choices: [{{level: "no", text: N}}, {{level: "yes", text: Y}}],
     shows: [{{{target}, at_least: {{"yes": usually}}}}]}}
"""


@pytest.mark.parametrize(
    ("start", "strength", "more", "target", "left"),
    [
        # A symptom of strength s leaves the starting odds x (1 - s): odds 1 become 0.4, 0.05, 0.02.
        ("0.5", "often", "", "symptom: gap", "from 0.50 to 0.29"),
        ("0.5", "almost-always", "", "symptom: gap", None),
        ("0.5", "0.98", "", "symptom: gap", None),
        # 0.69 at almost-always is the most that comes below 0.10: odds 2.226 x 0.05 = 0.1113
        ("0.69", "almost-always", "", "symptom: gap", "from 0.69 to 0.10"),
        ("0.68", "almost-always", "", "symptom: gap", None),
        # a direct link leaves (1 - 0.8): odds 1 become 0.2
        ("0.5", "often", "", "fault: lift", "from 0.50 to 0.17"),
        # what is not harmless clears nothing
        ("0.5", "0.98", ", risk: heat", "symptom: gap", "from 0.50 to 0.50"),
        ("0.5", "0.98", ", loads: true", "symptom: gap", "from 0.50 to 0.50"),
        ("0.5", "0.98", ", setup: {strings: at-pitch}", "symptom: gap", "from 0.50 to 0.50"),
        ("0.5", "0.98", ", setup: {strings: [slack, at-pitch]}", "symptom: gap", None),
        ("seldom", "often", ", loads: true", "symptom: gap", None),  # already at the limit
    ],
)
def test_what_looking_can_clear(
    checklist: Read, *, start: str, strength: str, more: str, target: str, left: str | None
) -> None:
    text = HEAD + "faults:\n" + FAULT.format("lift", start, "danger", "", "")
    text += CLEARING.format(strength=strength, more=more, target=target)
    found = [problem.message for problem in RULES["clearing"](checklist(text))]
    assert found == ([f"looking takes it {left} at best, not below 0.1"] if left else [])


def test_causes_raise_the_start(checklist: Read) -> None:
    """1 - (1 - 0.1)(1 - 0.6 x 0.8) = 0.532; odds 1.137 x 0.4 = 0.455, or 0.31."""
    text = HEAD + "faults:\n" + FAULT.format("hot", "0.6", "fine", "", "")
    text += FAULT.format("lift", "0.1", "danger", "{fault: hot, strength: usually}", "")
    text += CLEARING.format(strength="often", more="", target="symptom: gap")
    assert [problem.message for problem in RULES["clearing"](checklist(text))] == [
        "looking takes it from 0.53 to 0.31 at best, not below 0.1"
    ]


def test_a_family_clears_once(checklist: Read) -> None:
    """Two direct links of 0.8: apart they leave odds x 0.04, in one family x 0.2."""
    text = HEAD + "faults:\n" + FAULT.format("lift", "0.5", "danger", "", "")
    look = CLEARING.format(strength="often", more="", target="fault: lift")
    both = text + look + look[look.index("  - {id: look") :].replace("id: look", "id: feel")
    assert list(RULES["clearing"](checklist(both))) == []
    read = checklist(both + "families: [{id: one, checks: [look, feel]}]\n")
    assert len(list(RULES["clearing"](read))) == 1


def test_inputs_that_are_not_there_are_left_to_another_rule(tmp_path: Path) -> None:
    text = EVERY_FORM.replace("slack: {check: angle,", "slack: {check: angel,")
    read = _every_form(tmp_path / "every-form", text)
    assert list(RULES["derived"](read)) == []
    assert len(list(RULES["references"](read))) == 1


def test_lint_gathers_and_orders(tmp_path: Path) -> None:
    text = EVERY_FORM.replace("part: neck", "part: nake").replace(
        "sources: [bench, book]", "sources: []"
    )
    found = lint.lint(_every_form(tmp_path / "every-form", text))
    assert list(found) == sorted(found)
    assert {problem.rule for problem in found} >= {"references", "sources", "unused"}
    assert {p.rule for p in lint.lint(_every_form(tmp_path / "every-form", text), lint.SOUND)} == {
        "references"
    }


BESIDE_BETTER = """
checks:
  - {{id: better, {rule}, shows: [{{fault: wrong, at_least: {{high: often}}}}]}}
  - {{id: bare, {rule}, shows: [{{fault: wrong, at_least: {{high: often}}}}]}}
  - {{id: other, {rule}, shows: [{{fault: wrong, at_least: {{high: seldom}}}}]}}
  - {{id: made, {derived}, from: {{pitch: {{check: bare}}, slack: {{check: other}}}},
     shows: [{{fault: wrong, at_least: {{high: often}}}}]}}
families: [{{id: aim, checks: [{family}]}}]
"""


@pytest.mark.parametrize(
    ("family", "said"),
    [
        ("better, bare", ["`better` speaks for its input `bare`, and both show wrong"]),
        ("bare, better", []),  # where `made` has all it needs, `bare` speaks, or `made` for it
        ("better, made, bare", []),
    ],
)
def test_what_is_derived_does_not_speak_beside_the_better_of_its_inputs_family(
    checklist: Read, family: str, said: list[str]
) -> None:
    entry = (
        "part: bridge, title: T, ask: A, minutes: 1, sources: [bench], measure: {quantity: length, "
        "unit: mm, possible: {}, gauge: {resolution: 1, repeatability: 1}, "
        "levels: [{level: low, up_to: 1 mm}, {level: high}]}"
    )
    checks = BESIDE_BETTER.format(
        rule=f"how: H, {entry}", derived=f"derived: belly_change, {entry}", family=family
    )
    text = HEAD + "faults:\n" + FAULT.format("wrong", "0.5", "fine", "", "") + checks
    assert [problem.message for problem in RULES["families"](checklist(text))] == said
