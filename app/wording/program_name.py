"""What people type to start the program."""

from __future__ import annotations

import sys
from pathlib import Path


def program_name() -> str:
    """Return what people type to start the program."""
    started_as = Path(sys.argv[0]).name if sys.argv else ""
    return "holdsquare" if started_as.startswith("holdsquare") else "python3 app"
