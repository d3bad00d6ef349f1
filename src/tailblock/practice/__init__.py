"""Practice: invented cases, and instruments that nobody built, to try the engine on, in memory.

In: a checklist and the whole engine below. Out: what it makes of cases on paper; instruments whose
hidden faults are known and that answer checks, for tables and for drills; cards for the wall.
Nothing here is needed to inspect a real instrument. May import `pipeline` and everything below it.
"""
