"""The words of the report stand ready for a second language: none escapes the catalogue.

A pseudo-translation wraps every message in ⟦ ⟧. What stands outside of the brackets on a page must
come from a checklist, from what was typed, or from numbers.
"""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass
from html import unescape
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from babel.messages.extract import DEFAULT_KEYWORDS, extract_from_dir
from babel.messages.frontend import parse_mapping_cfg

from report.pages import read, words
from report.test_changes import BACK
from report.visits import HEAD, HOT_CAR, SOUND, UNREAD
from tailblock.inspection import store
from tailblock.inspection.shop import read_shop
from tailblock.messages import N_, _, ngettext, spoken
from tailblock.pipeline import examine
from tailblock.report.build import build
from tailblock.report.to_html import to_html
from tailblock.report.to_markdown import to_markdown
from tailblock.report.to_typst import outline

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tailblock.knowledge.checklist import Checklist
    from tailblock.report.model import Copy, Report

SHOP = (
    "tailblock: 1\ncurrency: EUR\nrate: 60\ntax: {name: VAT, percent: 19}\n"
    "words: {closing: Thank you}\n"
)
ROOT = Path(__file__).parents[2]
_WORD = re.compile(r"[^\W\d_]{2,}")


class Pseudo:
    """A catalogue of a language in which everything is in brackets; it keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: set[str] = set()

    def gettext(self, message: str) -> str:
        self.asked.add(message)
        return f"⟦{message}⟧"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.asked.add(msgid1)
        return f"⟦{msgid1 if n == 1 else msgid2}⟧"


def test_without_a_catalogue_a_message_is_itself() -> None:
    assert (_("Findings"), N_("Findings")) == ("Findings", "Findings")
    assert [ngettext("one", "many", number) for number in (0, 1, 2)] == ["many", "one", "many"]


def test_a_catalogue_holds_within_and_not_after() -> None:
    with spoken(Pseudo()):
        assert _("Findings") == "⟦Findings⟧"
        assert ngettext("one", "many", 1) == "⟦one⟧"
        assert _("") == ""
    assert _("Findings") == "Findings"


def _outside(text: str) -> str:
    """Return what stands outside of all brackets."""
    depth, left = 0, []
    for sign in text:
        depth += (sign == "⟦") - (sign == "⟧")
        left.append(sign if depth == 0 and sign != "⟧" else " ")
    return "".join(left)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _texts(one)
    elif isinstance(value, dict):
        for one in value.values():
            yield from _texts(one)
    elif is_dataclass(value):
        for field in fields(value):
            if field.name not in {"style", "tone", "role", "kind"}:
                yield from _texts(getattr(value, field.name))


def _read(report: Report, copy: Copy, form: str) -> str:
    if form == "html":
        page = read(to_html(report, copy=copy))
        said = [
            tag.attributes[name]
            for tag in page.tags
            for name in ("aria-label", "data-label", "alt", "title")
            if name in tag.attributes
        ]
        shown = re.sub(
            r"(?s)<svg.*?</svg>", lambda one: _letters(one[0]), to_html(report, copy=copy)
        )
        shown = re.sub(r"(?s)<style>.*?</style>|<[^>]*>", " ", shown)
        return "\n".join((shown, *said))
    if form == "markdown":
        return to_markdown(report, copy=copy)
    return "\n".join(
        _letters(one) if one.startswith("<svg") else one
        for one in _texts(outline(report, copy=copy))
    )


def _letters(picture: str) -> str:
    """Return the letters of a picture, the lines of one label after one another."""
    return " ".join(re.sub(r"<[^>]*>", " ", picture).split())


def _known(checklist: Checklist, typed: str) -> list[str]:
    """Return what the checklist says and what was typed, whole and in parts, the longest first.

    The report takes sentences apart at their stops, and sets them within others.
    """
    whole = [*_texts_of_entries(checklist), *typed.splitlines()]
    parts = {
        words(part.replace("-", " ")).strip(" .")
        for text in whole
        for part in (text, *re.split(r"[.;:,()\[\]{}\"\n]+", text), *text.split(". "))
    }
    return sorted((part for part in parts if _WORD.search(part)), key=len, reverse=True)


def _texts_of_entries(value: Any, depth: int = 0) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif hasattr(value, "model_dump"):
        yield from _texts_of_entries(value.model_dump())
    elif isinstance(value, dict) or hasattr(value, "items"):
        for name, one in value.items():
            yield str(name)
            yield from _texts_of_entries(one, depth + 1)
    elif isinstance(value, list | tuple | set | frozenset):
        for one in value:
            yield from _texts_of_entries(one, depth + 1)
    elif hasattr(value, "__dict__") and depth < 6:
        yield from _texts_of_entries(vars(value), depth + 1)
    elif is_dataclass(value) and depth < 6:
        for field in fields(value):
            yield from _texts_of_entries(getattr(value, field.name), depth + 1)


# Signs of units and figures, and what belongs to the forms.
NOT_WORDS = {"mm", "in", "min", "kg", "lb", "lbf", "oz", "amp", "quot", "gt", "lt", "nbsp", "br"}
NOT_WORDS |= {"tailblock", "eur"}


def _escaped(text: str, checklist: Checklist, typed: str) -> list[str]:
    """Return the lines with words that no message, no checklist and no person says."""
    known = _known(checklist, typed)
    found = []
    for line in re.sub(r"[0-9a-f]{64}|&#\d+;", " ", _outside(unescape(text))).splitlines():
        left = words(line.replace("-", " ").replace("\\", ""))
        for part in known:
            if part in left:
                left = re.sub(rf"(?<!\w){re.escape(part)}(?!\w)", " ", left)
        if [word for word in _WORD.findall(left) if word not in NOT_WORDS]:
            found.append(f"{left}   <- {line.strip()}")
    return found


@pytest.mark.parametrize("form", ["html", "markdown", "outline"])
@pytest.mark.parametrize("copy", ["player", "bench"])
@pytest.mark.parametrize(
    "visits", [HOT_CAR, SOUND, UNREAD, HOT_CAR + BACK], ids=["hot car", "sound", "unread", "back"]
)
def test_no_word_of_the_interface_escapes(
    bench: Checklist, tmp_path: Path, visits: str, copy: Copy, form: str
) -> None:
    typed = HEAD + visits
    (tmp_path / "shop.yaml").write_text(SHOP, encoding="utf-8")
    shop = read_shop(tmp_path / "shop.yaml")
    inspection = store.from_bytes(typed.encode(), Path("job.yaml"), lambda _: bench)
    with spoken(Pseudo()):
        text = _read(build(examine(bench, inspection), shop=shop), copy, form)
    assert text.count("⟦") == text.count("⟧") > 50
    escaped = _escaped(text, bench, typed + SHOP)
    assert escaped == [], "\n".join(escaped)


def test_a_word_that_escapes_is_found(bench: Checklist) -> None:
    said = "⟦Findings⟧ No reading has been taken. A bridge coming off."
    (line,) = _escaped(said, bench, "")
    assert line.endswith(f"<- {said.replace('⟦Findings⟧', '').strip()}")


@pytest.fixture(scope="module")
def collected() -> frozenset[str]:
    """Return the messages that `.ci/messages` collects for a catalogue."""
    with (ROOT / ".ci" / "babel.cfg").open(encoding="utf-8") as file:
        methods, options = parse_mapping_cfg(file)  # type: ignore[no-untyped-call]
    keywords = {**DEFAULT_KEYWORDS, "N_": None, "counted": (2, 3)}
    found = extract_from_dir(ROOT, methods, options, keywords)
    return frozenset(
        message if isinstance(message, str) else message[0] for _, _, message, _, _ in found
    )


@pytest.mark.parametrize("visits", [HOT_CAR, SOUND, UNREAD, HOT_CAR + BACK])
def test_every_message_that_is_said_is_collected_for_the_catalogue(
    bench: Checklist, collected: frozenset[str], visits: str
) -> None:
    inspection = store.from_bytes((HEAD + visits).encode(), Path("job.yaml"), lambda _: bench)
    catalogue = Pseudo()
    with spoken(catalogue):
        report = build(examine(bench, inspection))
        for copy in ("player", "bench"):
            for form in ("html", "markdown", "outline"):
                _read(report, copy, form)
    assert catalogue.asked - collected == set()


def test_a_translation_is_text_and_no_markup(hot_car: Report) -> None:
    class Hostile(Pseudo):
        def gettext(self, message: str) -> str:
            return f"<u>{message}</u> *x*"

    with spoken(Hostile()):
        page = to_html(hot_car)
        markdown = to_markdown(hot_car)
    assert "<u>" not in page
    assert "&lt;u&gt;Findings&lt;/u&gt;" in page
    assert "*x*" not in markdown.replace("\\*", "")


def test_the_source_says_its_words_in_another_language_without_a_change() -> None:
    """A placeholder may move within its sentence."""

    class Turned(Pseudo):
        def gettext(self, message: str) -> str:
            return {"{low} to {high}": "bis {high} ab {low}"}.get(message, message)

    with spoken(Turned()):
        assert _("{low} to {high}").format(low="1", high="2") == "bis 2 ab 1"
