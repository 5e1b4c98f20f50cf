"""What a bundle sets up for itself and has to take back for programs of the system."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping

_PATH = "LD_LIBRARY_PATH"


def for_other_programs(environment: Mapping[str, str] | None = None) -> dict[str, str]:
    """Return the environment in which a program of the system finds the system's libraries.

    A bundle's start file puts its own folder of libraries first, for itself and its workers, and keeps beside
    it what was there before. Outside a bundle nothing changes.
    """
    given = dict(os.environ if environment is None else environment)
    if getattr(sys, "frozen", False):
        before = given.pop(f"{_PATH}_ORIG", None)
        given.pop(_PATH, None)
        if before is not None:
            given[_PATH] = before
    return given
