"""How a line around the bracket stands, in one short word."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from solver.around.line import AroundStanding

STANDING_MARKS: Final[Mapping[AroundStanding, str]] = {
    "fails": "FAILS",
    "broken": "BROKEN",
    "open": "open",
    "met": "met",
    "told": "",
}
