"""A small simulated shop: two wrong words are found, and later cases are foreseen better."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchmarks.simulated_shops import run
from tailblock.knowledge.loader import load

if TYPE_CHECKING:
    from pathlib import Path

FAULT = "part: bridge, name: F, plain: F., harm: serious, pace: years, under_tension: fine"
CHECK = """part: bridge, title: L, ask: A?, how: Look., minutes: 1,
     choices: [{level: shut, text: N}, {level: open, text: Y}]"""
TRUTH = f"""\
tailblock: 1
id: truth
title: Four faults
version: 1.0.0
parts: [{{id: bridge, name: Bridge}}]
traits:
  - {{id: strings, ask: Which?, values: [steel, nylon]}}
faults:
  - {{id: heat, {FAULT}, alone: sometimes}}
  - {{id: lifting, {FAULT}, alone: seldom, caused_by: [{{fault: heat, strength: often}}]}}
  - {{id: torn, {FAULT}, alone: rarely, caused_by: [{{fault: lifting, strength: sometimes}}]}}
  - {{id: worn, {FAULT}, alone: usually, alone_when: [{{when: {{strings: nylon}}, alone: seldom}}]}}
checks:
  - {{id: lamp, {CHECK}, shows: [{{fault: lifting, at_least: {{open: usually}}}}]}}
  - {{id: story, {CHECK}, shows: [{{fault: heat, at_least: {{open: often}}}}]}}
  - {{id: mirror, {CHECK}, shows: [{{fault: torn, at_least: {{open: often}}}}]}}
  - {{id: nail, {CHECK}, shows: [{{fault: worn, at_least: {{open: usually}}}}]}}
"""
WRONG = {"worn alone": -2, "heat brings about lifting": -2}


def test_a_small_shop_finds_the_words_that_are_wrong(tmp_path: Path) -> None:
    (tmp_path / "truth").mkdir()
    (tmp_path / "truth" / "checklist.yaml").write_text(TRUTH, encoding="utf-8")
    truth = load(tmp_path / "truth").checklist
    assert truth is not None
    shop = run(1, 240, held_out=120, truth=truth, wrong=WRONG, shelf=tmp_path)
    assert shop.tested >= 6
    assert shop.covered >= shop.tested - 2  # a word that is far off still pulls: 20 trials
    assert (shop.wrong_found, shop.wrong_tested) == (2, 2)
    assert shop.truth - 0.01 < shop.after < shop.before
