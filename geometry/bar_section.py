"""The cross-sections a dash bar can have, as typed: tubes, solid bars and open sections.

Glossary
--------
outer box  width across the bar by height along `up`; the line from one end of the bar to the other runs
           through its middle
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from geometry.part import Part, Positive


class RoundTube(Part):
    """A round tube."""

    kind: Literal["round tube"] = "round tube"
    outer_mm: Positive
    wall_mm: Positive


class RectangularTube(Part):
    """A square or rectangular tube; its height is measured along `up` of the dash bar."""

    kind: Literal["rectangular tube"] = "rectangular tube"
    width_mm: Positive
    height_mm: Positive
    wall_mm: Positive


class RoundBar(Part):
    """A solid round bar."""

    kind: Literal["round bar"] = "round bar"
    outer_mm: Positive

    @property
    def wall_mm(self) -> float:
        """Return the thickness of its metal: all of it."""
        return self.outer_mm


class FlatBar(Part):
    """A solid flat or square bar."""

    kind: Literal["flat bar"] = "flat bar"
    width_mm: Positive
    height_mm: Positive

    @property
    def wall_mm(self) -> float:
        """Return the thickness of its metal: the lesser side."""
        return min(self.width_mm, self.height_mm)


class Angle(Part):
    """An angle: one leg stands along `up`, the other lies across at its foot.

    Seen along the bar from its first end with `up` upward, the standing leg is on the right. Another `up`, or
    the ends the other way round, brings the heel to any corner.
    """

    kind: Literal["angle"] = "angle"
    width_mm: Positive
    height_mm: Positive
    wall_mm: Positive


class Channel(Part):
    """A channel: its web stands along `up`, its flanges are as wide as its width.

    Seen along the bar from its first end with `up` upward, the web is on the right. The opposite `up` turns
    it round.
    """

    kind: Literal["channel"] = "channel"
    width_mm: Positive
    height_mm: Positive
    wall_mm: Positive


Section = Annotated[
    RoundTube | RectangularTube | RoundBar | FlatBar | Angle | Channel, Field(discriminator="kind")
]
Tube = RoundTube | RectangularTube
Round = RoundTube | RoundBar
Solid = RoundBar | FlatBar
Open = Angle | Channel
