"""What bent shaft joints do to the shaft between them beside turning it: the side couple.

The cross of a joint passes a moment on along the normal of the plane of its arms, whose part along a shaft is
what that shaft carries, T. What is left, square to the shaft, runs round a circle twice a turn: with a unit
vector p toward which the joint bends and n square to p and to the shaft, T tan(b) (cos2 p - sin cos n) of the
driving fork's angle. So it lies between nought and T tan(b) p, as a moment whose axis is in the plane of the
bend, and reaches T tan(b) / 2 either way about n (statics of forks and cross, own calculation).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from solver.rigid import Floats

_CUT = math.tan(math.pi / 8.0)


def side_couple_corners(bent: Sequence[tuple[float, float]]) -> Floats:
    """Return the (8, 2) corners, over T, of what holds every side couple of joints on one shaft.

    About X and Y, for joints as (bend, direction it bends toward from X toward Y), both in degrees. Each runs
    round its circle as its forks stand, so the sum lies in one circle as large as all; which way it acts
    hangs on the sense of T, so both ways. The corners lie up to 8 % outside.
    """
    sizes = np.array([math.tan(math.radians(bend)) for bend, _ in bent])
    toward = np.radians([plane for _, plane in bent])
    middle = 0.5 * np.array([sizes @ np.cos(toward), sizes @ np.sin(toward)])
    off, radius = float(np.linalg.norm(middle)), 0.5 * float(sizes.sum())
    along = middle / off if off > 1e-9 * radius else np.array([1.0, 0.0])
    corners = [
        (way * (off + along_radius * radius), side * across_radius * radius)
        for way in (1.0, -1.0)
        for along_radius, across_radius in ((1.0, _CUT), (_CUT, 1.0))
        for side in (1.0, -1.0)
    ]
    return np.asarray(np.array(corners) @ np.array([along, [-along[1], along[0]]]))
