"""The cautions shown beside every verdict, on paper and at the start: their one catalogue."""

from __future__ import annotations

from typing import Final

CAUTIONS: Final[tuple[str, ...]] = (
    "Steering is safety-critical: if this bracket moves or breaks, the car may not steer.",
    "The result depends on the assumptions listed with it; where one is not true of your car, neither is the "
    "result.",
    "Local codes and a licensed or authorised certifier decide. This program computes; it never certifies.",
    "Never drive on an installation that has not been approved.",
    "Do not weld steering shafts.",
    "Cable and fuse: as the unit's maker or the donor car has them.",
    "Use bolts of known grade, locked, and tightened with a torque wrench.",
)
"""Each a whole sentence, in the order they are to be shown."""

BESIDE_THE_STAMP: Final = (
    "Steering is safety-critical. Local codes and an authorised certifier decide. "
    "Results rest on the notes above."
)
"""The short form, for a line of the sheet; the whole catalogue is a key press away."""
