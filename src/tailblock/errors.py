"""What can go wrong, said in one sentence that names the place and the mend.

Problems in files are *returned* as values (`Problem`), all of a run together. Exceptions are for
what stops one request; the edge turns any `TailblockError` into exit code 2.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


class TailblockError(Exception):
    """Base of everything a user can cause; its text is one line fit to be shown."""


@dataclass(frozen=True, order=True, slots=True)
class Problem:
    """One finding in a file, printed so that an editor can jump to it.

    `entry` is the id of the checklist entry, or the visit and check of a reading; `rule` is the
    name of the rule that found it; `mend` says what would be right.
    """

    file: str
    line: int
    column: int
    entry: str
    rule: str
    message: str
    mend: str = ""
    severity: Literal["error", "warning"] = "error"

    def __str__(self) -> str:
        entry = f"{self.entry}: " if self.entry else ""
        mend = f" ({self.mend})" if self.mend else ""
        place = f"{self.file}:{self.line}:{self.column}"
        return f"{place}: {self.severity} [{self.rule}] {entry}{self.message}{mend}"


# More lines than this scroll the first ones, which are usually the cause, off the screen.
SHOWN_AT_ONCE = 40


class ProblemsFound(TailblockError):
    """A file cannot be used as it stands; carries every problem found in it."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        lines = [str(problem) for problem in problems[:SHOWN_AT_ONCE]]
        if len(problems) > SHOWN_AT_ONCE:
            lines.append(f"... and {len(problems) - SHOWN_AT_ONCE} problems more")
        super().__init__("\n".join(lines))
