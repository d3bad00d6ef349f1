"""The shipped checklist with the shipped inspections: exact, consistent, safe."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from demos import DEMOS, examined_demo
from oracles import bayes_library
from tailblock.inference import Reasoner
from tailblock.inference.tree import CELL_LIMIT
from tailblock.inspection.likelihood import likelihood
from tailblock.knowledge.library import Shelves
from tailblock.knowledge.ready import open_checklist
from tailblock.network import Evidence
from tailblock.pipeline import Contradiction, examine, open_inspection
from tailblock.report.build import build
from tailblock.report.to_markdown import to_markdown

if TYPE_CHECKING:
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist
    from tailblock.pipeline import Examined


@pytest.fixture(scope="module", params=DEMOS, ids=lambda path: path.stem)
def examined(request: pytest.FixtureRequest) -> Examined:
    return examined_demo(request.param.stem)


def evidence_of(examined: Examined) -> Evidence:
    soft = {}
    for visit, heard in enumerate(examined.heard):
        for spoken in heard.spoken:
            finding = examined.compiled.finding_of(spoken.check, visit)
            if finding is not None:
                traits = examined.inspection.instrument.traits
                soft[finding] = likelihood(examined.checklist, traits, spoken)
    hard = {
        examined.compiled.node_of(seen.fault, place): seen.present
        for place, visit in enumerate(examined.inspection.visits)
        for seen in visit.confirmed
    }
    return Evidence(soft, hard)


def test_the_posteriors_equal_a_general_purpose_library(examined: Examined) -> None:
    # pyAgrum, lazy propagation, on the same network and readings
    evidence = evidence_of(examined)
    assert len(evidence.soft) >= 10
    theirs = bayes_library.posterior(examined.compiled.network, evidence)
    assert np.abs(examined.beliefs.probability - theirs).max() < 1e-8


def test_the_priors_equal_a_general_purpose_library(examined: Examined) -> None:
    theirs = bayes_library.posterior(examined.compiled.network, Evidence())
    assert np.abs(examined.priors.probability - theirs).max() < 1e-8


def test_what_is_shipped_is_exact_with_room_to_spare(examined: Examined) -> None:
    assert not examined.beliefs.approximate
    assert examined.exactly is not None
    assert examined.exactly.cells < CELL_LIMIT / 16


def test_past_the_limit_the_same_inspection_is_answered_near_enough(examined: Examined) -> None:
    near = examine(examined.checklist, examined.inspection, limit=64)
    assert near.beliefs.error is not None
    off = np.abs(near.beliefs.probability - examined.beliefs.probability).max()
    assert off <= near.beliefs.error < 0.2
    assert near.may_string.answer == examined.may_string.answer
    assert near.return_risk(["bridge-reglue"]) is None  # exact or not given
    page = to_markdown(build(near))
    assert page.count("Approximate: probabilities are sampled") == 2
    assert "exact for this checklist" not in page


def test_every_fault_that_applies_is_listed_once(examined: Examined) -> None:
    listed = [cause.id for cause in examined.causes]
    assert sorted(listed) == sorted(
        set(examined.compiled.current[-1]) & set(examined.checklist.faults)
    )
    probabilities = [cause.probability for cause in examined.causes]
    assert probabilities == sorted(probabilities, reverse=True)


def test_nothing_that_loads_is_advised_while_a_danger_is_open(examined: Examined) -> None:
    if not examined.may_string.because:
        pytest.skip("this one may be strung")
    for advised in examined.advice.advice:
        check = examined.checklist.checks[advised.check]
        assert not check.loads, advised.check
        assert check.risk != "load", advised.check


def test_what_a_plan_repairs_may_come_back_through_the_causes_that_stay() -> None:
    examined = examined_demo("hot-car")
    risks = examined.return_risk(["bridge-reglue"])
    assert risks is not None
    risk = {risk.fault: risk for risk in risks}["bridge-lifting"]
    assert 0.0 < risk.chance < 1.0
    assert "top-hump" in dict(risk.causes)
    assert "heat-exposure" not in dict(risk.causes)  # an event of the past does not act again
    shares = [share for _, share in risk.causes]
    assert shares == sorted(shares, reverse=True)
    assert max(shares) <= risk.chance
    assert examined.return_risk(["bridge-reglue"], ["bridge-lifting"]) == (risk,)
    # the hump pressed flat comes back too while the braces under it are off
    plan, chances = ["bridge-reglue"], [risk.chance]
    for more in ("debelly-heat", "brace-reglue"):
        plan.append(more)
        (left,) = examined.return_risk(plan, ["bridge-lifting"]) or ()
        chances.append(left.chance)
    assert chances == sorted(chances, reverse=True)
    assert chances[2] < chances[0] - 0.1


def test_an_arrival_of_twelve_readings_or_more(examined: Examined) -> None:
    first = examined.inspection.visits[0]
    assert first.stage == "arrival"
    assert len(first.readings) >= 12


def test_one_of_them_must_not_be_strung() -> None:
    answers = [examined_demo(path.stem).may_string.answer for path in DEMOS]
    assert len(answers) >= 2
    assert "no" in answers


def test_one_goes_through_all_visits_and_its_second_inspection_overturns_the_first() -> None:
    examined = examined_demo("one-through-all")
    stages = [visit.stage for visit in examined.inspection.visits]
    assert stages == ["arrival", "opened", "first-stringing", "settled"]
    then, known = examined.then(0), examined.on(0)
    assert then is not None
    # a saddle of ordinary height with the strings slack: nobody saw how far the neck had tipped
    assert then["neck-angle-lost"] < 0.25
    assert known["neck-angle-lost"] > 0.95
    assert known["bridge-lifting"] == pytest.approx(1.0)  # seen, and still true
    assert examined.causes[0].id == "neck-angle-lost"
    assert examined.may_string.answer == "yes"


def test_one_needs_nothing_done() -> None:
    examined = examined_demo("nothing-to-do")
    assert examined.verdict.kind == "nothing-wrong"
    assert examined.plan.options == ()
    assert examined.plan.follows == ()
    assert examined.may_string.answer == "yes"


def test_confirming_against_a_certain_look_names_both(tmp_path: Path) -> None:
    folder = tmp_path / "checklists" / "sure"
    folder.mkdir(parents=True)
    (folder / "checklist.yaml").write_text(
        """
tailblock: 1
id: sure
title: A look that cannot be wrong
version: 1.0.0
parts: [{id: head, name: Head}]
stages: [{id: arrival, budget: 5 min}]
sources: [{id: m, kind: memory, citation: From memory, seen: from-memory}]
faults:
  - {id: crack, part: head, name: Crack, plain: A crack., alone: seldom, harm: serious,
     pace: stable, under_tension: watch, sources: [m]}
checks:
  - {id: look, part: head, title: Look, ask: Is it cracked?, how: Look., minutes: 1, sources: [m],
     choices: [{level: none, text: No}, {level: line, text: Yes}], otherwise: {line: 1.0e-300},
     shows: [{fault: crack, at_least: {line: usually}}]}
remedies:
  - {id: glue, part: head, name: Glue, plain: Glue it., fixes: [{fault: crack, how_well: usually}],
     hours: {low: 1, likely: 1, high: 2}, reversible: false, sources: [m]}
""",
        encoding="utf-8",
    )
    file = tmp_path / "one.yaml"
    file.write_text(
        """
tailblock: 1
job: "1"
checklist: sure
instrument: {description: one, traits: {}}
visits:
  - stage: arrival
    date: 2031-03-02
    readings: [{check: look, value: line}]
    confirmed: [{fault: crack, present: false}]
""",
        encoding="utf-8",
    )

    def sure(name: str) -> Checklist:
        return open_checklist(name, Shelves(beside=tmp_path))

    with pytest.raises(Contradiction, match=r"look on 2031-03-02, crack confirmed as absent"):
        examine(*open_inspection(file, sure))


def test_the_leading_explanations_are_the_most_frequent_in_exact_draws(examined: Examined) -> None:
    # 20,000 joint states drawn from the same tree by other code; four standard errors
    found, reasoner = examined.explanations, examined.exactly
    assert found is not None
    assert reasoner is not None
    nodes = [examined.compiled.node_of(fault) for fault in found.in_question]
    drawn = reasoner.draw(20_000, np.random.default_rng(0))[:, nodes]
    assert found.sets
    for one in found.sets:
        present = np.array([fault in one.faults for fault in found.in_question])
        share = float((drawn == present).all(axis=1).mean())
        error = (one.probability * (1.0 - one.probability) / 20_000) ** 0.5
        assert abs(share - one.probability) <= 4.0 * error
    chances = [one.probability for one in found.sets]
    assert chances == sorted(chances, reverse=True)


def test_the_surprise_of_a_reading_is_its_predicted_chance(examined: Examined) -> None:
    # by the engine's other way: what a reader without the reading would have predicted
    found = {(one.check, one.visit): one.bits for one in examined.surprises or ()}
    evidence = examined.reasoner.evidence
    for k, row in list(evidence.soft.items())[::4]:
        rest = Evidence({j: other for j, other in evidence.soft.items() if j != k}, evidence.hard)
        (predicted,) = Reasoner(examined.compiled.network, rest).predict([k])
        name = examined.compiled.findings[k]
        bits = -np.log2(predicted.chance @ np.array(row))
        assert found[name.check, name.visit] == pytest.approx(float(bits), abs=1e-8)


def test_the_shipped_inspections_are_within_what_the_checklist_knows(examined: Examined) -> None:
    assert examined.surprise is not None
    assert not examined.surprise.outside
