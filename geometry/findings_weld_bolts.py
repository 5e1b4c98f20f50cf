"""Findings about bolts that stand on a weld: what they clamp lies on the fillet and not on the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely

from geometry.finding import Finding
from geometry.finding_words import found
from geometry.flat_segments import Flat
from geometry.footprint import FACES, Face
from geometry.placing import BoltPlace, footprint_of
from geometry.survey import Survey
from geometry.weld_places import WeldPlace, place_welds

SLACK_MM: Final = 0.3
"""How far off a hole or a weld may be set out (common practice, no source)."""


def weld_bolt_findings(known: Survey) -> Iterator[Finding]:
    """Yield every bolt whose ring reaches onto a fillet, on either of the two sheets that it joins."""
    welds = place_welds(known.bracket) if known.bracket.welds else ()
    for weld in welds:
        for bolt in known.places:
            over = max((_onto_mm(weld, bolt, face) for face in FACES), default=0.0)
            if over > SLACK_MM:
                yield found(
                    "footprint-over-weld",
                    f"bolt {bolt.bolt}",
                    by_mm=over,
                    weld=weld.weld.name,
                    plate=bolt.plate,
                    hole=bolt.hole,
                )


def _onto_mm(weld: WeldPlace, bolt: BoltPlace, face: Face) -> float:
    """Return how far a bolt's ring on one face of its plate reaches over a weld's toe; below 0 beside it."""
    reach = footprint_of(bolt).outer_mm(face)
    sides = weld.weld.sides
    if bolt.plate_index == weld.plate_index:
        legs = weld.leg_mm if sides in ("both", face) else 0.0
        return reach + legs - _off_mm(weld.flat_mm, bolt) if legs > 0.0 else -np.inf
    if bolt.plate_index != weld.partner_index or face != weld.partner_side or weld.partner_flat_mm is None:
        return -np.inf
    # toward which face of the welded sheet the bolt stands
    front = float((bolt.mating_mm - weld.ends_mm[0]) @ weld.frame[:, 2]) > 0.0
    legs = weld.leg_mm if sides in ("both", "front" if front else "back") else 0.0
    return reach + weld.thickness_mm / 2.0 + legs - _off_mm(weld.partner_flat_mm, bolt)


def _off_mm(line: tuple[Flat, Flat], bolt: BoltPlace) -> float:
    return float(shapely.distance(shapely.LineString(line), shapely.Point(bolt.flat_mm)))
