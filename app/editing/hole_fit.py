"""The placement of a plate that brings its holes onto their partners.

One partner with a fixed place is met exactly; what is left is a turn about its bolt, found by least squares.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import least_squares

from app.editing.hole_partner import HoleAt
from app.editing.refused import EditRefused
from geometry.bar_face import bar_normal, depth_to_bar
from geometry.fixing import DashBar
from geometry.flat_segments import Floats
from geometry.fold_map import FoldMap

FARTHEST_OFF_MM: Final = 3.0
"""Farther out of line it is the wrong hole rather than an inexact one."""
FARTHEST_GAP_MM: Final = 60.0
"""Farther off its partner's face a hole does not belong to it."""
_ANGLES: Final = 72
_ALIKE_MM: Final = 1e-3
_SLIGHT: Final = 1e-3
_SQUARE_MM: Final = 1e4


@dataclass(frozen=True, eq=False)
class HoleFit:
    """A placement: the axes in columns, where the flat origin of the back face stands, and how it fits."""

    axes: Floats
    origin: Floats
    off_mm: tuple[float, ...]
    """By hole: out of line with the partner, square to the bolt."""
    gap_mm: tuple[float, ...]
    """By hole: from the plate's face to the partner's."""


def fit_holes(fold_map: FoldMap, holes: Sequence[HoleAt]) -> HoleFit:
    """Return the placement that fits the holes best; EditRefused if they cannot reach their partners."""
    fixed = [hole for hole in holes if hole.target is not None]
    if not fixed:
        raise EditRefused(
            "holes on the dash bar alone leave the plate free to slide along it: name a boss or an anchor too"
        )
    lead = next((hole for hole in fixed if hole.target is not None and hole.target.out is not None), fixed[0])
    tries = [_Turning(fold_map, lead, holes, side) for side in (1.0, -1.0)]
    fits = [fit for turning in tries for fit in turning.fits()]
    least = min(fit[0] for fit in fits)
    alike = [fit for fit in fits if fit[0] < least + _ALIKE_MM]
    _, best = max(alike, key=lambda fit: float(np.trace(fit[1].axes.T @ fold_map.axes)))
    _refuse_out_of_reach(fold_map, holes, best)
    return best


class _Turning:
    """The plate with one hole fixed on its partner, front or back face toward it: one angle is left."""

    def __init__(self, fold_map: FoldMap, lead: HoleAt, holes: Sequence[HoleAt], side: float) -> None:
        """`side` is 1 if the lead hole mates with its front face, -1 with its back."""
        assert lead.target is not None
        self.fold_map, self.holes, self.side = fold_map, holes, side
        self.local = {(hole.name, s): self._local(hole, s) for hole in holes for s in (1.0, -1.0)}
        self.normals = {hole.name: (fold_map.axes.T @ fold_map.frame_at(*hole.flat))[:, 2] for hole in holes}
        self.normal = side * self.normals[lead.name]
        self.lead_local = self.local[lead.name, side]
        out = -(fold_map.axes @ self.normal) if lead.target.out is None else lead.target.out
        self.at, self.out = lead.target.at, out
        self.start = _turn_between(fold_map.axes @ self.normal, -out) @ fold_map.axes

    def fits(self) -> list[tuple[float, HoleFit]]:
        """Return (worst distance, placement) of every angle that fits better than its neighbours."""
        angles = np.arange(_ANGLES) * 2.0 * math.pi / _ANGLES
        sizes = np.array([float(np.linalg.norm(self._misses(np.array([a])))) for a in angles])
        low = (sizes <= np.roll(sizes, 1)) & (sizes <= np.roll(sizes, -1))
        found = []
        for angle in angles[low].tolist():
            fit = least_squares(self._misses, [angle], xtol=1e-15, ftol=1e-15, gtol=1e-15)
            placed = self._placed(float(fit.x[0]))
            found.append((float(np.linalg.norm(fit.fun)), placed))
        return found

    def _axes(self, angle: float) -> Floats:
        axis = self.out
        x, y, z = axis
        across = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
        turn: Floats = np.eye(3) + math.sin(angle) * across + (1.0 - math.cos(angle)) * across @ across
        turned: Floats = turn @ self.start
        return turned

    def _local(self, hole: HoleAt, side: float) -> Floats:
        """Return the middle of a hole on a face, folded, in the plate's own axes."""
        height = self.fold_map.plate.thickness_mm if side > 0.0 else 0.0
        there = self.fold_map.to_space(np.array([[*hole.flat, height]]))[0]
        local: Floats = self.fold_map.axes.T @ (there - self.fold_map.origin)
        return local

    def _misses(self, angle: Floats) -> Floats:
        axes = self._axes(float(angle[0]))
        origin = self.at - axes @ self.lead_local
        parts = [self._miss(hole, axes, origin) for hole in self.holes]
        return np.concatenate(parts)

    def _miss(self, hole: HoleAt, axes: Floats, origin: Floats) -> Floats:
        """Return the vector from a hole's mating face to its partner; along the bolt a gap weighs little."""
        mating, axis, at = self._meeting(hole, axes, origin)
        reach = at - mating
        if hole.bar is not None:
            return np.concatenate([reach, self._astray(hole.bar, mating, axis)])
        gap = float(reach @ axis)
        return np.asarray(reach - 0.999 * gap * axis)

    def _astray(self, bar: DashBar, mating: Floats, axis: Floats) -> Floats:
        """Return what decides where nothing else does, off the bar's middle, and what goes before: tilt."""
        start, along, _ = _line_of(bar)
        aside = start - mating - float((start - mating) @ along) * along
        tilt = axis + bar_normal(bar, along, axis)
        return np.concatenate([_SLIGHT * (aside - float(aside @ axis) * axis), _SQUARE_MM * tilt])

    def _meeting(self, hole: HoleAt, axes: Floats, origin: Floats) -> tuple[Floats, Floats, Floats]:
        """Return the middle of the mating face, the way toward the partner, and the partner's place."""
        normal = axes @ self.normals[hole.name]
        middle = origin + axes @ (self.local[hole.name, 1.0] + self.local[hole.name, -1.0]) / 2.0
        if hole.target is not None:
            toward = normal if hole.target.out is None else -hole.target.out
            side = math.copysign(1.0, float(toward @ normal)) if hole.target.out is not None else self.side
            return origin + axes @ self.local[hole.name, side], side * normal, hole.target.at
        assert hole.bar is not None
        start, along, length = _line_of(hole.bar)
        station = min(max(float((middle - start) @ along), 0.0), length)
        nearest = start + station * along
        side = math.copysign(1.0, float((nearest - middle) @ normal) or 1.0)
        mating = origin + axes @ self.local[hole.name, side]
        depth = depth_to_bar(hole.bar, along, mating - start, side * normal)
        if depth is None:
            return mating, side * normal, nearest
        return mating, side * normal, mating + depth * side * normal

    def _placed(self, angle: float) -> HoleFit:
        axes = self._axes(angle)
        origin = self.at - axes @ self.lead_local
        off, gaps = [], []
        for hole in self.holes:
            mating, axis, at = self._meeting(hole, axes, origin)
            gap = float((at - mating) @ axis)
            gaps.append(gap)
            off.append(float(np.linalg.norm(at - mating - gap * axis)))
        return HoleFit(axes, origin, tuple(off), tuple(gaps))


def _refuse_out_of_reach(fold_map: FoldMap, holes: Sequence[HoleAt], fit: HoleFit) -> None:
    worst = int(np.argmax(fit.off_mm))
    if fit.off_mm[worst] > max(FARTHEST_OFF_MM, holes[worst].play_mm):
        _refuse_distance(fold_map, holes, fit, worst)
    for hole, gap in zip(holes, fit.gap_mm, strict=True):
        if abs(gap) > FARTHEST_GAP_MM:
            raise EditRefused(
                f"hole {hole.name} would be {abs(gap):.1f} mm off the face of {hole.words}: name"
                " another hole or fold the plate toward it"
            )


def _refuse_distance(fold_map: FoldMap, holes: Sequence[HoleAt], fit: HoleFit, worst: int) -> None:
    """Say how far apart holes and partners are, for the hole that is farthest out and one that is met."""
    other = next(
        (
            k
            for k, hole in enumerate(holes)
            if k != worst and hole.target is not None and fit.off_mm[k] < 1e-6
        ),
        None,
    )
    target = holes[worst].target
    if other is None or target is None:
        raise EditRefused(
            f"hole {holes[worst].name} would be {fit.off_mm[worst]:.1f} mm out of line with"
            f" {holes[worst].words}: move the hole, or name another"
        )
    there = holes[other].target
    assert there is not None
    middles = [
        fold_map.to_space(np.array([[*holes[k].flat, fold_map.plate.thickness_mm / 2.0]]))[0]
        for k in (worst, other)
    ]
    between_holes = float(np.linalg.norm(middles[0] - middles[1]))
    between = float(np.linalg.norm(target.at - there.at))
    raise EditRefused(
        f"holes {holes[other].name} and {holes[worst].name} are {between_holes:.1f} mm apart and"
        f" {holes[other].words} and {holes[worst].words} {between:.1f} mm: no place of the plate puts both on"
        " them, move a hole"
    )


def _turn_between(a: Floats, b: Floats) -> Floats:
    """Return the least turn that brings one unit vector onto another."""
    axis, cosine = np.cross(a, b), float(a @ b)
    if cosine < -1.0 + 1e-12:
        least = np.eye(3)[int(np.argmin(np.abs(a)))]
        axis = np.cross(a, least)
        axis = axis / np.linalg.norm(axis)
        turn: Floats = 2.0 * np.outer(axis, axis) - np.eye(3)
        return turn
    across = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    turned: Floats = np.eye(3) + across + across @ across / (1.0 + cosine)
    return turned


def _line_of(bar: DashBar) -> tuple[Floats, Floats, float]:
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    length = float(np.linalg.norm(end - start))
    return start, (end - start) / length, length
