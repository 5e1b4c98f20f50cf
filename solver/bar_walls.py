"""How much the wall of a hollow dash bar bears where a bolt pulls it out or pushes it in.

The wall bends between the sides of the tube. It is taken as the face of a hollow section with a plate
welded along it, as long and as wide as the square within what the bolt clamps: yield lines of EN 1993-1-8
tables 7.3 and 7.13, with k_p and k_m for what the bar carries besides (from memory, to be verified). They are
made for walls of 2.5 mm and more (7.1.1); here yield over its factor is taken. How far the wall gives is not
computed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from geometry.bar_face import across_face_mm
from geometry.bar_section import RectangularTube, RoundTube
from geometry.bracket import Bracket
from geometry.fixing import DashBar
from geometry.materials import UnknownMaterialError, material
from geometry.placing import BoltPlace
from solver.rigid import Floats

SOURCE: Final = (
    "yield lines of a hollow section's wall, EN 1993-1-8 tables 7.3 and 7.13, longitudinal plate (from"
    " memory, to be verified), yield over its factor; demand N + M / ro, with N of bolts nearer than the tube"
    " is wide"
)
WIDEST: Final = 0.85
"""Of the face's width: what is wider stands on the sides of a rectangular tube (table 7.13, from memory)."""


def wall_bending_n(bracket: Bracket, place: BoltPlace) -> float:
    """Return the force square to the wall of the dash bar at which that yields under a bolt, N.

    Without a factor, and with nothing else in the bar. Inf of a bolt that goes elsewhere, of a bar that is no
    tube or of unknown strength (findings tell), and where what is clamped reaches the sides.
    """
    bar = bracket.dash_bar
    if place.partner != "dash bar" or bar is None or not isinstance(bar.section, RectangularTube | RoundTube):
        return math.inf
    try:
        strength = material(bar.material, bracket.materials).yield_mpa(bar.section.wall_mm)
    except UnknownMaterialError:
        return math.inf
    if strength is None:
        return math.inf
    across = across_face_mm(bar, place.axis)
    share = math.sqrt(2.0) * place.mating_outer_mm / across
    unit = strength * bar.section.wall_mm**2
    if isinstance(bar.section, RoundTube):
        return 5.0 * unit * (1.0 + 0.25 * share)
    if share > WIDEST:
        return math.inf
    return unit * (2.0 * share + 4.0 * math.sqrt(1.0 - share))


def beside_on_wall(bar: DashBar | None, place: BoltPlace, places: Sequence[BoltPlace]) -> tuple[str, ...]:
    """Return the other bolts that bend the same part of a wall: no farther off than the tube is wide."""
    if bar is None or place.partner != "dash bar":
        return ()
    across = across_face_mm(bar, place.axis)
    return tuple(
        other.bolt
        for other in places
        if other.partner == "dash bar"
        and other.bolt != place.bolt
        and float(other.axis @ place.axis) > math.sqrt(0.5)
        and math.dist(other.mating_mm, place.mating_mm) < across
    )


def share_left(bar: DashBar, stress_mpa: Floats, yield_mpa: float) -> Floats:
    """Return k_p of a round tube or k_m of a rectangular one for the largest stress in the bar, any shape."""
    n = np.clip(stress_mpa / yield_mpa, 0.0, 1.0)
    left = 1.0 - 0.3 * n * (1.0 + n) if isinstance(bar.section, RoundTube) else 1.3 * (1.0 - n)
    return np.asarray(np.clip(left, 0.0, 1.0))
