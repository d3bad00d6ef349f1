"""The instrument from the front and from the side, by its traits, with the probable causes marked.

In: a `Portrait`. Out: a `Picture`. All geometry is in mm: x from the middle line to the treble side
(in the side view from the top of the body toward its back), y from the nut toward the tail. The
outline is our own and general; what differs between instruments is what differs between their
traits, their scale length and how many frets stand clear of the body.
"""
