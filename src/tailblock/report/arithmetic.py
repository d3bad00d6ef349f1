"""The bench arithmetic beside recommended work: what the readings of the visit say about its size.

In: `Examined`, the id of a remedy. Out: `BenchFigure`s, each with its ± and what it rests on; none
where the readings are not there. No probability rests on them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.errors import TailblockError
from tailblock.inspection.groups import measured
from tailblock.measures.figures import FIGURES
from tailblock.measures.working import work_out
from tailblock.messages import _
from tailblock.report.measured import ruler
from tailblock.report.model import BenchFigure
from tailblock.report.sentences import ARITHMETIC, TOO_LITTLE, USUAL_SIZES
from tailblock.report.wording import clause, listed, shown, spread

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tailblock.knowledge.entries import LengthName, SumName
    from tailblock.measures.working import Working
    from tailblock.report.examined import Examined

# What a figure takes -> the length of the checklist's `geometry` that is read for it.
LENGTHS: Mapping[str, LengthName] = MappingProxyType(
    {
        "projection": "projection",
        "action": "action-bass",
        "exposure": "exposure",
        "relief": "relief-bass",
        "fret_height": "fret-height",
        "groove": "groove",
        "gap_at_first": "nut-gap",
    }
)
WANTED: Mapping[str, str] = MappingProxyType({"action_wanted": "action"})  # the middle of normal
# What nobody reads at an inspection: value and standard uncertainty, from memory.
USUAL: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "scale_length": (645.0, 6.0),  # mm
        "heel_height": (85.0, 8.0),
        "tongue_length": (90.0, 8.0),
        "unevenness": (0.03, 0.02),
    }
)
GAUGES: Mapping[str, float] = MappingProxyType(  # first string of a set [mm], by its trait
    {"medium": 0.3302, "light": 0.3048, "extra-light": 0.2540}
)
LEAST_SHARE = 0.005  # of the variance; an assumption that makes less of it is not worth a word
LIGHTER: Mapping[str, str] = MappingProxyType({"medium": "light", "light": "extra-light"})


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A figure to be worked out; `says` finds its words, if they are not those of the figure.

    `same` gives an argument the value of another quantity or of an earlier figure, `fixed` a value.
    With `positive` a result that is not above zero says that there is nothing to do.
    """

    figure: str
    says: str = ""
    same: Mapping[str, str] = field(default_factory=dict)
    fixed: Mapping[str, float] = field(default_factory=dict)
    positive: bool = False


_AIM = (_Wanted("aim_lost", positive=True), _Wanted("neck_angle_lost", positive=True))
_RESET = (
    *_AIM,
    _Wanted("heel_cut", same={"rise": "aim_lost"}, positive=True),
    _Wanted("tongue_wedge", same={"rise": "aim_lost"}, positive=True),
)
_LIGHTER = (
    _Wanted("tension_saved", positive=True),
    _Wanted(
        "tension_saved",
        says="tension_saved_by_a_tone",
        same={"first_gauge_after": "first_gauge"},
        fixed={"semitones_lower_after": 2.0},
    ),
)
SUMS: Mapping[SumName, tuple[_Wanted, ...]] = MappingProxyType(
    {
        "aim": _AIM,
        "reset": _RESET,
        "saddle": (_Wanted("saddle_for_action"),),
        "dressing": (_Wanted("height_after_dressing"),),
        "nut-slot": (_Wanted("nut_slot_lowering", positive=True),),
        "rod": (_Wanted("action_at_normal_relief"),),
        "lighter-strings": _LIGHTER,
    }
)


class Arithmetic:
    """The figures that the readings of one visit allow."""

    def __init__(self, examined: Examined) -> None:
        self.examined = examined

    def beside(self, remedy: str) -> tuple[tuple[BenchFigure, ...], str]:
        """Return the figures that go with a remedy, and what all of them rest on."""
        known = dict(self._known)
        figures, workings = [], []
        for wanted in self._wanted(remedy):
            own = {name: known[of] for name, of in wanted.same.items() if of in known}
            own |= {name: (value, 0.0) for name, value in wanted.fixed.items()}
            worked = _worked(wanted.figure, known | own)
            if worked is None or (wanted.positive and worked.value <= 0):
                continue
            known[wanted.figure] = (worked.value, worked.u)
            workings.append((worked, {*wanted.same, *wanted.fixed}))
            figures.append(self._figure(worked, wanted.says or wanted.figure))
        return tuple(figures), self._rests_on(workings) if figures else ""

    def _wanted(self, remedy: str) -> Iterator[_Wanted]:
        """Yield what the checklist wants worked out beside a remedy."""
        for sum_ in self.examined.checklist.arithmetic.values():
            if remedy in sum_.remedies:
                yield from SUMS[sum_.id]

    def _check(self, argument: str) -> str:
        """Return the check that is read for an argument; empty if the checklist has none."""
        length = self.examined.checklist.geometry.get(LENGTHS[argument])
        return length.check if length else ""

    @cached_property
    def _read(self) -> dict[str, tuple[float, float]]:
        """Return what was read on the visit, in its preferred setup, and no gate silences."""
        examined = self.examined
        visit, heard = examined.inspection.visits[examined.visit], examined.heard[examined.visit]
        gated = {one.reading for one in heard.silent if one.kind == "gate"}
        means = measured(examined.checklist, visit)
        found = {}
        for name in LENGTHS:
            if (check := self._check(name)) in heard.gated:
                continue
            usable = (mean for mean in means.get(check, ()) if not gated & set(mean.readings))
            if mean := next(usable, None):
                found[name] = (mean.value, mean.u)
        return found

    @cached_property
    def _known(self) -> dict[str, tuple[float, float]]:
        """Return every quantity that is known, read ones before those that are as usual."""
        known = dict(USUAL) | self._read
        instrument, checklist = self.examined.inspection.instrument, self.examined.checklist
        if instrument.scale_length is not None:
            known["scale_length"] = (instrument.scale_length, 0.0)
        for name, quantity in WANTED.items():
            check = checklist.checks.get(self._check(quantity))
            if check is None or check.measure is None:
                continue
            low, high = ruler(check, check.measure, instrument.traits, checklist).normal
            if low is not None and high is not None:
                known[name] = ((low + high) / 2, 0.0)
        load = instrument.traits.get("string-load", "")
        if instrument.traits.get("strings") == "steel" and load in LIGHTER:
            known["first_gauge"] = (GAUGES[load], 0.0)
            known["first_gauge_after"] = (GAUGES[LIGHTER[load]], 0.0)
        return known

    def _figure(self, worked: Working, says: str) -> BenchFigure:
        """Put a result into words."""
        row = worked.figure
        most = worked.by_share[0].name if len(worked.by_share) > 1 else ""
        because = (
            _("; most of the ± is from {most}").format(most=self._called(most)) if most else ""
        )
        too_little = TOO_LITTLE.get(row.name)
        remark = f". {_(too_little[1])}" if too_little and worked.value < too_little[0] else ""
        amount = _plus_minus(worked.value, worked.u, row.result)
        return BenchFigure(
            figure=row.name,
            dimension=row.result,
            value=worked.value,
            uncertainty=worked.u,
            text=f"{_(ARITHMETIC[says])}: {amount}{because}{remark}",
        )

    def _rests_on(self, workings: list[tuple[Working, set[str]]]) -> str:
        """Say from which readings some figures come, and what was taken as usual."""
        read: dict[str, None] = {}
        usual: dict[str, None] = {}
        for worked, own in workings:
            for one in worked.given:
                if one.name in own or (one.u and one.share < LEAST_SHARE):
                    continue
                value = _plus_minus(one.value, one.u, one.dimension)
                text = f"{self._called(one.name)} {value}"
                if one.name in self._read:
                    read[text] = None
                elif one.u or one.name in WANTED or (one.assumed and one.value):
                    usual[text] = None
        taken = (
            _(" Not read, and taken as usual: {usual}.").format(usual=listed(tuple(usual)))
            if usual
            else ""
        )
        return (
            _("From {read}.{taken}").format(read=listed(tuple(read)), taken=taken)
            if read
            else taken.strip()
        )

    def _called(self, argument: str) -> str:
        """Return what an argument is called: its check's title, or what stands for its name."""
        if argument in self._read:
            return clause(self.examined.checklist.checks[self._check(argument)].title)
        return _(USUAL_SIZES.get(argument, argument.replace("_", " ")))


def _plus_minus(value: float, u: float, dimension: str) -> str:
    return f"{shown(value, dimension)} ± {spread(u, dimension)}" if u else shown(value, dimension)


def _worked(figure: str, known: Mapping[str, tuple[float, float]]) -> Working | None:
    """Return a figure if all its arguments are there and it holds for them."""
    takes = FIGURES[figure].arguments
    values = {name: value for name, (value, _) in known.items() if name in takes}
    u = {name: spread_ for name, (_, spread_) in known.items() if name in takes and spread_}
    try:
        return work_out(figure, values, u)
    except TailblockError:
        return None
