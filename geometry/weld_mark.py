"""What a mesh has to follow of a weld on a plate: the cuts of its segments, and the line stress is judged on.

As a bolt's footprint does for a bolt, a mark carries no bracket with it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.bracket import Bracket
from geometry.flat_segments import Flat, Line
from geometry.footprint import JUDGED_BEYOND
from geometry.weld_places import WeldPlace, place_welds

Floats = NDArray[np.float64]

FINE_SHARE: Final = 0.75
"""Size along the weld over the thickness."""


@dataclass(frozen=True)
class WeldMark:
    """A weld as the mesh of one plate sees it."""

    name: str
    on: Literal["edge", "front", "back"]
    from_mm: Flat
    to_mm: Flat
    segments: int
    half_mm: float
    """Half the width of the strip it holds on a face; 0 on an edge, where it holds the cut face."""
    toe_mm: float
    """From its line to where it ends on the sheet."""
    size_mm: float
    """Size of the triangles along it."""
    judged_mm: float
    """From its line to where stress is judged."""

    @property
    def cuts(self) -> Floats:
        """Return the ends of its segments (segments + 1, 2)."""
        share = np.linspace(0.0, 1.0, self.segments + 1)[:, None]
        return np.asarray(np.asarray(self.from_mm) + share * np.subtract(self.to_mm, self.from_mm))

    def off(self, flat: Floats) -> tuple[Floats, Floats]:
        """Return along (from its start) and across (n,) of flat places (n, 2), mm."""
        way = np.subtract(self.to_mm, self.from_mm)
        way = way / np.linalg.norm(way)
        rel = np.asarray(flat) - np.asarray(self.from_mm)
        return np.asarray(rel @ way), np.asarray(rel @ np.array([-way[1], way[0]]))

    @property
    def length_mm(self) -> float:
        """Return its length."""
        return float(np.linalg.norm(np.subtract(self.to_mm, self.from_mm)))

    def beyond_toe_mm(self, flat: Floats) -> Floats:
        """Return how far outside the rectangle of its toes flat places (n, 2) lie; below nought inside it."""
        along, across = self.off(flat)
        ends = np.maximum(-along, along - self.length_mm)
        return np.asarray(np.maximum(ends, np.abs(across)) - self.toe_mm)

    @property
    def judged_lines(self) -> tuple[Line, ...]:
        """Return the sides of the rectangle that stress is judged on, all four; an edge cuts them off."""
        way = np.subtract(self.to_mm, self.from_mm)
        way = way / np.linalg.norm(way)
        aside = np.array([-way[1], way[0]])
        start = np.asarray(self.from_mm) - self.judged_mm * way
        end = np.asarray(self.to_mm) + self.judged_mm * way
        corners = [
            start + self.judged_mm * aside,
            end + self.judged_mm * aside,
            end - self.judged_mm * aside,
            start - self.judged_mm * aside,
        ]
        places = [(float(x), float(y)) for x, y in corners]
        return tuple(Line(places[i], places[(i + 1) % 4]) for i in range(4))


def weld_marks(bracket: Bracket, index: int) -> tuple[WeldMark, ...]:
    """Return the marks of every weld on a plate: on its own edges, then on its faces."""
    places = place_welds(bracket) if bracket.welds else ()
    thickness = bracket.plates[index].thickness_mm
    return (
        *(_on_edge(p) for p in places if p.plate_index == index),
        *_on_faces((p for p in places if p.partner_index == index), thickness),
    )


def _on_edge(place: WeldPlace) -> WeldMark:
    thickness = place.thickness_mm
    judged = place.leg_mm + JUDGED_BEYOND * thickness
    size = FINE_SHARE * thickness
    name, segments = place.weld.name, len(place.segments)
    return WeldMark(name, "edge", *place.flat_mm, segments, 0.0, place.leg_mm, size, judged)


def _on_faces(places: Iterable[WeldPlace], thickness_mm: float) -> Iterable[WeldMark]:
    for place in places:
        if place.partner_flat_mm is None or place.partner_side is None:
            continue
        toe = place.thickness_mm / 2.0 + place.leg_mm
        # A weld on one side reaches no further than the sheet on the other.
        half = toe if place.weld.sides == "both" else place.thickness_mm / 2.0
        judged = toe + JUDGED_BEYOND * thickness_mm
        size = FINE_SHARE * max(half, thickness_mm)
        name, segments = place.weld.name, len(place.segments)
        ends = place.partner_flat_mm
        yield WeldMark(name, place.partner_side, *ends, segments, half, toe, size, judged)
