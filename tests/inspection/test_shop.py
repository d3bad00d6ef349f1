"""The shop's file: its amounts digit for digit, and every slip with its place and mend."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from tailblock.errors import ProblemsFound
from tailblock.inspection.currencies import DECIMALS
from tailblock.inspection.shop import read_shop
from tailblock.inspection.store import NotThere

if TYPE_CHECKING:
    from pathlib import Path

WHOLE = """\
tailblock: 1
name: A bench by the river
address: [Some street 1, Some town]
currency: EUR
rate: 62.50
minimum: 40
materials: {bridge-reglue: 12.10}
tax: {name: VAT, percent: 19}
rounding: 5
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "shop.yaml"


def test_a_whole_file(path: Path) -> None:
    path.write_text(WHOLE, encoding="utf-8")
    shop = read_shop(path)
    assert (shop.name, shop.address) == ("A bench by the river", ("Some street 1", "Some town"))
    assert (shop.currency, shop.decimals) == ("EUR", 2)
    assert (str(shop.rate), str(shop.minimum)) == ("62.50", "40")
    assert shop.materials == {"bridge-reglue": Decimal("12.10")}
    assert shop.tax == ("VAT", Decimal(19))
    assert shop.rounding == Decimal(5)


def test_the_least_that_a_shop_says(path: Path) -> None:
    path.write_text("tailblock: 1\ncurrency: JPY\nrate: 6000\n", encoding="utf-8")
    shop = read_shop(path)
    assert (shop.name, shop.minimum, dict(shop.materials)) == ("", Decimal(0), {})
    assert (shop.tax, shop.rounding, shop.decimals) == (None, None, 0)


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("EUR", "EURO", "4:11: error [bad-value] `EURO` is no currency code of ISO 4217 (such as"),
        ("EUR", "eur", "4:11: error [bad-value] `eur` is no currency code of ISO 4217 (did you"),
        ("62.50", "62,50", "5:7: error [bad-value] `62,50` is no amount (write it like 1250 or"),
        ("62.50", "-1", "5:7: error [bad-value] `-1` is no amount"),
        ("62.50", "NaN", "5:7: error [bad-value] `NaN` is no amount"),
        ("62.50", "62.505", "5:7: error [bad-value] 62.505 has more decimals than EUR has: 2"),
        ("12.10", "12.101", "7:28: error [bad-value] 12.101 has more decimals than EUR has: 2"),
        ("rounding: 5", "rounding: 0", "9:11: error [bad-value] `rounding` must be more than 0"),
        ("rate: 62.50\n", "", "1:1: error [missing-field] `rate` is missing (add `rate: ...`)"),
        ("minimum", "minmum", "6:1: error [unknown-field] unknown field `minmum` (did you mean"),
        ("percent: 19", "percent: 190", "8:27: error [bad-value] `percent` must be less than"),
        ("rate: 62.50", "rate:", "5:6: error [missing-field] `rate` is empty"),
        (WHOLE, "- one\n", "1:1: error [bad-value] this is no file of a shop (begin it with"),
        ("tailblock: 1\n", "", "1:1: error [version-missing] the file does not say which version"),
        ("tailblock: 1", "tailblock: 2", "1:12: error [newer-version] the file was written by a"),
        (WHOLE, "", "1:1: error [bad-value] this is no file of a shop"),
        ("[Some", "[[Some", "4:1: error [yaml] a colon, a quote or a # inside"),
    ],
)  # fmt: skip
def test_a_slip_is_named_with_its_place_and_mend(
    path: Path, before: str, after: str, said: str
) -> None:
    assert before in WHOLE
    path.write_text(WHOLE.replace(before, after), encoding="utf-8")
    with pytest.raises(ProblemsFound) as caught:
        read_shop(path)
    assert f"{path}:{said}" in str(caught.value)


def test_all_slips_are_named_together(path: Path) -> None:
    path.write_text("currency: XXX\nrate: much\ncolour: red\ntailblock: 1\n", encoding="utf-8")
    with pytest.raises(ProblemsFound) as caught:
        read_shop(path)
    assert [problem.line for problem in caught.value.problems] == [1, 2, 3]


def test_no_file(path: Path) -> None:
    with pytest.raises(NotThere):
        read_shop(path)


@pytest.mark.parametrize(
    # ISO 4217 (from memory): the minor unit is a hundredth, a thousandth, or there is none
    ("code", "decimals"),
    [("EUR", 2), ("USD", 2), ("CHF", 2), ("JPY", 0), ("KRW", 0), ("KWD", 3), ("TND", 3)],
)
def test_decimals_of_currencies(code: str, decimals: int) -> None:
    assert DECIMALS[code] == decimals
    assert all(len(name) == 3 and name.isupper() for name in DECIMALS)
