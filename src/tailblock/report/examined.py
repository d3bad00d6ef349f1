"""What a report is built from: the stages before it, as far as a report reads them.

In: nothing. Out: `Examined`, the shape that the pipeline's result has, so that this folder need not
know how it came about.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from tailblock.advice import (
        Advice,
        CauseBelief,
        Grades,
        MayString,
        Reasons,
        Settling,
        Steadiness,
        Verdict,
    )
    from tailblock.advice.explanations import Explanations
    from tailblock.advice.hours import Piece, Promise, WorkHours
    from tailblock.advice.plan import Plan
    from tailblock.advice.returning import ReturnRisk
    from tailblock.advice.surprise import Surprise, Whole
    from tailblock.inference import Beliefs
    from tailblock.inspection.reconcile import CrossChecks
    from tailblock.inspection.record import Inspection
    from tailblock.inspection.speaks import Heard
    from tailblock.knowledge.checklist import Checklist


class Examined(Protocol):
    """One visit of an inspection with everything that was concluded from it.

    `visit` is the index of the visit; what was read on the visits before it belongs to the report
    too, and `heard` says of each of them what counts.
    """

    @property
    def checklist(self) -> Checklist: ...  # noqa: D102
    @property
    def inspection(self) -> Inspection: ...  # noqa: D102
    @property
    def visit(self) -> int: ...  # noqa: D102
    @property
    def heard(self) -> tuple[Heard, ...]: ...  # noqa: D102
    @property
    def beliefs(self) -> Beliefs: ...  # noqa: D102
    @property
    def cross_checks(self) -> CrossChecks | None: ...  # noqa: D102
    @property
    def causes(self) -> tuple[CauseBelief, ...]: ...  # noqa: D102
    @property
    def advice(self) -> Advice: ...  # noqa: D102
    @property
    def grades(self) -> Grades: ...  # noqa: D102
    @property
    def verdict(self) -> Verdict: ...  # noqa: D102
    @property
    def may_string(self) -> MayString: ...  # noqa: D102
    def hours_of(self, pieces: Iterable[Piece]) -> WorkHours | None: ...  # noqa: D102
    def promise_of(self, pieces: Iterable[Piece]) -> Promise | None: ...  # noqa: D102
    def return_risk(  # noqa: D102
        self,
        remedies: Sequence[str],
        about: Collection[str] | None = None,
        *,
        shares: bool = True,
    ) -> tuple[ReturnRisk, ...] | None: ...
    def then(self, visit: int) -> Mapping[str, float] | None: ...  # noqa: D102
    def on(self, visit: int) -> Mapping[str, float]: ...  # noqa: D102
    @property
    def settled_by(self) -> Mapping[str, Settling]: ...  # noqa: D102
    @property
    def plan(self) -> Plan: ...  # noqa: D102
    @property
    def reasons(self) -> Mapping[str, Reasons]: ...  # noqa: D102
    @property
    def looked_at(self) -> Collection[str]: ...  # noqa: D102
    @property
    def seen_at_bench(self) -> Collection[str]: ...  # noqa: D102
    @property
    def explanations(self) -> Explanations | None: ...  # noqa: D102
    @property
    def steadiness(self) -> Steadiness | None: ...  # noqa: D102
    @property
    def surprises(self) -> tuple[Surprise, ...] | None: ...  # noqa: D102
    @property
    def surprise(self) -> Whole | None: ...  # noqa: D102
