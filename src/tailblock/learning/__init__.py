"""What confirmed cases say of the chances that a checklist gives.

In: cases with confirmed faults. Out: the chances as learned, and a checklist that proposes some of
them to a person. No checklist is changed here.
"""
