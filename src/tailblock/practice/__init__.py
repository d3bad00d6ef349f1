"""Practice: invented cases tried on the engine, in memory; no file is written.

In: a checklist and cases on paper. Out: what the engine makes of them and whether that is what the
writer of the case expected. May import everything but `cli`.
"""
