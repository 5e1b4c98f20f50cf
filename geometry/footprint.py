"""Where a bolt clamps a plate, for the mesh: rings round a hole, and the circles stress is judged on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from geometry.flat_segments import Flat

Face = Literal["front", "back"]
FACES: Final[tuple[Face, Face]] = ("front", "back")
JUDGED_BEYOND: Final = 1.0 / 3.0
"""How far beyond a footprint, or the toe of a weld, stress is judged, as a share of the plate's thickness."""
SAME_THICKNESS_SHARE: Final = 0.05
SAME_RADIUS_SHARE: Final = 0.02
"""Circles about one centre become one mesh line when their radii differ by less than both these shares, of
the thickness and of the radius: a footprint's area moves by a few per cent at most."""


@dataclass(frozen=True)
class Footprint:
    """The ring a bolt clamps on each face of a plate; an outer radius of 0 means no ring there."""

    name: str
    """The bolt's."""
    centre_mm: Flat
    hole_radius_mm: float
    front_outer_mm: float = 0.0
    back_outer_mm: float = 0.0
    front_inner_mm: float = 0.0
    """Where the ring begins; never inside the hole."""
    back_inner_mm: float = 0.0
    judged_beyond: tuple[float, ...] = (JUDGED_BEYOND,)
    """Mesh lines beyond each footprint, as shares of the thickness; the first is the one stress is judged
    on."""

    def outer_mm(self, face: Face) -> float:
        """Return the outer radius of the ring on a face, 0 if there is none."""
        return self.front_outer_mm if face == "front" else self.back_outer_mm

    def inner_mm(self, face: Face) -> float:
        """Return the inner radius of the ring on a face."""
        return max(self.hole_radius_mm, self.front_inner_mm if face == "front" else self.back_inner_mm)

    def judged_mm(self, face: Face, thickness_mm: float) -> tuple[float, ...]:
        """Return the radii of the judged circles of a face, none if it has no ring."""
        outer = self.outer_mm(face)
        return tuple(outer + share * thickness_mm for share in self.judged_beyond) if outer > 0.0 else ()


def ring_name(bolt: str, face: Face) -> str:
    """Return the name of the patch a bolt's footprint is in a mesh."""
    return f"bolt {bolt} {face}"


def judged_name(bolt: str, face: Face, number: int = 0) -> str:
    """Return the name of a judged circle in a mesh: number 0 is the one stress is judged on."""
    return f"bolt {bolt} {face} judged" + (f" {number}" if number else "")


def merged_radii(footprint: Footprint, thickness_mm: float) -> dict[float, float]:
    """Return for each radius the footprint asks for the radius its mesh line gets.

    Radii that all but agree become one, so that no sliver lies between them. The hole's own is never moved,
    then outer radii rule over inner ones and these over judged circles. The outermost judged circle stands a
    third of the thickness off every ring, so it is never moved either.
    """
    hole = footprint.hole_radius_mm
    outer = sorted(r for r in {footprint.front_outer_mm, footprint.back_outer_mm} if r > 0.0)
    inner = sorted({footprint.inner_mm(face) for face in FACES if footprint.outer_mm(face) > 0.0})
    # The outermost judged circle first: no rule may shift the one that stress is read on.
    judged = sorted({r for face in FACES for r in footprint.judged_mm(face, thickness_mm)}, reverse=True)
    kept: list[float] = []
    merged: dict[float, float] = {}
    for radius in (hole, *outer, *inner, *judged):
        same = min(SAME_THICKNESS_SHARE * thickness_mm, SAME_RADIUS_SHARE * radius)
        near = [k for k in kept if abs(k - radius) < same]
        merged[radius] = min(near, key=lambda k: abs(k - radius)) if near else radius
        if not near:
            kept.append(radius)
    return merged
