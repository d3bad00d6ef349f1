"""The rows of the table of figures, a module for each region of the instrument.

In: the functions of the region's formulas. Out: `ROWS`, a tuple of `Figure`. `figures` gathers
them; `row` makes one; `arguments` says what an argument's name stands for in every row.
"""
