"""Refuse a Python that is too old, in words.

This file and the two `__main__.py` are read by whatever Python 3 the user happened to type, so they keep to
what the first of them understood. Everything else in the program may use Python 3.11.
"""

import sys

OLDEST = (3, 11)
BAD_USAGE = 64
"""Here too, beside `app/exit_codes.py`, which a Python too old for this program cannot read."""


def demand_python(version: "tuple[int, int] | None" = None) -> None:
    """Leave with one sentence and exit code 64 unless this Python is new enough."""
    found = (sys.version_info[0], sys.version_info[1]) if version is None else version
    if found < OLDEST:
        sys.stderr.write(
            "Holdsquare needs Python %d.%d or newer and this is Python %d.%d: install a newer one and start "
            "Holdsquare with it, for example python%d.%d.\n" % (OLDEST + found + OLDEST)
        )
        sys.exit(BAD_USAGE)
