"""Vignette files: what they say, and what is said of those that cannot be used."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tailblock.errors import ProblemsFound
from tailblock.practice.format import NoVignettes, read_vignette, read_vignettes

if TYPE_CHECKING:
    from pathlib import Path

    from practice.conftest import Write
    from tailblock.knowledge.checklist import Checklist


def test_a_vignette_becomes_the_first_visit_of_an_instrument(
    bench: Checklist, write: Write
) -> None:
    vignette = read_vignette(write(), bench)
    (visit,) = vignette.inspection.visits
    assert visit.stage == "arrival"
    assert visit.setup == {"strings": "slack"}
    assert [(r.check, r.written) for r in visit.readings] == [("edge-look", "light")]
    assert vignette.inspection.instrument.traits == {"bridge": "pin"}
    assert vignette.inspection.instrument.scale_length == 648.0
    assert vignette.written == "bench"


def test_a_reading_stands_in_the_setup_of_the_one_before_it(bench: Checklist, write: Write) -> None:
    more = (
        "value: light}\n  - {check: relief, value: 0.2 mm, setup: {strings: at-pitch}}\n"
        "  - {check: ledge-look, value: even}"
    )
    vignette = read_vignette(write("value: light}", more), bench)
    setups = [r.setup["strings"] for r in vignette.inspection.visits[0].readings]
    assert setups == ["slack", "at-pitch", "at-pitch"]


@pytest.mark.parametrize(
    ("change", "line", "said"),
    [
        (("written: bench", "written: home"), 2, "`home` is not one of blind, bench"),
        (("setup: {str", "setap: {str"), 4, "unknown field `setap` (did you mean `setup`?)"),
        (("why: Light", "because: Light"), 1, "`why` is missing"),
        (("{bridge: pin}", "{bridge: glued}"), 3, "bridge cannot be 'glued' (it is one of pin,"),
        (("{strings: slack}", "{strings: loose}"), 4, "strings cannot be 'loose'"),
        (("edge-look", "edge-lok"), 6, "did you mean `edge-look`?"),
        (("value: light", "value: bright"), 6, "edge-look: "),
        (
            ("leads: [bridge-lifting]", "leads: [bridge-lift]"),
            8,
            "(did you mean `bridge-lifting`?)",
        ),
        (("leads: [bridge-lifting]", "leads: [fall]"), 8, "fall is an event: what is past never"),
        (("three: [bridge-lifting]", "three: [a, b, c, d]"), 9, "at most 3"),
        (("[bring-to-pitch]", "[bring-to-pich]"), 10, "there is no remedy 'bring-to-pich'"),
        (("[edge-warm, ", "[edge-worm, "), 11, "there is no check 'edge-worm'"),
        (("title: A bridge that", "title: A bridge: it"), 1, "colon"),
    ],
)
def test_what_is_wrong_is_said_with_its_line_and_the_mend(
    change: tuple[str, str], line: int, said: str, bench: Checklist, write: Write
) -> None:
    path = write(*change)
    with pytest.raises(ProblemsFound) as raised:
        read_vignette(path, bench)
    first = raised.value.problems[0]
    assert (first.file, first.line) == (str(path), line)
    assert said in str(first)
    assert "visit" not in str(first)


@pytest.mark.parametrize(
    ("text", "said"), [("", "the file is empty"), ("- title: x\n", "this is no vignette")]
)
def test_a_file_that_is_no_mapping_is_refused(
    text: str, said: str, bench: Checklist, tmp_path: Path
) -> None:
    (tmp_path / "case.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(ProblemsFound, match=said):
        read_vignette(tmp_path / "case.yaml", bench)


def test_the_problems_of_all_files_come_together(bench: Checklist, write: Write) -> None:
    write("written: bench", "written: home", name="a.yaml")
    write("value: light", "value: bright", name="b.yaml")
    folder = write(name="c.yaml").parent
    with pytest.raises(ProblemsFound) as raised:
        read_vignettes(folder, bench)
    assert [problem.file.rsplit("/", 1)[1] for problem in raised.value.problems] == [
        "a.yaml",
        "b.yaml",
    ]


def test_a_folder_without_vignettes_is_an_error(bench: Checklist, tmp_path: Path) -> None:
    with pytest.raises(NoVignettes, match="no vignettes here"):
        read_vignettes(tmp_path, bench)
    with pytest.raises(NoVignettes, match="there is no such folder of vignettes"):
        read_vignettes(tmp_path / "nowhere", bench)
