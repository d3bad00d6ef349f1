"""Practice: instruments that nobody built, whose hidden faults are known, to try the engine on.

In: a checklist and the whole engine below. Out: instruments that answer checks, runs of inspections
of them, and tables of what came of it. Nothing here is needed to inspect a real instrument. May
import `pipeline` and everything below it.
"""
