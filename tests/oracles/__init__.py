"""Independent ways to the same numbers: brute force, and a general-purpose library."""
