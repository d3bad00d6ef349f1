"""The shop's own file: what an hour costs, what else stands in an estimate, how its papers look.

In: the path of a `shop.yaml`. Out: a frozen `Shop`, its amounts as `Decimal`; or every problem in
the file with its place and the mend. Without such a file all that is said is said in hours.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

from tailblock.errors import Problem, ProblemsFound
from tailblock.inspection.currencies import DECIMALS
from tailblock.inspection.look import MOST_LINES, Line, Look, LookFields, look
from tailblock.inspection.model import MaybeText, Text
from tailblock.inspection.store import read_whole, require_version
from tailblock.knowledge.mending import nearest, problems_of
from tailblock.knowledge.yamlmarks import Marked, read_marked

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.yamlmarks import Place

NAME = "shop.yaml"  # beside the inspection files
_NUMBER = re.compile(r"[0-9]{1,9}(\.[0-9]{1,6})?")


def _amount(value: object) -> object:
    """Take a number as it is written, digit for digit."""
    if isinstance(value, str) and not _NUMBER.fullmatch(value.strip()):
        raise ValueError(
            f"`{value}` is no amount (write it like 1250 or 62.50, without a currency)"
        )
    return Decimal(value.strip()) if isinstance(value, str) else value


def _currency(value: object) -> object:
    if not isinstance(value, str) or value not in DECIMALS:
        upper = str(value).upper()
        like = f"did you mean {upper}?" if upper in DECIMALS else "such as EUR, USD or JPY"
        raise ValueError(f"`{value}` is no currency code of ISO 4217 ({like})")
    return value


Amount = Annotated[Decimal, BeforeValidator(_amount)]
Percent = Annotated[Decimal, BeforeValidator(_amount), Field(le=100)]
Currency = Annotated[str, BeforeValidator(_currency)]


class _Fields(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class TaxFields(_Fields):
    """A tax that is added and shown on its own line."""

    name: Text
    percent: Percent


class ShopFields(LookFields):
    """The file as it is written."""

    tailblock: Literal["1"]
    name: MaybeText = None
    address: Annotated[tuple[Line, ...], Field(max_length=MOST_LINES)] = ()
    currency: Currency
    rate: Amount
    minimum: Amount = Decimal(0)
    materials: dict[str, Amount] = Field(default={})
    tax: TaxFields | None = None
    rounding: Amount | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """What a shop charges, in units of its `currency` (ISO 4217).

    `rate`: for a bench hour. `minimum`: the least that is charged for the hours of a job.
    `materials`: remedy -> allowance for its materials. `tax`: the name and per cent of a line that
    is added, or None. `rounding`: totals are multiples of this, or None. `decimals`: digits of the
    currency's minor unit. `look`: how its papers look.
    """

    path: Path
    name: str
    address: tuple[str, ...]
    currency: str
    decimals: int
    rate: Decimal
    minimum: Decimal
    materials: Mapping[str, Decimal]
    tax: tuple[str, Decimal] | None
    rounding: Decimal | None
    places: Mapping[str, Place]  # of the remedies in `materials`
    look: Look = field(default_factory=Look)

    def unknown_materials(self, checklist: Checklist) -> Iterator[str]:
        """Yield a sentence for each allowance that no remedy of a checklist goes by.

        It may belong to another checklist of the shop, so it is no error.
        """
        for remedy, place in self.places.items():
            if remedy not in checklist.remedies:
                mend = nearest(remedy, list(checklist.remedies))
                file, line, column = place
                said = f"`{remedy}` is no remedy of {checklist.id}"
                yield f"{file}:{line}:{column}: {said}{f' ({mend})' if mend else ''}"


def shop_of(inspection: Path, given: Path | None = None) -> Shop | None:
    """Return the shop of an inspection: a file that is given, or `shop.yaml` beside it, if any.

    Raises
    ------
    TailblockError
        The file cannot be used; the text says where and what would be right.
    """
    beside = inspection.absolute().parent / "shop.yaml"
    path = given or (beside if beside.is_file() else None)
    return None if path is None else read_shop(path)


def read_shop(path: Path) -> Shop:
    """Read the file of a shop.

    Raises
    ------
    NotThere, CannotRead
        The file cannot be had at all.
    ProblemsFound
        Every problem in the file, by place.
    """
    marked, problems = read_marked(read_whole(path), str(path))
    if marked is None:
        raise ProblemsFound(problems)
    if not isinstance(marked.data, dict):
        mend = "begin it with `tailblock: 1`, `currency:` and `rate:`"
        problem = Problem(*marked.root.place, "", "bad-value", "this is no file of a shop", mend)
        raise ProblemsFound((problem,))
    require_version(marked, marked.data)
    try:
        fields = ShopFields.model_validate(marked.data)
    except ValidationError as error:
        raise ProblemsFound(tuple(problems_of(error, ShopFields, marked.root, ""))) from None
    papers, wrong = look(fields, marked, path.parent)
    found = (*_too_fine(fields, marked), *wrong)
    if found:
        raise ProblemsFound(found)
    return Shop(
        path=path,
        name=fields.name or "",
        address=fields.address,
        currency=fields.currency,
        decimals=DECIMALS[fields.currency],
        rate=fields.rate,
        minimum=fields.minimum,
        materials=fields.materials,
        tax=(fields.tax.name, fields.tax.percent) if fields.tax else None,
        rounding=fields.rounding,
        places={
            remedy: marked.root.name_below(("materials", remedy)) for remedy in fields.materials
        },
        look=papers,
    )


def _too_fine(fields: ShopFields, marked: Marked) -> Iterator[Problem]:
    """Yield the amounts that have more decimals than the currency, and a rounding to nothing."""
    digits = DECIMALS[fields.currency]
    amounts: dict[tuple[str, ...], Decimal] = {
        ("rate",): fields.rate,
        ("minimum",): fields.minimum,
        **{("materials", remedy): amount for remedy, amount in fields.materials.items()},
    }
    if fields.rounding is not None:
        amounts["rounding",] = fields.rounding
        if not fields.rounding:
            place = marked.root.below(("rounding",)).place
            mend = "leave the field out if nothing is rounded"
            yield Problem(*place, "", "bad-value", "`rounding` must be more than 0", mend)
    for path, amount in amounts.items():
        if amount != round(amount, digits):
            message = f"{amount} has more decimals than {fields.currency} has: {digits}"
            yield Problem(*marked.root.below(path).place, "", "bad-value", message)
