"""What a plate's cut edge is welded with and to.

Glossary
--------
throat    height of the largest triangle that fits into a fillet weld, from its root (EN 1993-1-8 4.5.2)
leg       side of that triangle on either part: the throat times the root of two
root      the line where the two parts and the weld meet; toe: where the weld ends on a part's face
sides     which faces of the welded plate the fillet runs along
"""

from __future__ import annotations

import math
from typing import Annotated, Final, Literal

from pydantic import Field

from geometry.fixing import AtAnchor, AtDashBar
from geometry.part import FlatPlace, Name, Part, Positive

LEG_PER_THROAT: Final = math.sqrt(2.0)


class AtPlate(Part):
    """A face of another plate, front or back, whichever the edge stands on."""

    to: Literal["plate"] = "plate"
    plate: Name


WeldPartner = Annotated[AtDashBar | AtAnchor | AtPlate, Field(discriminator="to")]
Sides = Literal["both", "front", "back"]


class Weld(Part):
    """A fillet weld along a straight part of a plate's outline, to what that edge stands on."""

    name: Name
    plate: Name
    from_mm: FlatPlace
    """Where it begins, on a straight edge of the plate's outline in the flat pattern."""
    to_mm: FlatPlace
    """Where it ends, on the same edge."""
    joins: WeldPartner
    throat_mm: Positive | None = None
    leg_mm: Positive | None = None
    """The throat or the leg says its size; None for both is a blank."""
    sides: Sides = "both"
    full_at_ends: bool = False
    """Whether it has its full throat up to both ends, such as where it runs round the corner."""
    metal_tensile_mpa: Positive | None = None
    """Least tensile strength of the weld metal; None takes it as at least that of what it joins."""
    seen_by: Annotated[str, Field(max_length=200)] | None = None
    """Who welded or inspected it."""

    @property
    def size_mm(self) -> float | None:
        """Return the throat, given or from the leg; None where neither is given."""
        if self.throat_mm is not None:
            return self.throat_mm
        return None if self.leg_mm is None else self.leg_mm / LEG_PER_THROAT

    @property
    def length_mm(self) -> float:
        """Return the length it is drawn with."""
        return math.dist(self.from_mm, self.to_mm)
