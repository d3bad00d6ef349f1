"""`python -m tailblock`: the same as the command `tailblock`."""

from __future__ import annotations

import sys

from tailblock.cli.app import program

if __name__ == "__main__":
    sys.exit(program())
