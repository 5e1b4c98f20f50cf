"""How unevenly a shaft runs through universal joints that are bent.

A joint bent by b makes tan(driving) = cos(b) tan(driven), each angle counted from its own fork in the plane
of the bend (Seherr-Thoss, Schmelz and Aucktor, Universal Joints and Driveshafts; from memory, to be
verified). So a joint takes the direction (cos, sin) of the driving fork to that of the driven one by a
matrix, and a chain of joints by the product of theirs: its singular values are the extremes of the speed,
whatever the number of joints and the way they are turned.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SOURCE = "Seherr-Thoss, Schmelz and Aucktor, Universal Joints and Driveshafts (from memory, to be verified)"


def joint_map(angle_deg: float) -> Floats:
    """Return the (2, 2) matrix of a single joint."""
    return np.diag([math.cos(math.radians(angle_deg)), 1.0])


def chain_map(angles_deg: Sequence[float], out_of_phase_deg: Sequence[float]) -> Floats:
    """Return the (2, 2) matrix of a chain of joints, the first one first.

    `out_of_phase_deg` says for each joint after the first how far its driving fork is turned from where it
    would even out the last one: phase less turn of the plane.
    """
    whole = joint_map(angles_deg[0])
    for angle, off in zip(angles_deg[1:], out_of_phase_deg, strict=True):
        # the two forks of a joint stand square to each other
        turn = math.radians(90.0 + off)
        rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
        whole = joint_map(angle) @ rotation @ whole
    return whole


def speed_ratio(whole: Floats, turned_deg: Floats) -> Floats:
    """Return speed of the far end over that of the near one, at angles of the near one (n,)."""
    turn = np.radians(turned_deg)
    moved = whole @ np.stack([np.cos(turn), np.sin(turn)])
    return np.asarray(abs(np.linalg.det(whole)) / (moved**2).sum(axis=0))


def speed_extremes(whole: Floats) -> tuple[float, float]:
    """Return the least and the greatest ratio of speeds over one turn."""
    most, least = np.linalg.svd(whole, compute_uv=False)
    return float(least / most), float(most / least)


def equivalent_angle_deg(whole: Floats) -> float:
    """Return the angle of one single joint that would run as unevenly."""
    low, _ = speed_extremes(whole)
    return math.degrees(math.acos(min(1.0, low)))


def ahead_deg(whole: Floats, turned_deg: Floats) -> Floats:
    """Return how far the far end is ahead of the near one, in degrees, at angles of the near one (n,)."""
    turn = np.radians(turned_deg)
    moved = whole @ np.stack([np.cos(turn), np.sin(turn)])
    apart = np.unwrap(2.0 * (np.arctan2(moved[1], moved[0]) - turn)) / 2.0
    return np.asarray(np.degrees(apart - apart.mean()))
