"""Spanner and bolt: whether a socket gets on every head and nut, and the bolt goes in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, Bolt
from geometry.placing import BoltPlace, place_bolts
from geometry.wanted import still_wanted
from solver.around.line import AroundGroup, AroundLine
from solver.around.solids import Cylinder, Solids

_GROUP: AroundGroup = "room"
_PRACTICE: Final = "common practice, no source"
SOCKET_MM: Final = 60.0
"""Room a socket with its ratchet takes beyond the head (common practice, no source)."""


def spanner_lines(bracket: Bracket, solids: Solids) -> Iterator[AroundLine]:
    """Yield every bolt end that a socket does not get on, and how many it does."""
    sizes = {}
    for bolt in bracket.bolts:
        try:
            sizes[bolt.name] = bolt_size(bolt.size)
        except UnknownBoltError:
            continue
    bolts = {bolt.name: bolt for bolt in bracket.bolts}
    places = place_bolts(bracket)
    reached = 0
    for place in places:
        still_wanted()
        blocked = _blocked(place, bolts[place.bolt], sizes[place.bolt], solids)
        if blocked is None:
            reached += 1
        else:
            yield _blocked_line(place, sizes[place.bolt], blocked)
    if reached:
        said = f"a socket gets on {reached} of {len(places)} bolt ends as drawn"
        yield AroundLine(_GROUP, "spanners", "told", said, _PRACTICE)


@dataclass(frozen=True)
class _Blocked:
    by: str
    at_mm: float
    needed_mm: float


def _blocked_line(place: BoltPlace, size: BoltSize, blocked: _Blocked) -> AroundLine:
    side = "head" if place.side == "head" else "nut"
    # the casing is drawn as a block round it, so only the real one can be in the way
    hopeless = blocked.at_mm < size.head_height_mm and blocked.by != "the casing"
    said = (
        f"{blocked.by} stands {blocked.at_mm:.0f} mm from the {side}, where a socket"
        f" {socket_diameter_mm(size):.0f} mm across needs {blocked.needed_mm:.0f} mm to get on"
    )
    return AroundLine(
        _GROUP,
        f"spanner on bolt {place.bolt}",
        "broken" if hopeless else "open",
        f"{said}, and not even the {side} has room: turn the bolt round"
        if hopeless
        else f"{said}: look whether a flat spanner and a torque wrench get there",
        _PRACTICE,
        blocked.needed_mm,
        blocked.at_mm,
        "mm",
    )


def _blocked(place: BoltPlace, bolt: Bolt, size: BoltSize, solids: Solids) -> _Blocked | None:
    """Return what stands where socket and bolt have to go, at the washer's side of the plate."""
    outward = -place.axis
    face = place.mating_mm + place.thickness_mm * outward
    needed = SOCKET_MM
    if place.side == "head" and isinstance(bolt.joins, AtBoss | AtAnchor | AtDashBar):
        # the bolt goes in lengthwise before the socket gets on
        needed = max(needed, (bolt.length_mm or 0.0) + size.head_height_mm)
    hit = solids.in_the_way(Cylinder(face, outward, socket_diameter_mm(size) / 2.0, needed))
    if hit is None:
        return None
    by, inside = hit
    return _Blocked(by, float(((inside - face) @ outward).min()), needed)


def socket_diameter_mm(size: BoltSize) -> float:
    """Return the outer diameter of a socket for the bolt's head (1.3 x across flats + 3, common practice)."""
    return 1.3 * size.head_across_flats_mm + 3.0
