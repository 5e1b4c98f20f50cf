"""What stock shapes are laid out in: the plane of the boss faces, seen from in front of them.

Glossary
--------
u, v, w    axes of the layout: w out of the boss faces, v toward the dash bar, u = v x w; w = 0 on the faces
bar rear   the face of the dash bar that looks at the boss faces' plane; its underside looks at the shaft
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.editing.refused import EditRefused
from geometry.bar_section import Round
from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.casing_in_space import boss_in_space
from geometry.fixing import DashBar
from geometry.flat_segments import Floats
from geometry.plate import Placement

SQUARE_DEG: Final = 0.5
_USUAL_RISE_MM: Final = 70.0
"""From the highest boss to the middle of the bar, where no bar is known yet."""
_USUAL_FORWARD_MM: Final = 40.0
_USUAL_HALF_MM: Final = 20.0


@dataclass(frozen=True)
class BossAt:
    """A boss in the layout."""

    name: str
    u: float
    v: float
    below: float
    """How far its face lies behind w = 0."""
    size: BoltSize
    face_mm: float


@dataclass(frozen=True)
class BarAt:
    """The dash bar in the layout, or where one would usually be."""

    v: float
    w: float
    half_v: float
    half_w: float
    u_range: tuple[float, float]
    is_round: bool
    real: bool
    """Whether the bracket has it: only then are there bolts to it."""


@dataclass(frozen=True)
class Layout:
    """Bosses and bar, seen from in front of the boss faces."""

    bosses: tuple[BossAt, ...]
    """From left to right."""
    bar: BarAt
    axes: Floats
    """(3, 3) columns: u, v, w in space."""
    origin: Floats
    """(3,) u = v = w = 0, on the shaft axis."""

    def placement(self, w_mm: float) -> Placement:
        """Return the placement of a flat pattern drawn in u, v whose back stands at w."""
        x, y = (tuple(float(c) for c in self.axes[:, k]) for k in (0, 1))
        origin = self.origin + w_mm * self.axes[:, 2]
        return Placement.model_validate(
            {"origin_mm": tuple(origin.tolist()), "x_axis": x, "y_axis": y, "origin_on": "back"}
        )


def layout_of(bracket: Bracket) -> Layout:
    """Return the layout of a bracket's casing and dash bar.

    EditRefused if there is no casing or boss, a boss does not look along the shaft, or the bar does not run
    across the car: then no stock shape fits.
    """
    casing = bracket.casing
    if casing is None or not casing.bosses:
        raise EditRefused(
            "a stock shape is made to fit the casing's bosses: add the casing with its bosses first"
        )
    spots = []
    for boss in casing.bosses:
        try:
            spots.append((boss, *boss_in_space(casing, boss), bolt_size(boss.thread)))
        except (ValueError, UnknownBoltError) as error:
            raise EditRefused(str(error.args[0])) from error
    way = math.copysign(1.0, float(spots[0][2][2]))
    for boss, _, out, _ in spots:
        if float(out[2]) * way < math.cos(math.radians(SQUARE_DEG)):
            raise EditRefused(
                f"boss {boss.name} does not look along the shaft the way the others do: stock shapes stand"
                " square to the shaft, draw this plate by hand"
            )
    level = max(float(at[2]) * way for _, at, _, _ in spots) * way
    over = _bar_side(bracket.dash_bar)
    axes = np.column_stack([(way * over, 0.0, 0.0), (0.0, over, 0.0), (0.0, 0.0, way)])
    origin = np.array([0.0, 0.0, level])
    bosses = tuple(
        sorted(
            (
                BossAt(
                    boss.name,
                    *_uv(axes, at - origin),
                    -float((at - origin) @ axes[:, 2]),
                    size,
                    boss.face_diameter_mm,
                )
                for boss, at, _, size in spots
            ),
            key=lambda boss: (boss.u, boss.v),
        )
    )
    return Layout(bosses, _bar(bracket.dash_bar, axes, origin, bosses), axes, origin)


def _bar_side(bar: DashBar | None) -> float:
    """Return 1 if the bar runs above the shaft, -1 if below it."""
    return -1.0 if bar is not None and bar.from_mm[1] + bar.to_mm[1] < 0.0 else 1.0


def _uv(axes: Floats, off: Floats) -> tuple[float, float]:
    return float(off @ axes[:, 0]) + 0.0, float(off @ axes[:, 1]) + 0.0


def _bar(bar: DashBar | None, axes: Floats, origin: Floats, bosses: tuple[BossAt, ...]) -> BarAt:
    if bar is None:
        v = max(boss.v for boss in bosses) + _USUAL_RISE_MM
        half = _USUAL_HALF_MM
        return BarAt(v, _USUAL_FORWARD_MM, half, half, (-600.0, 600.0), is_round=False, real=False)
    start, end = (axes.T @ (np.asarray(at, dtype=float) - origin) for at in (bar.from_mm, bar.to_mm))
    along = end - start
    if not float(np.linalg.norm(along)) > 0.0:
        raise EditRefused("the dash bar begins and ends at the same place: give both its ends first")
    out = math.degrees(math.atan2(math.hypot(float(along[1]), float(along[2])), abs(float(along[0]))))
    if out > SQUARE_DEG:
        raise EditRefused(
            f"the dash bar runs {out:.1f} deg out of square to the shaft's plane: stock shapes fit a bar"
            " straight across the car, draw this plate by hand"
        )
    half_v, half_w = _halves(bar, axes)
    share = -float(start[0]) / float(along[0])
    middle = start + min(max(share, 0.0), 1.0) * along
    ends = sorted((float(start[0]), float(end[0])))
    round_bar = isinstance(bar.section, Round)
    return BarAt(
        float(middle[1]), float(middle[2]), half_v, half_w, (ends[0], ends[1]), is_round=round_bar, real=True
    )


def _halves(bar: DashBar, axes: Floats) -> tuple[float, float]:
    """Return half the bar's size along v and along w."""
    section = bar.section
    if isinstance(section, Round):
        return section.outer_mm / 2.0, section.outer_mm / 2.0
    up = axes.T @ np.asarray(bar.up, dtype=float)
    up = np.array([0.0, up[1], up[2]])
    size = float(np.linalg.norm(up))
    upright = abs(float(up[1])) / size if size > 0.0 else 1.0
    least = math.cos(math.radians(SQUARE_DEG))
    if upright >= least:
        return section.height_mm / 2.0, section.width_mm / 2.0
    if math.sqrt(max(1.0 - upright**2, 0.0)) >= least:
        return section.width_mm / 2.0, section.height_mm / 2.0
    raise EditRefused(
        "the dash bar's faces stand at a slant to the shaft: stock shapes fit faces along and square to it,"
        " draw this plate by hand"
    )
