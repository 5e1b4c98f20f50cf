"""The same plate turned along the shaft: beside the casing, on its flank, a foot folded under the dash bar.

The plate keeps its metal, its thickness, its width and the size and grade of its bolts. The casing is taken
with two of its bosses on the flank, as others have them; all else stays.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from app.editing.refused import EditRefused
from app.editing.stock_sheet import EDGE_MM
from geometry.bend_allowance import bend_allowance
from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.casing import Boss, Casing
from geometry.fixing import AtBoss, AtDashBar, Bolt, DashBar, RectangularTube
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap
from geometry.placing import place_bolts
from geometry.plate import Corner, FoldLine, Hole, Placement, Plate

_SQUARE: Final = math.cos(math.radians(5.0))
_ACROSS: Final = math.cos(math.radians(10.0))
_ROUND_MM: Final = 8.0
_BESIDE_MM: Final = 60.0
"""So far the bar may stand beyond the casing's end."""
_RADIUS_TIMES: Final = 1.7
"""Inside radius of the fold over the thickness: what EN 10025-2 gives 6 mm S275, near enough, from memory."""


@dataclass(frozen=True)
class _Bar:
    under_mm: float
    middle_z_mm: float


@dataclass(frozen=True)
class _Sizes:
    """What the turned plate is made from."""

    boss_bolt: Bolt
    bar_bolt: Bolt
    boss: BoltSize
    bar: BoltSize
    boss_reach_mm: float
    bar_reach_mm: float
    width_mm: float
    radius_mm: float


def turned_along(bracket: Bracket) -> Bracket:
    """Return the bracket with its plate turned along the shaft; EditRefused, saying why, if it cannot be."""
    casing, bar = bracket.casing, bracket.dash_bar
    if casing is None or bar is None:
        raise EditRefused("a plate is turned between a casing and a dash bar, and one of them is not drawn")
    if len(bracket.plates) > 1:
        raise EditRefused("this bracket is made of several plates")
    plate, sizes = _to_turn(bracket, casing)
    across = _bar(bar)
    flank_mm = casing.envelope.high_mm[0]
    front_z, rear_z = _along(casing, sizes, across)
    bend_mm = across.under_mm - sizes.radius_mm - plate.thickness_mm
    boss_y = min(casing.envelope.high_mm[1] / 3.0, bend_mm - sizes.boss_reach_mm - 2.0)
    if boss_y - sizes.boss_reach_mm < casing.envelope.low_mm[1]:
        raise EditRefused("the dash bar is too near the shaft for a foot above bolts on the casing's flank")
    turned = _plate(plate, sizes, (flank_mm, boss_y), (front_z, rear_z), across)
    bosses = tuple(
        Boss(
            name=name, at_mm=(flank_mm, boss_y, z - casing.station_mm), direction=(1.0, 0.0, 0.0),
            thread=sizes.boss_bolt.size, depth_mm=2.0 * sizes.boss.diameter_mm,
            face_diameter_mm=2.0 * sizes.boss.diameter_mm + 4.0,
        )
        for name, z in (("flank 1", front_z), ("flank 2", rear_z))
    )  # fmt: skip
    bolts = (
        *_bolts(sizes.boss_bolt, turned.name, [AtBoss(boss=boss.name) for boss in bosses], "flank", 1),
        *_bolts(sizes.bar_bolt, turned.name, [AtDashBar(), AtDashBar()], "foot", 3),
    )
    return bracket.but(
        plates=(turned,), bolts=bolts, casing=casing.but(bosses=bosses, clocking_deg=0.0), variants=(),
        claim=None,
    )  # fmt: skip


def _along(casing: Casing, sizes: _Sizes, bar: _Bar) -> tuple[float, float]:
    """Return where along the shaft the two bolts on the flank stand, front and rear."""
    low, high = (casing.station_mm + z for z in (casing.envelope.low_mm[2], casing.envelope.high_mm[2]))
    margin = sizes.boss.diameter_mm + 5.0
    apart = min(sizes.width_mm - 2.0 * sizes.boss_reach_mm, high - low - 2.0 * margin)
    front = min(max(bar.middle_z_mm + apart / 2.0, low + margin + apart), high - margin)
    if apart < 2.0 * sizes.boss.diameter_mm + 4.0:
        raise EditRefused("the casing is too short along the shaft to take the plate on its flank")
    if not low - _BESIDE_MM <= bar.middle_z_mm <= high + _BESIDE_MM:
        raise EditRefused("the dash bar does not pass over the casing, so a plate on its flank has no foot")
    return front, front - apart


def _to_turn(bracket: Bracket, casing: Casing) -> tuple[Plate, _Sizes]:
    for plate in bracket.plates:
        own = [place for place in place_bolts(bracket) if place.plate == plate.name]
        by_partner = {place.partner: place.bolt for place in reversed(own)}
        if "boss" not in by_partner or "dash bar" not in by_partner:
            continue
        try:
            normal = np.asarray(FoldMap(plate).axes[:, 2])
            sides = np.linalg.norm(
                np.diff(
                    shapely.get_coordinates(flat_pattern(plate).polygon.minimum_rotated_rectangle), axis=0
                ),
                axis=1,
            )
            at_boss, at_bar = (
                next(b for b in bracket.bolts if b.name == by_partner[partner])
                for partner in ("boss", "dash bar")
            )
            sizes = _sizes(plate, at_boss, at_bar, float(sides[:2].min()))
        except (ShapeError, UnknownBoltError) as fault:
            raise EditRefused(str(fault.args[0])) from fault
        if abs(float(normal[2])) < _SQUARE:
            raise EditRefused(f"plate {plate.name} does not stand square to the shaft, so it is not turned")
        return plate, sizes
    raise EditRefused("no plate is bolted to both the casing and the dash bar")


def _sizes(plate: Plate, at_boss: Bolt, at_bar: Bolt, width_mm: float) -> _Sizes:
    boss, bar = bolt_size(at_boss.size), bolt_size(at_bar.size)

    def reach(size: BoltSize, face_mm: float) -> float:
        footprint = max(size.washer_outer_mm, face_mm) / 2.0
        return max(footprint + plate.thickness_mm / 3.0 + 2.0, 1.3 * size.hole_medium_mm) + EDGE_MM

    boss_reach = reach(boss, 2.0 * boss.diameter_mm + 4.0)
    # the same sheet, and no narrower than two bolts side by side need
    width = max(width_mm, 4.0 * boss_reach - 2.0 * EDGE_MM)
    radius = max(2.0, _RADIUS_TIMES * plate.thickness_mm)
    return _Sizes(at_boss, at_bar, boss, bar, boss_reach, reach(bar, 0.0), width, radius)


def _bar(bar: DashBar) -> _Bar:
    start, end = np.asarray(bar.from_mm), np.asarray(bar.to_mm)
    along = (end - start) / max(float(np.linalg.norm(end - start)), 1e-9)
    section = bar.section
    if abs(float(along[0])) < _ACROSS or not isinstance(section, RectangularTube):
        raise EditRefused(
            "the dash bar is no square or flat tube across the car, on which a turned foot lies"
        )
    middle = start + along * (-start[0] / along[0])
    if abs(float(np.asarray(bar.up)[1])) / float(np.linalg.norm(bar.up)) < _SQUARE or middle[1] <= 0.0:
        raise EditRefused("the dash bar has no face that looks down on the shaft, under which a foot lies")
    return _Bar(float(middle[1]) - section.height_mm / 2.0, float(middle[2]))


def _plate(
    plate: Plate, sizes: _Sizes, at_mm: tuple[float, float], bolts_z: tuple[float, float], bar: _Bar
) -> Plate:
    flank_mm, boss_y = at_mm
    t, radius = plate.thickness_mm, sizes.radius_mm
    zone = bend_allowance(90.0, radius, t).zone_width_mm
    fold_y = bar.under_mm - radius - t + zone / 2.0
    first = fold_y + zone / 2.0 + sizes.bar_reach_mm - EDGE_MM
    second = first + 2.0 * (sizes.bar_reach_mm - EDGE_MM) + 4.0
    # u runs from the bar against the shaft's way
    front, rear = (bar.middle_z_mm - z for z in bolts_z)
    holes = [
        ("flank 1", front, boss_y, sizes.boss), ("flank 2", rear, boss_y, sizes.boss),
        ("foot 1", 0.0, first, sizes.bar), ("foot 2", 0.0, second, sizes.bar),
    ]  # fmt: skip
    left = min(front - sizes.boss_reach_mm, -sizes.bar_reach_mm)
    right = max(rear + sizes.boss_reach_mm, sizes.bar_reach_mm, left + sizes.width_mm)
    low, high = boss_y - sizes.boss_reach_mm, second + sizes.bar_reach_mm
    return Plate(
        name=plate.name,
        material=plate.material,
        thickness_mm=t,
        outline=tuple(
            Corner(at_mm=at, radius_mm=_ROUND_MM)
            for at in ((left, low), (right, low), (right, high), (left, high))
        ),
        openings=tuple(
            Hole(name=name, centre_mm=(u, v), diameter_mm=size.hole_medium_mm) for name, u, v, size in holes
        ),
        folds=(
            FoldLine(
                name="foot", from_mm=(left, fold_y), to_mm=(right, fold_y), direction="up",
                inside_radius_mm=radius,
            ),
        ),
        placement=Placement(
            origin_mm=(flank_mm, 0.0, bar.middle_z_mm), x_axis=(0.0, 0.0, -1.0), y_axis=(0.0, 1.0, 0.0),
            origin_on="back", still_at_mm=((left + right) / 2.0, (low + fold_y - zone) / 2.0),
        ),
    )  # fmt: skip


def _bolts(
    like: Bolt, plate: str, joins: list[AtBoss] | list[AtDashBar], holes: str, first: int
) -> tuple[Bolt, ...]:
    return tuple(
        like.but(name=str(first + k), plate=plate, hole=f"{holes} {k + 1}", joins=partner, spacer=None)
        for k, partner in enumerate(joins)
    )
