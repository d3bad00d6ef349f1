"""`demo`: a shipped inspection, played through without a question."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from cli.conftest import JOB
from tailblock.cli.demo import shipped_inspections

if TYPE_CHECKING:
    from cli.conftest import Run

PLAYED = JOB.replace(
    "readings: []",
    """climate: {humidity: 43 %}
    readings:
      - {check: bridge-light, value: marked, note: at the back, at: 2021-03-02T10:14}
      - {check: bridge-feeler, value: 1/4, setup: {strings: off}, at: 2021-03-02T10:20}
      - {check: neck-sight, value: unknown}
  - stage: first-stringing
    date: 2021-03-09
    work: [{remedy: bridge-reglue, hours: 3}]
    readings: [{check: pin-look, value: worn}]
    confirmed: [{fault: bridge-lifting, present: false}]""",
)


@pytest.fixture
def small_demo(shop: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    file = shop / "played.yaml"
    file.write_text(PLAYED, encoding="utf-8")
    monkeypatch.setattr("tailblock.cli.demo.shipped_inspections", lambda: (file,))
    return file


def test_every_visit_is_played_reading_by_reading(small_demo: Path, shop: Path, run: Run) -> None:
    ran = run("demo", "--into", "out")
    assert (ran.code, ran.err) == (0, "")
    lines = [
        "0012: a small guitar",
        "1. Shine along the bridge edge: marked",
        "Do not bring it to pitch: ",
        "It moved Bridge lifting 10 % to ",
        "Leading: Bridge lifting ",
        "Next: Does it creak (bridge-creak).",
        "Now strings off.",
        "2. Feel for an open seam: 1/4 (taken as 1/4 in) = 6.35 mm (1/4 in)",
        "3. Sight along the neck: unknown",
        "Visit 2, First stringing, 2021-03-09.",
        "Done since then: Reglue the bridge.",
        "1. Look at the pin holes: worn",
        "Seen: Bridge lifting, not there.",
        "The inspection: out/played.yaml",
        "The report:     out/played.report.html",
    ]
    places = [ran.out.find(line) for line in lines]
    assert -1 not in places, lines[places.index(-1)]
    assert places == sorted(places)
    assert (shop / "out" / "played.report.html").is_file()


def test_the_file_it_leaves_holds_all_visits_and_can_be_gone_on_with(
    small_demo: Path, shop: Path, run: Run
) -> None:
    run("demo", "--into", "out")
    text = (shop / "out" / "played.yaml").read_text(encoding="utf-8")
    assert "at: 2021-03-02T10:14" in text
    assert "humidity: 43 %" in text
    assert "- {remedy: bridge-reglue, hours: 3}" in text
    assert "- {fault: bridge-lifting, present: false}" in text
    assert run("next", "out/played.yaml", "--checklists", "checklists").code == 0


def test_it_says_the_same_every_time_and_overwrites_nothing(small_demo: Path, run: Run) -> None:
    first, again = run("demo", "--into", "a"), run("demo", "--into", "b")
    assert first.out.replace("a/played", "b/played") == again.out
    ran = run("demo", "--into", "a")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "a/played.yaml: there is a file of that name already (choose another name)\n"


def test_without_a_folder_it_makes_a_new_one(
    small_demo: Path, shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(shop))
    ran = run("demo")
    assert ran.code == 0
    (folder,) = shop.glob("tailblock-demo-*")
    assert f"The report:     {folder}/played.report.html\n" in ran.out


def test_without_a_name_it_plays_the_one_of_the_readme(
    small_demo: Path, shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    readme = shop / "hot-car.yaml"
    readme.write_text(PLAYED, encoding="utf-8")
    monkeypatch.setattr("tailblock.cli.demo.shipped_inspections", lambda: (small_demo, readme))
    ran = run("demo", "--into", "out")
    assert ran.code == 0
    assert "The report:     out/hot-car.report.html\n" in ran.out


def test_what_is_inside_the_package_comes_before_the_checkout(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "src" / "tailblock"
    monkeypatch.setattr("tailblock.cli.demo.__file__", str(package / "cli" / "demo.py"))
    assert shipped_inspections() == ()
    checkout = tmp_path / "demo_inspections" / "a.yaml"
    checkout.parent.mkdir()
    checkout.touch()
    assert shipped_inspections() == (checkout,)
    wheel = package / "shipped" / "demo_inspections" / "b.yaml"
    wheel.parent.mkdir(parents=True)
    wheel.touch()
    assert shipped_inspections() == (wheel,)


def test_where_nothing_is_shipped_it_says_so(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tailblock.cli.demo.shipped_inspections", tuple)
    ran = run("demo")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == "there is no demo inspection '' (none are installed)\n"


def test_five_inspections_are_shipped() -> None:
    assert len(shipped_inspections()) >= 5


@pytest.mark.parametrize("name", [path.stem for path in shipped_inspections()])
def test_what_is_shipped_plays_through(run: Run, name: str) -> None:
    ran = run("demo", "--inspection", name, "--into", name)
    assert (ran.code, ran.err) == (0, "")
    assert "\n12. " in ran.out  # a dozen readings or more
    if name == "hot-car":
        said = iter(ran.out.splitlines())
        missing = [line for line in of_the_readme() if line not in said]  # each after the last
        assert missing == []


def of_the_readme() -> list[str]:
    """Return what the README shows of the demo, but for the gaps and where the files are."""
    text = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    shown = text.partition("```text\n")[2].partition("```")[0].splitlines()
    lines = [line for line in shown if line and line != "..." and not line.startswith("The ")]
    assert len(lines) > 10
    return lines
