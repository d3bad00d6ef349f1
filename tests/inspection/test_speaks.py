"""Each reading speaks to one thing at most; what is silent says why."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, sqrt
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tailblock.inspection.speaks import Heard, hear

if TYPE_CHECKING:
    from builders import Read
    from tailblock.inspection.record import Visit
    from tailblock.knowledge.checklist import Checklist

ACTION_U = hypot(0.1 / sqrt(12), 0.05)
TILT_U = hypot(0.1 / sqrt(12), 0.2)
PROJECTION_U = hypot(0.5 / sqrt(12), 0.2)
RELIEF_U = hypot(0.05 / sqrt(12), 0.03)


def heard(inspection: Read, bench: Checklist, *readings: str) -> Heard:
    """Return what an arrival visit with these readings says."""
    lines = "".join(f"      - {{{reading}}}\n" for reading in readings)
    visits = f"  - stage: arrival\n    date: 2031-03-02\n    readings:\n{lines}"
    record = inspection(visits)
    return hear(bench, record.instrument, record.visits[0])


def levels(found: Heard) -> dict[str, str | None]:
    return {one.check: one.level for one in found.spoken if one.level is not None}


def values(found: Heard) -> dict[str, tuple[object, object]]:
    return {
        one.check: (pytest.approx(one.value), pytest.approx(one.u))
        for one in found.spoken
        if one.value is not None
    }


def silent(found: Heard) -> list[tuple[int, str, str]]:
    return [(one.reading, one.kind, one.by) for one in found.silent]


def test_nothing_read_is_nothing_said(inspection: Read, bench: Checklist) -> None:
    record = inspection("  - {stage: arrival, date: 2031-03-02}")
    found = hear(bench, record.instrument, record.visits[0])
    assert (found.spoken, found.silent, found.levels, found.gated) == ((), (), {}, frozenset())


def test_the_last_answer_that_is_not_unknown_speaks(inspection: Read, bench: Checklist) -> None:
    found = heard(
        inspection,
        bench,
        "check: tap, value: none",
        "check: tap, value: slight",
        "check: tap, value: unknown",
    )
    assert levels(found) == {"tap": "slight"}
    assert found.spoken[0].readings == (1,)
    assert silent(found) == [(0, "answered-again", "tap"), (2, "unknown", "")]
    assert found.silent[0].reason == "it was answered again later"


def test_a_reading_that_was_taken_back_is_out(inspection: Read, bench: Checklist) -> None:
    found = heard(
        inspection,
        bench,
        "check: tap, value: none",
        "check: tap, value: slight, retracted: true",
        "check: action, value: 3 mm, retracted: true",
    )
    assert levels(found) == {"tap": "none"}
    assert values(found) == {}
    assert silent(found) == [(1, "retracted", ""), (2, "retracted", "")]


def test_values_in_one_setup_are_averaged(inspection: Read, bench: Checklist) -> None:
    """u^2 = res^2/12 + rep^2/n (JCGM 100:2008, F.2.2.1 and 4.2.3)."""
    found = heard(
        inspection,
        bench,
        "check: action, value: 2.4 mm",
        "check: action, value: 2.5 mm",
        "check: action, value: unknown",
        "check: action, value: 2.9 mm",
    )
    assert values(found) == {"action": (2.6, hypot(0.1 / sqrt(12), 0.05 / sqrt(3)))}
    assert found.spoken[0].readings == (0, 1, 3)


@pytest.mark.parametrize("first", ["at-pitch", "slack"])
def test_of_two_setups_the_one_under_most_load_speaks(
    inspection: Read, bench: Checklist, first: str
) -> None:
    second = {"at-pitch": "slack", "slack": "at-pitch"}[first]
    at = {"at-pitch": "2.6 mm", "slack": "2.0 mm"}
    found = heard(
        inspection,
        bench,
        f"check: action, value: {at[first]}, setup: {{strings: {first}}}",
        f"check: action, value: {at[second]}, setup: {{strings: {second}}}",
    )
    assert values(found) == {"action": (2.6, ACTION_U)}
    assert silent(found) == [(int(first == "at-pitch"), "less-load", "action")]


def test_of_equal_load_the_first_state_of_other_dimensions_speaks(
    inspection: Read, bench: Checklist
) -> None:
    found = heard(
        inspection,
        bench,
        'check: feeler, value: 1 mm, setup: {strings: slack, bridge: "off"}',
        'check: feeler, value: 2 mm, setup: {bridge: "on"}',
    )
    assert values(found)["feeler"][0] == 2.0


def test_of_a_family_the_first_with_an_answer_speaks(inspection: Read, bench: Checklist) -> None:
    found = heard(
        inspection, bench, "check: action-guessed, value: 3 mm", "check: action, value: 2.5 mm"
    )
    assert values(found) == {"action": (2.5, ACTION_U)}
    assert silent(found) == [(0, "family", "action")]
    assert found.silent[0].reason == "'Measure the action' answers the same question better"
    alone = heard(
        inspection, bench, "check: action-guessed, value: 3 mm", "check: action, value: unknown"
    )
    assert values(alone) == {"action-guessed": (3.0, ACTION_U)}


def test_a_family_passes_on_to_the_next_if_a_gate_silences_the_first(
    inspection: Read, bench: Checklist
) -> None:
    found = heard(
        inspection,
        bench,
        "check: settling, value: just-in",
        "check: action, value: 2.5 mm",
        "check: action-guessed, value: 3 mm",
    )
    assert values(found) == {"action-guessed": (3.0, ACTION_U)}
    assert silent(found) == [(1, "gate", "settling")]
    assert found.gated == {"action"}


def test_a_derived_check_speaks_for_inputs_that_look_at_the_same(
    inspection: Read, bench: Checklist
) -> None:
    found = heard(
        inspection,
        bench,
        "check: tilt, value: 5 deg",
        "check: tilt, value: 1 deg, setup: {strings: slack}",
    )
    assert values(found) == {"tilt-change": (4.0, hypot(TILT_U, TILT_U))}
    assert found.spoken[0].readings == (0, 1)
    assert found.silent == ()


def test_an_input_speaks_until_the_others_are_in(inspection: Read, bench: Checklist) -> None:
    found = heard(inspection, bench, "check: tilt, value: 5 deg")
    assert values(found) == {"tilt": (5.0, TILT_U)}


def test_an_input_marked_so_speaks_beside_the_derived_check(
    inspection: Read, bench: Checklist
) -> None:
    """Aim at ordinary relief = projection + 2.9 (relief - 0.165), share 2.9 +- 0.5 [mm]."""
    found = heard(
        inspection, bench, "check: projection, value: -2 mm", "check: relief, value: 0.30 mm"
    )
    aim = -2 + 2.9 * (0.30 - 0.165)
    u = sqrt(PROJECTION_U**2 + (2.9 * RELIEF_U) ** 2 + (0.5 * 0.135) ** 2)
    assert values(found) == {"aim": (aim, u), "relief": (0.30, RELIEF_U)}


def test_a_chain_of_derived_checks_speaks_once(inspection: Read, bench: Checklist) -> None:
    record = inspection(
        "  - stage: settled\n    date: 2031-03-02\n    readings:\n"
        "      - {check: projection, value: -2 mm}\n      - {check: relief, value: 0.3 mm}\n"
    )
    found = hear(bench, record.instrument, record.visits[0])
    assert [one.check for one in found.spoken] == ["relief", "reset-angle"]
    assert found.spoken[1].readings == (0, 1)


def test_an_input_that_looks_at_something_else_speaks_beside_the_derived_check(
    inspection: Read, bench: Checklist
) -> None:
    record = inspection(
        "  - stage: settled\n    date: 2031-03-02\n    readings:\n"
        "      - {check: action, value: 2.5 mm}\n      - {check: room, value: 50 %}\n"
    )
    found = hear(bench, record.instrument, record.visits[0])
    assert [one.check for one in found.spoken] == ["action", "room", "season-action"]


def test_inputs_speak_for_themselves_if_a_gate_silences_the_derived_check(
    inspection: Read, bench: Checklist
) -> None:
    found = heard(
        inspection,
        bench,
        "check: settling, value: just-in",
        "check: tilt, value: 5 deg",
        "check: tilt, value: 1 deg, setup: {strings: slack}",
    )
    assert values(found) == {"tilt": (5.0, TILT_U)}
    assert silent(found) == [(2, "less-load", "tilt")]
    assert found.gated == {"tilt-change"}


def test_the_level_of_every_check_is_told_even_if_it_is_silent(
    inspection: Read, bench: Checklist
) -> None:
    found = heard(
        inspection,
        bench,
        "check: action, value: 3 mm",
        "check: action-guessed, value: 2 mm",
        "check: tilt, value: 5 deg",
        "check: tilt, value: 1 deg, setup: {strings: slack}",
        "check: tap, value: slight",
    )
    assert found.levels == {
        "tap": "slight",
        "action": "high",
        "action-guessed": "normal",
        "tilt": "tipped",
        "tilt-change": "leaning",
    }


def test_findings_have_the_order_of_the_checklist(inspection: Read, bench: Checklist) -> None:
    found = heard(inspection, bench, "check: relief, value: 0.1 mm", "check: tap, value: none")
    assert [one.check for one in found.spoken] == ["tap", "relief"]


READING = st.one_of(
    st.tuples(st.sampled_from(["tap", "settling"]), st.just("unknown")),
    st.tuples(
        st.sampled_from(["action", "action-guessed", "tilt", "room", "projection", "relief"]),
        st.sampled_from(["0.5", "1.1", "1.9", "unknown"]),
    ),
    st.tuples(st.just("room"), st.sampled_from(["20", "50", "80"])),
)
GRADED_ONCE = st.permutations(
    [("tap", "slight"), ("settling", "an-hour"), ("pins", "leaning")]
).flatmap(lambda answers: st.integers(0, 3).map(lambda count: answers[:count]))


@given(
    st.lists(
        st.tuples(
            READING,
            st.sampled_from(["at-pitch", "slack", "off"]),
            st.sampled_from(["true", "false"]),
        )
    ),
    GRADED_ONCE,
    st.data(),
)
def test_the_order_of_readings_does_not_matter(
    inspection: Read,
    bench: Checklist,
    measured: list[tuple[tuple[str, str], str, str]],
    graded: list[tuple[str, str]],
    data: st.DataObject,
) -> None:
    readings = [
        f"check: {check}, value: {value}, setup: {{strings: {state}}}, retracted: {out}"
        for (check, value), state, out in measured
    ] + [f"check: {check}, value: {value}, setup: {{strings: slack}}" for check, value in graded]
    order = data.draw(st.permutations(range(len(readings))))
    lines = "".join(f"      - {{{reading}}}\n" for reading in readings)
    listed = f"    readings:\n{lines}" if readings else ""
    record = inspection(f"  - stage: arrival\n    date: 2031-03-02\n{listed}")
    visit = record.visits[0]
    shuffled: Visit = replace(visit, readings=tuple(visit.readings[i] for i in order))
    one = hear(bench, record.instrument, visit)
    other = hear(bench, record.instrument, shuffled)
    back = dict(enumerate(order))
    assert one.spoken == tuple(
        replace(s, readings=tuple(sorted(back[i] for i in s.readings))) for s in other.spoken
    )
    assert set(one.silent) == {replace(s, reading=back[s.reading]) for s in other.silent}
    assert (one.levels, one.gated) == (other.levels, other.gated)
    # every reading is behind a finding or silent, and never both
    behind = {index for spoken in one.spoken for index in spoken.readings}
    assert behind | {s.reading for s in one.silent} == set(range(len(readings)))
    assert not behind & {s.reading for s in one.silent}
    assert len({spoken.check for spoken in one.spoken}) == len(one.spoken)
