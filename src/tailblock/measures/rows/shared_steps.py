"""Steps that several rows of the table of figures share, in the notation of `notation`.

Out: definitions to be set after a row's own, divided by semicolons.
"""

from __future__ import annotations

from tailblock.measures.pitch import semitones_from_a4

X1 = "x1 = scale_length * (1 - 2**(-1 / 12))"
X_JOIN = "x_join = scale_length * (1 - 2**(-join / 12))"
LEVER = f"k = (x12 - x1) / (scale_length + compensation - x1); x12 = scale_length / 2; {X1}"
REACH = f"D = scale_length + compensation - x_join; {X_JOIN}"
SPAN = f"c = x_join - x1; {X_JOIN}; {X1}"
SAGITTA = "s = chord**2 / 4 / (radius + sqrt(radius**2 - chord**2 / 4))"
COMPOSITE = "EI1 + EI2 + EA1 * EA2 / (EA1 + EA2) * e**2"
BY_GEOMETRY = "(1 - k) * first_opening + k * (exposure - projection) + relief_share * relief"
FIRST_OF_TWO = "q = (1 - 2**(-1 / 12)) / (1 - 2**(-2 / 12))"
STOPPED = "stopped = scale_length * 2**(-fret / 12)"
PRESSED = "action**2 / (nut_side + x) + action**2 / (saddle_side + stopped)"
PIECES = (
    "x = scale_length * (1 - 2**(-fret / 12)); stopped = scale_length - x; "
    "nut_side = sqrt(x**2 + action**2); saddle_side = sqrt(stopped**2 + action**2)"
)
RAMP = (
    "to_bottom = atan((exposure + ramp_depth) / distance); "
    "to_edge = atan(exposure / (distance - ramp_length))"
)
MOISTURES = (
    "M_before = equilibrium_moisture(temperature=temperature_before, humidity=humidity_before); "
    "M_after = equilibrium_moisture(temperature=temperature_after, humidity=humidity_after)"
)
STEEL = (
    "steel_density=steel_density, wrap_density=wrap_density, core_fill=core_fill, "
    "closeness=closeness"
)
_SIX = ("E4", "B3", "G3", "D3", "A2", "E2")
_OCTAVES = ("E4", "B3", "G4", "D4", "A3", "E3")


def set_steps(mass: str, *, octaves: bool = False) -> str:
    """Return the steps to the pull of a set: mass, pitch and pull of each string, and their sum.

    Parameters
    ----------
    mass
        A call that gives a string's mass per length, `{}` standing for its number.
    octaves
        Whether each string has a second one beside it.
    """
    notes = (*_SIX, *_OCTAVES) if octaves else _SIX
    numbered = tuple(enumerate(notes, start=1))
    pulls = " + ".join(f"T{number}" for number, _ in numbered)
    steps = [f"set_factor * ({pulls})"]
    for number, note in numbered:
        steps += [
            f"T{number} = m{number} / 1000 * (2 * scale_length / 1000 * f{number})**2",
            f"m{number} = {mass.format(number)}",
            f"f{number} = 440 * 2**(({semitones_from_a4(note)} - semitones_lower) / 12)",
        ]
    return "; ".join(steps)
