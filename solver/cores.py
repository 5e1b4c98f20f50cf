"""How many of this machine's cores an analysis may use."""

from __future__ import annotations

import os


def _told_cores() -> int:
    """Return the threads to work with: HOLDSQUARE_CORES where several analyses run side by side, else all."""
    told = os.environ.get("HOLDSQUARE_CORES", "")
    if told.isdecimal() and int(told) > 0:
        return int(told)
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else (os.cpu_count() or 1)


CORES = _told_cores()
"""Threads to work with."""
