"""How a drill is looked back on: a choice at a time when asked, and the whole at the end.

In: a `Choice` or a `Debrief`. Out: lines on the screen. Traps, harm and the reasons of an order are
the checklist's own words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tailblock.cli.phrases import check_text
from tailblock.report.wording import counted, listed, minutes, shown, words_of_level

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tailblock.cli.output import Screen
    from tailblock.inspection.record import Answer
    from tailblock.knowledge.checklist import Checklist
    from tailblock.knowledge.entries import Check
    from tailblock.practice.cases import Case
    from tailblock.practice.debrief import Debrief, Trap
    from tailblock.practice.drill import Choice
    from tailblock.practice.first_step import First, Judged
    from tailblock.practice.unsafe import Unsafe

MOST = 5  # traps, unexplained answers and costly choices that a person takes in

_JUDGED: Mapping[Judged, str] = {
    "right": "That is right.",
    "slacken-first": "It stands at pitch: slacken it before anything else, because of",
    "unsafe": "Not to pitch, because of",
    "unseen": "Heat or solvent before a look at the bench has shown it. It would be for",
    "effect": "It mends what hurts, not what brought it about; it comes back while this stays:",
    "beside": "Nothing that is there needs it first.",
    "unsaid": "You did not say what comes first.",
}


def answer_words(check: Check, answer: Answer) -> str:
    """Write what a check found, a value in both systems."""
    if answer.value is None or check.measure is None:
        return words_of_level(check, answer.level or "unknown")
    return shown(answer.value, check.measure.quantity)


def show_feedback(screen: Screen, checklist: Checklist, choice: Choice) -> None:
    """Print what a choice was worth beforehand, what the advice would have done, and its trap."""
    check = checklist.checks[choice.check]
    screen.say(
        f"{check.title}: expected to tell {choice.bits:.3f} bits in {minutes(choice.minutes)}.",
        indent=2,
    )
    if choice.best != choice.check:
        best = check_text(choice.best, checklist)
        screen.say(f"Most in as long: {best}, {choice.best_bits:.3f} bits.", indent=2)
    if choice.advised is not None and not choice.as_advised:
        told = check_text(choice.advised.check, checklist)
        screen.say(f"The advice: {told}. {choice.advised.reason}", indent=2)
    elif choice.as_advised:
        screen.say("The advice would have done the same.", indent=2)
    if check.trap:
        screen.say(f"Trap: {check.trap}", indent=2)
    if check.look_alike:
        screen.say(f"Mistaken for it: {check.look_alike}", indent=2)


def show_debrief(screen: Screen, case: Case, told: Debrief) -> None:
    """Print what was found, what it cost, what misled, and what could have done harm."""
    checklist = case.checklist
    screen.say()
    screen.say("Debrief", "title")
    for what, faults in (
        ("Found", told.found),
        ("Missed", told.missed),
        ("Named, and not there", told.wrong),
        ("Also there, and named", told.besides),
    ):
        if faults:
            screen.say(f"{what}: {_faults(faults, checklist)}.")
    for fault, harmless in told.mistaken:
        screen.say(
            f"{checklist.faults[fault].name} was {checklist.faults[harmless].name}: "
            f"{checklist.faults[harmless].plain}",
            indent=2,
        )
    _show_first(screen, checklist, told.first)
    _show_cost(screen, checklist, told)
    _show_forgone(screen, checklist, told)
    _show_traps(screen, checklist, told)
    _show_unsafe(screen, checklist, told.unsafe)
    stage = checklist.stages.get(case.stage)
    if stage and stage.why_this_order:
        screen.say("Why the visit begins as it does:", "title")
        screen.say(stage.why_this_order.strip(), indent=2)


def _show_first(screen: Screen, checklist: Checklist, first: First) -> None:
    because = f" {_faults(first.because, checklist)}." if first.because else ""
    told = "" if first.judged == "right" else because
    said = f"First of all {first.said}: " if first.said else ""
    screen.say(f"{said}{_JUDGED[first.judged]}{told}")


def _show_cost(screen: Screen, checklist: Checklist, told: Debrief) -> None:
    """Print the score: bits and minutes against the advised order on the same instrument."""
    screen.say(
        f"Score, after {minutes(told.minutes)} and "
        f"{counted(len(told.choices), '{number} check', '{number} checks')}:",
        "title",
    )
    way = "farther from" if told.regret_bits >= 0 else "nearer to"
    screen.say(
        f"{abs(told.regret_bits):.2f} bits {way} the truth than the advice after as long "
        f"({told.bits:.2f} against {told.same_minutes:.2f}).",
        indent=2,
    )
    if told.regret_minutes is None:
        screen.say("The advice had not come as near by then.", indent=2)
    else:
        screen.say(
            f"The advice was as near after {minutes(told.as_near or 0.0)}: "
            f"{minutes(told.regret_minutes)} sooner.",
            indent=2,
        )
    if told.hints:
        screen.say(
            f"It was asked {counted(told.hints, '{number} time', '{number} times')}.", indent=2
        )
    did = [checklist.checks[check].title for check in told.advice_did]
    if did:
        screen.say(f"It would have done: {'; '.join(did)}.", "quiet", indent=2)


def _show_forgone(screen: Screen, checklist: Checklist, told: Debrief) -> None:
    if told.forgone:
        screen.say("Minutes that could have told more:", "title")
    for choice in told.forgone[:MOST]:
        screen.say(
            f"{check_text(choice.check, checklist)}: {choice.bits:.3f} bits in "
            f"{minutes(choice.minutes)}; {check_text(choice.best, checklist)} would have told "
            f"{choice.best_bits:.3f}",
            indent=2,
        )


def _show_traps(screen: Screen, checklist: Checklist, told: Debrief) -> None:
    if told.traps:
        screen.say("Traps:", "title")
    for check, traps in _by_check(told.traps)[:MOST]:
        how = listed([_misled(trap, checklist) for trap in traps])
        screen.say(f"{checklist.checks[check].title} {how}.", indent=2)
        screen.say(f"Trap: {checklist.checks[check].trap}", indent=4)
        if checklist.checks[check].look_alike:
            screen.say(f"Mistaken for it: {checklist.checks[check].look_alike}", indent=4)
    for names, title in (
        (told.unexplained, "Off normal, and nothing you named explains it; what else would do it?"),
        (told.silent, "Answers that did not count, because of what decides about them:"),
    ):
        if names:
            screen.say(title, "title")
        for check in names[:MOST]:
            screen.say(check_text(check, checklist), indent=2)


def _by_check(traps: Iterable[Trap]) -> list[tuple[str, list[Trap]]]:
    found: dict[str, list[Trap]] = {}
    for trap in traps:
        found.setdefault(trap.check, []).append(trap)
    return sorted(found.items(), key=lambda entry: -len(entry[1]))


def _misled(trap: Trap, checklist: Checklist) -> str:
    verb = "hid" if trap.how == "hid" else "pointed to"
    there = "which is there" if trap.how == "hid" else "which is not there"
    return f"{verb} {checklist.faults[trap.fault].name}, {there}"


def _show_unsafe(screen: Screen, checklist: Checklist, unsafe: Iterable[Unsafe]) -> None:
    for move in unsafe:
        screen.say(
            f"Unsafe after {counted(move.after, '{number} check', '{number} checks')}: "
            f"{_move(move, checklist)}",
            "danger",
        )
        for line in _why(move, checklist):
            screen.say(line, indent=2)


def _move(move: Unsafe, checklist: Checklist) -> str:
    what = check_text(move.what, checklist).replace("-", " ")
    if move.move == "tension":
        return f"more tension ({what}) while a danger under tension was not cleared."
    if move.move == "load":
        return f"{check_text(move.what, checklist)} adds load on what was not cleared."
    spares = check_text(move.because[0], checklist)
    return (
        f"{check_text(move.what, checklist)} brings {move.move} before a harmless look: {spares}."
    )


def _why(move: Unsafe, checklist: Checklist) -> Iterator[str]:
    """Yield why it matters: what comes of the fault, or what the caution says."""
    if move.move in ("tension", "load"):
        for id_ in move.because[:MOST]:
            fault = checklist.faults[id_]
            yield f"{fault.name}: {fault.left_alone or fault.plain}"
        return
    for caution in checklist.cautions.values():
        if caution.hazard == move.move:
            yield f"{caution.title}: {caution.text}"
            return


def _faults(faults: Iterable[str], checklist: Checklist) -> str:
    return "; ".join(f"{checklist.faults[fault].name} ({fault})" for fault in faults)
