"""A hole of a plate and the partner it is to be put on, looked up in the bracket."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.casing_in_space import boss_in_space
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole, DashBar
from geometry.flat_segments import Flat, Floats, ShapeError
from geometry.fold_map import FoldMap
from geometry.plate import CutOut, Plate


@dataclass(frozen=True, eq=False)
class Target:
    """Where a partner with a fixed place is."""

    at: Floats
    out: Floats | None
    """Unit vector out of its face; None for an anchor, which has none."""


class HoleAt:
    """A hole of a plate and the partner it is put on."""

    def __init__(self, bracket: Bracket, plate: Plate, hole: str, partner: object) -> None:
        """Look both up; EditRefused, naming what there is, if one is not there."""
        self.name = hole
        opening = next((o for o in plate.openings if o.name == hole), None)
        if opening is None or isinstance(opening, CutOut):
            known = ", ".join(o.name for o in plate.openings if not isinstance(o, CutOut)) or "none"
            raise EditRefused(f"plate {plate.name} has no hole {hole}; it has: {known}")
        self.flat: Flat = opening.centre_mm
        self.play_mm = 0.0 if opening.kind == "hole" else (opening.length_mm - opening.width_mm) / 2.0
        self.bar: DashBar | None = None
        self.target: Target | None = None
        if isinstance(partner, AtDashBar):
            self.words = "the dash bar"
            self.bar = _bar(bracket)
        elif isinstance(partner, AtBoss):
            self.words = f"boss {partner.boss}"
            self.target = _boss(bracket, partner.boss)
        elif isinstance(partner, AtAnchor):
            self.words = f"anchor {partner.anchor}"
            self.target = _anchor(bracket, partner.anchor)
        else:
            assert isinstance(partner, AtHole)
            self.words = f"hole {partner.opening} of plate {partner.plate}"
            self.target = _other_hole(bracket, plate, partner)


def _bar(bracket: Bracket) -> DashBar:
    bar = bracket.dash_bar
    if bar is None:
        raise EditRefused("there is no dash bar to put a hole on: add it first")
    if not math.dist(bar.from_mm, bar.to_mm) > 0.0:
        raise EditRefused("the dash bar begins and ends at the same place: give both its ends first")
    return bar


def _boss(bracket: Bracket, name: str) -> Target:
    if bracket.casing is None:
        raise EditRefused("there is no casing: add it with its bosses first")
    try:
        at, out = boss_in_space(bracket.casing, bracket.casing.boss(name))
    except (KeyError, ValueError) as error:
        raise EditRefused(str(error.args[0])) from error
    return Target(at, out)


def _anchor(bracket: Bracket, name: str) -> Target:
    anchor = next((a for a in bracket.anchors if a.name == name), None)
    if anchor is None:
        known = ", ".join(a.name for a in bracket.anchors) or "none"
        raise EditRefused(f"there is no anchor {name}; there is: {known}")
    if anchor.at_mm is None:
        raise EditRefused(f"anchor {name} has no place of its own: give it one, or name another partner")
    return Target(np.asarray(anchor.at_mm, dtype=float), None)


def _other_hole(bracket: Bracket, plate: Plate, partner: AtHole) -> Target:
    """Return the other plate's hole, on the face that is nearer to where the plate stands now."""
    if partner.plate == plate.name:
        raise EditRefused(f"plate {plate.name} cannot be put on a hole of its own: name one of another plate")
    try:
        other = bracket.plate(partner.plate)
        opening = other.opening(partner.opening)
        fold_map, here = FoldMap(other), FoldMap(plate)
    except (KeyError, ShapeError) as error:
        raise EditRefused(str(error.args[0])) from error
    if isinstance(opening, CutOut):
        raise EditRefused(f"{partner.opening} of plate {partner.plate} is a cut-out: name a hole or slot")
    (x, y), t = opening.centre_mm, other.thickness_mm
    back, front = fold_map.to_space(np.array([[x, y, 0.0], [x, y, t]]))
    normal = fold_map.frame_at(x, y)[:, 2]
    centre = here.folded.panels[here.still_panel].centroid
    middle = here.origin + here.axes @ np.array([centre.x, centre.y, plate.thickness_mm / 2.0])
    in_front = float((middle - (back + front) / 2.0) @ normal) >= 0.0
    return Target(front, normal) if in_front else Target(back, -normal)
