"""Sheets of paper less the page's margins, width and height in CSS pixels of 1/96 inch."""

from __future__ import annotations

A4 = (round((210 - 30) / 25.4 * 96), round((297 - 30) / 25.4 * 96))
LETTER = (round((8.5 - 30 / 25.4) * 96), round((11 - 30 / 25.4) * 96))
