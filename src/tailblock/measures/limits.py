"""Where a formula stops being true.

In: an argument's name and value with the range that a formula holds in. Out: nothing, or an
`OutOfRange` error that names all three.
"""

from __future__ import annotations

from tailblock.errors import TailblockError


class OutOfRange(TailblockError, ValueError):
    """A value outside the range in which a formula holds."""

    def __init__(self, argument: str, value: float, low: float, high: float) -> None:
        self.argument, self.value, self.low, self.high = argument, value, low, high
        name = argument.replace("_", " ")
        super().__init__(f"{name} is {value:g}; the formula holds from {low:g} to {high:g}")


def within(argument: str, value: float, low: float, high: float) -> None:
    """Refuse a value outside `low` to `high`, both included, and one that is not a number.

    Raises
    ------
    OutOfRange
        The value lies outside.

    >>> within("humidity", 45, 0, 100)
    """
    if not low <= value <= high:
        raise OutOfRange(argument, value, low, high)
