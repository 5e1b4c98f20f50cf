"""One plate of a stock shape: its outline, holes, folds, place and bolts, made to fit bosses and bar."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.editing.refused import EditRefused
from app.editing.stock_foot import foot_of
from app.editing.stock_frame import BossAt, Layout
from app.editing.stock_sheet import (
    BAR_BOLT,
    EDGE_MM,
    INSIDE_RADIUS_MM,
    LEAST_SHAFT_HOLE_MM,
    MATERIAL,
    SHAFT_HOLE_MM,
    THICKNESS_MM,
    TIGHTENING_NM,
    reach_mm,
)
from geometry.bolt_tables import BoltSize, bolt_size
from geometry.fixing import AtBoss, AtDashBar, Bolt, Spacer
from geometry.flat_segments import Flat
from geometry.plate import Corner, FoldLine, Hole, Placement, Plate

LONGEST_SPACER_MM: Final = 80.0
_NO_SPACER_MM: Final = 0.3


@dataclass(frozen=True)
class StockPlate:
    """A plate and the bolts through it."""

    plate: Plate
    bolts: tuple[Bolt, ...]


def boss_reach_mm(boss: BossAt) -> float:
    """Return the same for a bolt to a boss, whose face may be larger than the washer."""
    return max(reach_mm(boss.size), boss.face_mm / 2.0 + THICKNESS_MM / 3.0 + 1.0)


def boss_holes(bosses: Sequence[BossAt]) -> tuple[Hole, ...]:
    """Return a hole at each boss, of the medium series."""
    return tuple(
        Hole(name=boss.name, centre_mm=(boss.u, boss.v), diameter_mm=boss.size.hole_medium_mm)
        for boss in bosses
    )


def shaft_hole(
    layout: Layout, bosses: Sequence[BossAt], most_mm: float = SHAFT_HOLE_MM
) -> tuple[tuple[Hole, ...], Flat, Flat]:
    """Return the hole the shaft passes through, if it passes the plate, and the box of bosses and hole.

    The plate reaches from the bosses up to the bar; the hole is at most `most_mm` wide.
    """
    low, high = boss_box(bosses)
    near = min(math.hypot(boss.u, boss.v) - boss_reach_mm(boss) for boss in bosses)
    diameter = max(LEAST_SHAFT_HOLE_MM, min(most_mm, 2.0 * near))
    half = diameter / 2.0
    apart = math.hypot(max(low[0], -high[0], 0.0), max(low[1], -max(high[1], layout.bar.v), 0.0))
    if apart >= half + 1.0:
        return (), low, high
    room = half + 2.0 * THICKNESS_MM
    name = "shaft" if all(boss.name != "shaft" for boss in layout.bosses) else "shaft hole"
    hole = Hole(name=name, centre_mm=(0.0, 0.0), diameter_mm=diameter)
    return (
        (hole,),
        (min(low[0], -room), min(low[1], -room)),
        (max(high[0], room), max(high[1], room)),
    )


def boss_box(bosses: Sequence[BossAt]) -> tuple[Flat, Flat]:
    """Return the low and high corner of the box round the bosses, with their margins."""
    reach = [boss_reach_mm(boss) + EDGE_MM for boss in bosses]
    return (
        (
            min(b.u - r for b, r in zip(bosses, reach, strict=True)),
            min(b.v - r for b, r in zip(bosses, reach, strict=True)),
        ),
        (
            max(b.u + r for b, r in zip(bosses, reach, strict=True)),
            max(b.v + r for b, r in zip(bosses, reach, strict=True)),
        ),
    )


def boss_bolts(plate: str, bosses: Sequence[BossAt], back_mm: float = 0.0) -> tuple[Bolt, ...]:
    """Return a bolt into each boss, with a spacer where the plate's back stands off its face."""
    bolts = []
    for boss in bosses:
        gap = boss.below + back_mm
        outer = min(boss.face_mm, boss.size.washer_outer_mm)
        bolts.append(
            _bolt(
                boss.size, plate, boss.name, spacer=_spacer(gap, outer, boss.size, f"boss {boss.name}")
            ).but(joins=AtBoss(boss=boss.name))
        )
    return tuple(bolts)


def bar_bolts(layout: Layout, plate: str, names: Sequence[str], gap_mm: float) -> tuple[Bolt, ...]:
    """Return bolts to the dash bar through the holes of those names; none where no bar is known."""
    if not layout.bar.real:
        return ()
    size = bolt_size(BAR_BOLT)
    spacer = _spacer(gap_mm, size.washer_outer_mm, size, "the dash bar")
    pad = size.washer_outer_mm if layout.bar.is_round else None
    return tuple(_bolt(size, plate, name, spacer=spacer).but(pad_diameter_mm=pad) for name in names)


def row_of(layout: Layout, low_u: float, high_u: float, count: int) -> list[float]:
    """Return where bolts of a row along the bar stand, between two edges, kept on the bar."""
    margin = reach_mm(bolt_size(BAR_BOLT)) + EDGE_MM
    low = max(low_u + margin, layout.bar.u_range[0] + margin)
    high = min(high_u - margin, layout.bar.u_range[1] - margin)
    if high < low:
        low = high = (low + high) / 2.0
        if not layout.bar.u_range[0] < low < layout.bar.u_range[1]:
            raise EditRefused(
                f"the dash bar, from {layout.bar.u_range[0]:.0f} to {layout.bar.u_range[1]:.0f} mm beside the"
                " shaft, does not pass over the bosses: check its ends"
            )
    pitch = 2.0 * margin - 2.0 * EDGE_MM + 1.0
    count = max(1, min(count, 1 + int((high - low) / pitch)))
    if count == 1:
        return [(low + high) / 2.0]
    return [low + (high - low) * k / (count - 1) for k in range(count)]


def column(
    low: Flat, high: Flat, top_v: float, half: tuple[float, float], radius: float
) -> tuple[Corner, ...]:
    """Return an outline: a box, widening above it to a head between two u, up to top_v."""
    left, right = min(low[0], half[0]), max(high[0], half[1])
    corners = [((low[0], low[1]), radius), ((high[0], low[1]), radius)]
    if right > high[0] + 1e-6:
        corners.append(((right, high[1]), 0.0))
    corners += [((right, top_v), radius), ((left, top_v), radius)]
    if left < low[0] - 1e-6:
        corners.append(((left, high[1]), 0.0))
    return tuple(Corner(at_mm=at, radius_mm=r) for at, r in corners)


def upright(
    layout: Layout,
    name: str,
    bosses: Sequence[BossAt],
    *,
    folded: bool,
    row: int,
    head_mm: float,
    shaft_mm: float = SHAFT_HOLE_MM,
) -> StockPlate:
    """Return a plate on some bosses, up to the bar: flat on its rear face, or with a foot folded under it.

    `row` bolts along the bar, on a head at least `head_mm` wide; a hole for the shaft of at most `shaft_mm`.
    """
    shaft, low, high = shaft_hole(layout, bosses, shaft_mm)
    middle = (low[0] + high[0]) / 2.0
    half = (min(low[0], middle - head_mm / 2.0), max(high[0], middle + head_mm / 2.0))
    us = row_of(layout, half[0], half[1], row)
    names = [f"{'foot' if folded else 'bar'} {k}" for k in range(1, len(us) + 1)]
    folds: tuple[FoldLine, ...] = ()
    gap = 0.0
    if folded:
        foot = foot_of(layout, bosses)
        high = (high[0], min(high[1], foot.bend_v - 1.0))
        hole_v, top = foot.hole_v, foot.top_v
        folds = (
            FoldLine.model_validate(
                {
                    "name": "foot",
                    "from_mm": (half[0], foot.fold_v),
                    "to_mm": (half[1], foot.fold_v),
                    "direction": foot.direction,
                    "inside_radius_mm": INSIDE_RADIUS_MM,
                }
            ),
        )
    else:
        hole_v, gap = layout.bar.v, flat_gap_mm(layout)
        top = max(hole_v + reach_mm(bolt_size(BAR_BOLT)) + EDGE_MM, high[1] + 1.0)
        if hole_v < high[1]:
            high = (high[0], min(high[1], hole_v))
    diameter = bolt_size(BAR_BOLT).hole_medium_mm
    plate = stock_plate(
        name,
        column(low, high, top, half, 8.0),
        (
            *boss_holes(bosses),
            *shaft,
            *(
                Hole(name=n, centre_mm=(u, hole_v), diameter_mm=diameter)
                for n, u in zip(names, us, strict=True)
            ),
        ),
        folds,
        layout.placement(0.0),
    )
    return StockPlate(plate, (*boss_bolts(name, bosses), *bar_bolts(layout, name, names, gap)))


def flat_gap_mm(layout: Layout) -> float:
    """Return the gap from a flat plate on the bosses to the bar; EditRefused if the bar is in its way."""
    bar = layout.bar
    in_front, behind = bar.w - bar.half_w - THICKNESS_MM, -(bar.w + bar.half_w)
    gap = max(in_front, behind)
    if gap < -_NO_SPACER_MM:
        raise EditRefused(
            f"the dash bar stands {-gap:.1f} mm within the plate: take the plate with a folded foot,"
            " or draw it by hand"
        )
    return gap


def stock_plate(
    name: str,
    outline: tuple[Corner, ...],
    openings: tuple[Hole, ...],
    folds: tuple[FoldLine, ...],
    placement: Placement,
) -> Plate:
    """Return a plate of the sheet that stock shapes are cut from."""
    return Plate(
        name=name,
        material=MATERIAL,
        thickness_mm=THICKNESS_MM,
        outline=outline,
        openings=openings,
        folds=folds,
        placement=placement,
    )


def _bolt(size: BoltSize, plate: str, hole: str, spacer: Spacer | None) -> Bolt:
    """Return a bolt to the dash bar whose grade is a blank: only its marking tells it."""
    return Bolt(
        name="-",
        size=size.name,
        plate=plate,
        hole=hole,
        joins=AtDashBar(),
        tightening_nm=TIGHTENING_NM.get(size.name),
        spacer=spacer,
    )


def _spacer(gap_mm: float, outer_mm: float, size: BoltSize, partner: str) -> Spacer | None:
    if gap_mm <= _NO_SPACER_MM:
        return None
    if gap_mm > LONGEST_SPACER_MM:
        raise EditRefused(
            f"{partner} is {gap_mm:.0f} mm off the plate, too far for a spacer: draw this plate by hand"
        )
    outer = max(outer_mm, size.hole_medium_mm + 5.0)
    return Spacer(outer_mm=outer, inner_mm=size.hole_medium_mm, length_mm=gap_mm)
