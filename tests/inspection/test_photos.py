"""The photographs that an inspection names: read, or refused at the place where it names them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from pictures import plain
from tailblock.errors import ProblemsFound
from tailblock.inspection.photos import UnfitPhoto, pictures_of, read_picture
from tailblock.inspection.record import Inspection, Instrument, Photo

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator
    from pathlib import Path

    from builders import Read

NAMED = """\
tailblock: 1
job: 7
checklist: bench
instrument:
  description: a parlour guitar
  traits: {bridge: pin}
  photos: [front.jpg, {file: back.jpg, caption: "Its back, cracked"}]
visits:
  - stage: arrival
    date: 2031-03-02
    setup: {strings: slack}
    readings:
      - {check: feeler, value: 6 mm, photos: [{file: a.jpg, caption: the gap}, front.jpg]}
      - check: tap
        value: none
        photos:
          - b.jpg
          - file: c.jpg
"""


def named(inspection: Read, folder: Path) -> Inspection:
    return replace(inspection(NAMED, whole=True), path=folder / "job.yaml")


def test_a_photograph_is_a_name_or_a_name_with_a_caption(inspection: Read) -> None:
    record = inspection(NAMED, whole=True)
    shown = [(one.file, one.caption) for one in record.instrument.photos]
    assert shown == [("front.jpg", ""), ("back.jpg", "Its back, cracked")]
    feeler, tap = record.visits[0].readings
    assert [(one.file, one.caption) for one in feeler.photos] == [
        ("a.jpg", "the gap"),
        ("front.jpg", ""),
    ]
    assert [one.file for one in tap.photos] == ["b.jpg", "c.jpg"]
    assert [one.place.line for one in tap.photos if one.place] == [17, 18]


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("[{caption: no file}]", "`file` is missing"),
        ("[{file: a.jpg, captoin: x}]", "unknown field `captoin`"),
        ("[{file: a.jpg, caption: [x]}]", "`caption` must be a text"),
        ("[[a.jpg]]", "must be a mapping"),
        ("a.jpg", "`photos` must be a list"),
    ],
)
def test_what_is_no_photograph_is_said_at_its_place(
    inspection: Read, written: str, said: str
) -> None:
    with pytest.raises(ProblemsFound) as refused:
        inspection(
            NAMED.replace("[{file: a.jpg, caption: the gap}, front.jpg]", written), whole=True
        )
    (problem,) = refused.value.problems
    assert said in problem.message
    assert problem.line == 13


def test_each_file_is_read_once_and_all_problems_are_told_together(
    inspection: Read, tmp_path: Path
) -> None:
    for name in ("front.jpg", "back.jpg", "c.jpg"):
        (tmp_path / name).write_bytes(plain())
    (tmp_path / "b.jpg").write_bytes(plain()[:100])
    record = named(inspection, tmp_path)
    with pytest.raises(ProblemsFound) as refused:
        pictures_of(record)
    first, second = refused.value.problems
    assert (first.line, second.line) == (13, 17)
    assert first.entry == "visit 1, feeler"
    assert "a.jpg: there is no such photograph" in first.message
    assert str(tmp_path / "a.jpg") in first.mend
    assert second.message.startswith("b.jpg: ")
    for name in ("a.jpg", "b.jpg"):
        (tmp_path / name).write_bytes(plain())
    seen: list[str] = []

    def over(photos: Collection[Photo]) -> Iterator[Photo]:
        for photo in photos:
            seen.append(photo.file)
            yield photo

    found = pictures_of(record, over)
    assert list(found) == seen == ["front.jpg", "back.jpg", "a.jpg", "b.jpg", "c.jpg"]


def test_an_inspection_without_photographs_asks_for_none(inspection: Read) -> None:
    text = NAMED.replace("  photos: [front.jpg", "  # photos: [front.jpg")
    record = inspection(text, whole=True)
    none = Inspection(record.path, "", "", "", Instrument("", {}), ())
    assert pictures_of(none) == {}


@pytest.mark.parametrize("name", ["gone.jpg", "folder", "a\0b.jpg", "long" * 100 + ".jpg"])
def test_what_cannot_be_had_is_said_with_its_path(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(UnfitPhoto) as refused:
        read_picture(tmp_path / name)
    assert refused.value.mend
    assert "\n" not in str(refused.value)
