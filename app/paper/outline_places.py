"""Which places of an outline are dimensioned, so that it can be made from them and its radii. No Qt."""

from __future__ import annotations

import math
from typing import Final

from app.cutting.cut_lines import CutLines
from geometry.flat_segments import Arc, Flat
from geometry.plate import Corner, Plate

_SAME_MM: Final = 0.01
_TRUE_MM: Final = 1e-6


def arc_middles(plate: Plate, lines: CutLines) -> list[Flat]:
    """Return the middles of rounded corners that are dimensioned in place of the corner itself.

    As if sharp such a corner would lie beyond the plate's least or greatest x or y: a tip, rounded.
    """
    return [arc.centre for arc, beyond in _roundings(plate, lines) if beyond]


def dimensioned_places(plate: Plate, lines: CutLines) -> list[Flat]:
    """Return what is dimensioned of the outline.

    Its corners as if sharp, or the middle of the rounding and how far that reaches where the sharp corner
    would lie beyond the plate; and how far its other arcs reach.
    """
    rounded = _roundings(plate, lines)
    fillets = [arc for arc, _ in rounded]
    places = [corner.at_mm for corner in plate.outline if not _beyond(corner.at_mm, lines)]
    for arc, beyond in rounded:
        if beyond:
            places += [arc.centre, *_farthest(arc)]
    for edge in lines.loops[0]:
        if isinstance(edge, Arc) and edge not in fillets:
            places += _farthest(edge)
    return places


def _beyond(place: Flat, lines: CutLines) -> bool:
    low_x, low_y, high_x, high_y = lines.box_mm
    # the box is true to a hundredth of a millimetre on arcs
    off = max(low_x - place[0], place[0] - high_x, low_y - place[1], place[1] - high_y)
    return off > _SAME_MM


def _roundings(plate: Plate, lines: CutLines) -> list[tuple[Arc, bool]]:
    """Return the arc of every rounded corner, and whether the sharp corner lies beyond the plate."""
    arcs = [edge for edge in lines.loops[0] if isinstance(edge, Arc)]
    found: list[tuple[Arc, bool]] = []
    for corner in plate.outline:
        for arc in arcs:
            if corner.radius_mm > 0.0 and _rounds(arc, corner):
                found.append((arc, _beyond(corner.at_mm, lines)))
                break
    return found


def _rounds(arc: Arc, corner: Corner) -> bool:
    """Return whether an arc touches both edges of a corner: they are tangents of one length."""
    tangents = math.dist(corner.at_mm, arc.start), math.dist(corner.at_mm, arc.end)
    away = math.dist(corner.at_mm, arc.centre)
    return (
        abs(arc.radius_mm - corner.radius_mm) < _TRUE_MM
        and abs(tangents[0] - tangents[1]) < _TRUE_MM
        and abs(math.hypot(arc.radius_mm, tangents[0]) - away) < _TRUE_MM
    )


def _farthest(arc: Arc) -> list[Flat]:
    """Return where an arc reaches farthest to the left, right, top and bottom, between its ends."""
    found: list[Flat] = []
    for quarter in range(4):
        angle = quarter * math.pi / 2.0
        ahead = math.copysign(1.0, arc.turn_rad) * (angle - arc.from_rad) % (2.0 * math.pi)
        if 1e-9 < ahead < abs(arc.turn_rad) - 1e-9:
            x, y = arc.centre
            way = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarter]
            found.append((x + arc.radius_mm * way[0], y + arc.radius_mm * way[1]))
    return found
