"""The growth series as SVG, byte for byte the same for the same figures."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import matplotlib as mpl
from matplotlib.figure import Figure

if TYPE_CHECKING:
    from collections.abc import Sequence

_CURVES = (("(a) posteriors", "#1d5f8a", "o"), ("(a)+(b)+gains", "#a33327", "s"))


def draw(name: str, rows: Sequence[Sequence[float]]) -> str:
    """Return a plot of milliseconds against a count as SVG.

    Parameters
    ----------
    name
        What is counted.
    rows
        Count, (a) and (a)+(b)+gains [ms].
    """
    counts, *columns = zip(*rows, strict=True)
    # Text stays text, and neither the day nor chance is written into the file.
    with mpl.rc_context({"svg.fonttype": "none", "svg.hashsalt": "tailblock"}):
        figure = Figure(figsize=(6.4, 3.6), layout="constrained")
        axes = figure.add_subplot()
        for (label, colour, marker), values in zip(_CURVES, columns, strict=True):
            axes.plot(counts, values, color=colour, marker=marker, label=label)
        axes.set(xlabel=name, ylabel="milliseconds", xlim=(0, None), ylim=(0, None))
        axes.legend(frameon=False)
        axes.spines[["top", "right"]].set_visible(False)
        stream = io.StringIO()
        figure.savefig(stream, format="svg", metadata={"Date": None, "Title": f"Time: {name}"})
    return "\n".join(line.rstrip() for line in stream.getvalue().splitlines()) + "\n"
