"""Why a check is advised, in one sentence that a repairer would say.

In: names, probabilities and what a check would tell. Out: text. Nothing is invented: the sentence
names the fault that the check would move most, and where that fault stands now.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from tailblock.advice.held_back import LIKELY
from tailblock.advice.ranking import weights
from tailblock.messages import N_, _

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from tailblock.advice.gain import Gain
    from tailblock.advice.results import Step
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Risk


def percent(probability: float) -> str:
    """Return a chance in whole per cent, 0 and 100 only if it is exactly that.

    >>> percent(0.342), percent(0.006), percent(0.001), percent(0.9999), percent(1.0)
    ('34 %', '1 %', 'under 1 %', 'over 99 %', '100 %')
    """
    whole = f"{100 * probability:.0f} %"
    if whole == "0 %" and probability > 0.0:
        return _("under 1 %")
    if whole == "100 %" and probability < 1.0:
        return _("over 99 %")
    return whole


def inline(name: str) -> str:
    """Return a name as it stands within a sentence; an abbreviation keeps its capitals.

    >>> inline("Bridge glue joint opening"), inline("X lap open")
    ('bridge glue joint opening', 'X lap open')
    """
    return name[0].lower() + name[1:] if name[1:2].islower() else name


def in_setup(setup: Mapping[str, str]) -> str:
    """Say a state of the instrument within a sentence.

    >>> in_setup({"strings": "at-pitch", "truss-rod-cover": "off"})
    'strings at pitch, truss rod cover off'
    """
    return ", ".join(f"{name} {state}".replace("-", " ") for name, state in setup.items())


def moves_most(
    checklist: Checklist, gain: Gain, among: Collection[str] | None = None
) -> str | None:
    """Return the fault that a check tells most about, by weight; None if it tells nothing."""
    matters = weights(checklist)
    worth = {
        fault: bits * matters[fault]
        for fault, bits in gain.about.items()
        if among is None or fault in among
    }
    best = max(worth, key=worth.__getitem__, default=None)
    return best if best is not None and worth[best] > 0.0 else None


# What a check with a risk brings with it.
RISKS: Mapping[Risk, str] = MappingProxyType(
    {
        "heat": N_("It brings heat to the instrument"),
        "solvent": N_("It brings solvent to the finish"),
        "load": N_("It adds load"),
    }
)
NAMED = 2  # faults that a sentence about several checks names


class Reasoning:
    """Writes the reasons of one visit."""

    def __init__(
        self, checklist: Checklist, probability: Mapping[str, float], danger: Collection[str]
    ) -> None:
        self._checklist = checklist
        self._weights = weights(checklist)
        self._probability = probability
        self._danger = danger

    def sentence(
        self, step: Step, tells: str, check: str, gain: Gain, decides: Sequence[str]
    ) -> str:
        """Return the reason for a check.

        Parameters
        ----------
        step
            Why it stands where it stands.
        tells, check
            The check that counts, and the one to do: an input of the first, or the same.
        gain
            What it would tell.
        decides
            The unread checks that hang on it, if it is a gate; the answered ones if none is unread.
        """
        among = self._danger if step == "clears" else None
        fault = moves_most(self._checklist, gain, among)
        first = (
            "" if tells == check else _("Is needed for: {tells}. ").format(tells=self._title(tells))
        )
        return first + self._because(step, fault, decides) + self._risk(step, check)

    def bundle(
        self,
        setup: Mapping[str, str],
        moved: Mapping[str, str],
        setup_minutes: float,
        minutes: float,
        gains: Sequence[Gain],
    ) -> str:
        """Return why checks are done together.

        Parameters
        ----------
        setup
            The state that they are read in.
        moved
            The states that differ from those of the bundle before; none if nothing is changed.
        setup_minutes, minutes
            What the change costs, and the checks after it.
        gains
            What each check would tell.
        """
        where = (
            _("With {moved}").format(moved=in_setup(moved))
            if moved
            else _("As it stands ({setup})").format(setup=in_setup(setup))
        )
        if setup_minutes:
            once = "" if len(gains) == 1 else _(", paid once for all")
            where = _("{where} ({setup_minutes:g} min to get there{once})").format(
                where=where, setup_minutes=setup_minutes, once=once
            )
        number = _("1 check") if len(gains) == 1 else _("{gains} checks").format(gains=len(gains))
        worth: dict[str, float] = {}
        for gain in gains:
            for fault, bits in gain.about.items():
                worth[fault] = worth.get(fault, 0.0) + bits * self._weights[fault]
        told = sorted((f for f in worth if worth[f] > 0.0), key=lambda f: -worth[f])[:NAMED]
        about = ""
        if told:
            first, *then = (inline(self._checklist.faults[fault].name) for fault in told)
            about = _("; {more} most about {first}").format(
                more=_("it tells") if len(gains) == 1 else _("they tell"), first=first
            )
            about += "".join(f"; after it about {name}" for name in then)
        return _("{where}: {number}, {minutes:g} min{about}.").format(
            where=where, number=number, minutes=minutes, about=about
        )

    def _because(self, step: Step, fault: str | None, decides: Sequence[str]) -> str:
        if step == "gate":
            return _("Decides whether other answers count: {decides}.").format(
                decides=self._listed(decides)
            )
        stands = self._standing(fault) if fault else ""
        told = _("tells most about {stands}").format(stands=stands) if fault else ""
        if step == "opening":
            return _("Belongs to the first looks of this visit{more}.").format(
                more=_(", and {told}").format(told=told) if told else ""
            )
        if step == "asked":
            return _("Ask while the player is there: {told}.").format(told=told)
        if step == "at-pitch":
            return _("Can only be read at pitch, and it stands at pitch now: {told}.").format(
                told=told
            )
        if step == "clears":
            likely = fault is not None and self._probability[fault] >= LIKELY
            verb = _("Tells most about") if likely else _("Could clear")
            return _("{verb} {stands}, which holds moves back.").format(verb=verb, stands=stands)
        return _("Tells most about {stands}.").format(stands=stands)

    def _risk(self, step: Step, check: str) -> str:
        """Return why a check with a risk comes late, unless the author of the list put it there."""
        entry = self._checklist.checks[check]
        risk = entry.risk or ("load" if entry.loads else None)
        if risk is None or step == "opening":
            return ""
        return _(" {risks}, so it comes after all harmless looks at the same faults.").format(
            risks=_(RISKS[risk])
        )

    def _standing(self, fault: str) -> str:
        name = inline(self._checklist.faults[fault].name)
        return _("{name} (now {probability})").format(
            name=name, probability=percent(self._probability[fault])
        )

    def _title(self, check: str) -> str:
        return inline(self._checklist.checks[check].title)

    def _listed(self, checks: Sequence[str]) -> str:
        named = [self._title(check) for check in checks[:2]]
        more = len(checks) - len(named)
        return ", ".join(named) + (_(" and {more} more").format(more=more) if more else "")
