"""The drawings of docs/worked-examples.md, from the same formulas as its numbers.

In: nothing. Out: `DRAWINGS`, file name -> SVG. Run as a script it writes them into docs/pictures;
the test beside it fails when they are no longer what this makes.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

from tailblock.measures.figures import evaluate

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

PICTURES = Path(__file__).parents[2] / "docs" / "pictures"
INK, WOOD, NOW, THEN, QUIET = "#222222", "#e8d5b5", "#a33327", "#1d5f8a", "#6b6b6b"
SCALE = 648.0


@dataclass
class Sheet:
    """A drawing that grows shape by shape; lengths in pixels."""

    width: int
    height: int
    title: str
    shapes: list[str] = field(default_factory=list)

    def line(
        self, x1: float, y1: float, x2: float, y2: float, colour: str = INK, *, dashed: bool = False
    ) -> None:
        dash = ' stroke-dasharray="7 5"' if dashed else ""
        self.shapes.append(
            f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" stroke="{colour}" '
            f'stroke-width="2"{dash}/>'
        )

    def shape(self, points: list[tuple[float, float]], colour: str = WOOD) -> None:
        corners = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self.shapes.append(f'<polygon points="{corners}" fill="{colour}" stroke="{INK}"/>')

    def box(self, x: float, y: float, width: float, height: float, colour: str = WOOD) -> None:
        self.shape([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], colour)

    def text(
        self, x: float, y: float, text: str, colour: str = INK, *, size: int = 15, at: str = "start"
    ) -> None:
        self.shapes.append(
            f'<text x="{x:.1f}" y="{y:.1f}" fill="{colour}" font-size="{size}" '
            f'text-anchor="{at}">{escape(text)}</text>'
        )

    def span(self, x1: float, y1: float, x2: float, y2: float, colour: str = INK) -> None:
        """Draw a measure between two points of a vertical or a horizontal, with a tick at each."""
        self.line(x1, y1, x2, y2, colour)
        across = (0, 5) if y1 == y2 else (5, 0)
        for x, y in ((x1, y1), (x2, y2)):
            self.line(x - across[0], y - across[1], x + across[0], y + across[1], colour)

    def svg(self) -> str:
        inside = "\n  ".join(self.shapes)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width} {self.height}" '
            f'width="{self.width}" height="{self.height}" role="img" font-family="sans-serif">\n'
            f"  <title>{escape(self.title)}</title>\n"
            f'  <rect width="{self.width}" height="{self.height}" fill="#ffffff"/>\n'
            f"  {inside}\n</svg>\n"
        )


def mm(value: float) -> str:
    """Write a length to 0.01 mm, halves away from zero as everywhere else."""
    return f"{Decimal(repr(value)).quantize(Decimal('0.01'), ROUND_HALF_UP)} mm"


def neck_angle() -> str:
    """Draw the first example: the line of the frets at the bridge, and the wood to take."""
    aim, exposure, action, wanted = -3.0, 2.5, 2.85, 2.2
    sizes = {"scale_length": SCALE}
    lever = {"exposure": exposure, "action": action, "action_wanted": wanted, **sizes}
    rise, _ = evaluate("reset_rise", lever | {"exposure_wanted": 3.6}, {})
    rise = round(rise, 2)  # each step begins with what the one before it wrote down
    cut, _ = evaluate("heel_cut", {"rise": rise, "heel_height": 85.0, **sizes}, {})
    wedge, _ = evaluate("tongue_wedge", {"rise": rise, "tongue_length": 90.0, **sizes}, {})
    join, _ = evaluate("fret_position", {"fret": 14.0, **sizes}, {})
    sheet = Sheet(
        1040, 610, "A lost neck angle: the straightedge at the bridge, and the wood to take"
    )
    _side_view(sheet, aim=aim, exposure=exposure, action=action, rise=rise, join=join)
    _heel(sheet, round(cut, 2))
    _tongue(sheet, wedge)
    return sheet.svg()


def _side_view(
    sheet: Sheet, *, aim: float, exposure: float, action: float, rise: float, join: float
) -> None:
    """Draw the neck as a level line, heights ten times as large as lengths."""
    along, up, left, level = 1.25, 12.5, 30.0, 190.0
    x_saddle, x_join, x_12 = (left + along * place for place in (SCALE + 2, join, SCALE / 2))
    y_bridge = level + up * aim
    y_top = y_bridge + 105
    sheet.text(
        30, 28, "1  Straightedge on the frets, heights ten times as large as lengths", size=17
    )
    sheet.box(x_join, y_top, 1010 - x_join, 14)
    sheet.text(x_join + 60, y_top + 34, "top", QUIET)
    sheet.box(left, level, x_join - left, 22)
    sheet.text(left + 14, level + 16, "fingerboard", QUIET, size=13)
    sheet.box(x_saddle - 35, y_bridge, 50, y_top - y_bridge)
    sheet.text(x_saddle - 32, y_bridge + 86, "bridge", QUIET, size=13)
    sheet.box(x_saddle - 4, y_bridge - up * exposure, 8, up * exposure, "#ffffff")
    sheet.line(left, level - up * 0.4, x_saddle, y_bridge - up * exposure, QUIET)
    sheet.text(left + 470, level - 62, "string", QUIET)
    sheet.line(left, level, x_saddle, level, NOW)
    sheet.text(x_join + 70, level + 22, "straightedge", NOW)
    sheet.line(x_join, level, x_saddle, level - up * rise, THEN, dashed=True)
    sheet.text(x_join + 70, level + 44, f"after the reset, {mm(rise)} higher", THEN)
    sheet.span(x_saddle + 20, level, x_saddle + 20, y_bridge, NOW)
    sheet.text(x_saddle + 28, level - 12, f"{mm(-aim)} under", NOW)
    sheet.text(x_saddle + 28, level + 6, "the bridge top", NOW)
    sheet.span(x_saddle + 20, y_bridge, x_saddle + 20, y_bridge - up * exposure)
    sheet.text(x_saddle + 28, y_bridge - 12, f"saddle {mm(exposure)}")
    sheet.span(x_12, level, x_12, level - up * action, NOW)
    sheet.text(x_12 - 8, level - 48, f"action over fret 12: {mm(action)}", NOW, at="end")
    y_rule = y_top + 52
    sheet.span(x_join, y_rule, x_saddle, y_rule)
    reach = SCALE + 2 - join
    sheet.text(
        (x_join + x_saddle) / 2, y_rule + 20, f"D = {mm(reach)}, joint to saddle", at="middle"
    )
    sheet.span(left, y_rule, x_join, y_rule)
    sheet.text((left + x_join) / 2, y_rule + 20, f"nut to fret 14: {mm(join)}", at="middle")


def _heel(sheet: Sheet, cut: float) -> None:
    """Draw the cheek of the heel, two pixels a mm down and forty across for what comes off."""
    left, top, tall = 120.0, 410.0, 170.0
    wide = 40 * cut
    sheet.text(30, 376, "2  Cheek of the heel, the cut twenty times too wide", size=17)
    sheet.box(left, top, 130, tall)
    sheet.shape([(left + 130, top), (left + 130, top + tall), (left + 130 - wide, top + tall)], NOW)
    sheet.text(left + 8, top + 90, "heel", QUIET)
    sheet.text(left + 140, top + 45, "body on this side", QUIET, size=13)
    sheet.text(left + 140, top + 5, "top of the joint: 0", NOW)
    half, _ = evaluate(
        "cheek_taper",
        {"cut_at_top": 0.0, "cut_at_cap": cut, "heel_height": 85.0, "depth": 42.5},
        {},
    )
    sheet.text(left + 140, top + tall / 2 + 5, f"half way down: {mm(half)}", NOW)
    sheet.text(left + 140, top + tall + 5, f"at the heel cap: {mm(cut)}", NOW)
    sheet.span(left - 20, top, left - 20, top + tall)
    sheet.text(left - 28, top + tall / 2, "85 mm", at="end")


def _tongue(sheet: Sheet, wedge: float) -> None:
    """Draw the wedge under the extension, three pixels a mm along and sixty up."""
    left, level, long = 570.0, 500.0, 270.0
    thick = 60 * wedge
    sheet.text(540, 376, "3  Wedge under the extension, twenty times too thick", size=17)
    sheet.shape([(left, level), (left + long, level), (left + long, level - thick)], THEN)
    sheet.shape(
        [
            (left, level),
            (left + long, level - thick),
            (left + long, level - thick - 26),
            (left, level - 26),
        ]
    )
    sheet.box(left - 20, level, long + 60, 14)
    sheet.text(left + 20, level - 52, "fingerboard", QUIET, size=13)
    sheet.text(left + long + 8, level - thick / 2 + 5, mm(wedge), THEN)
    sheet.span(left, level + 32, left + long, level + 32)
    sheet.text(left + long / 2, level + 52, "90 mm from the joint to the soundhole", at="middle")


def string_change() -> str:
    """Draw the second example: the moment on the bridge, and what three changes leave of it."""
    height = 12.5
    medium = {"first_gauge": 0.3302, "scale_length": SCALE}
    before, _ = evaluate("six_string_tension", medium, {})
    changes: tuple[tuple[str, dict[str, float]], ...] = (
        ("medium set, as it is", {}),
        ("light set", {"first_gauge_after": 0.3048}),
        ("medium, a whole tone lower", {"first_gauge_after": 0.3302, "semitones_lower_after": 2.0}),
        ("light, a whole tone lower", {"first_gauge_after": 0.3048, "semitones_lower_after": 2.0}),
    )
    sheet = Sheet(1000, 480, "A lighter load: pull of the strings and moment on the bridge")
    _bridge(sheet, before, height)
    sheet.text(430, 40, "2  Pull of all strings, and moment on the bridge", size=17)
    for place, (name, change) in enumerate(changes):
        saved = evaluate("tension_saved", medium | change, {})[0] if change else 0.0
        pull = before - saved
        moment, _ = evaluate("bridge_moment", {"tension": pull, "string_height": height}, {})
        y = 76 + 92 * place
        sheet.text(430, y, name)
        sheet.box(430, y + 10, 0.42 * pull, 34, THEN if change else NOW)
        said = f"{pull:.0f} N, {moment / 1000:.1f} N m"
        sheet.text(440, y + 33, said, "#ffffff")
        if change:
            sheet.text(438 + 0.42 * pull, y + 33, f"{saved:.0f} N less", THEN)
    return sheet.svg()


def _bridge(sheet: Sheet, pull: float, height: float) -> None:
    """Draw the bridge from the side, six pixels a mm along and sixteen up."""
    along, up, left, top = 6.0, 16.0, 130.0, 330.0
    sheet.text(30, 40, "1  Bridge from the side, too high by 8 to 3", size=17)
    sheet.box(30, top, 350, 16)
    sheet.text(40, top + 40, "top", QUIET)
    sheet.box(left, top - up * 9, along * 28, up * 9)
    sheet.text(left + 60, top - 60, "bridge", QUIET)
    crown = top - up * height
    sheet.box(left + 40, crown, 14, up * 3.5, "#ffffff")
    sheet.line(40, crown, left + 47, crown, NOW)
    sheet.shape([(40, crown), (58, crown - 7), (58, crown + 7)], NOW)
    sheet.text(40, crown - 16, f"T = {pull:.0f} N", NOW)
    sheet.line(left + 47, crown, left + 110, top - up * 9, QUIET)
    sheet.span(80, crown, 80, top)
    sheet.text(88, crown + 90, "H")
    sheet.text(30, top + 80, f"H = {height} mm: strings over the top at the saddle")
    sheet.text(30, top + 106, f"moment = T × H = {pull * height / 1000:.1f} N m")


DRAWINGS: Mapping[str, Callable[[], str]] = {
    "neck-angle.svg": neck_angle,
    "string-change.svg": string_change,
}

if __name__ == "__main__":
    for name, draw in DRAWINGS.items():
        (PICTURES / name).write_text(draw(), encoding="utf-8")
