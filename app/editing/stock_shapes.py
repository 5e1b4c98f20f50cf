"""Starting points: stock shapes made to fit the casing and bar, the empty sheet, an example casing."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from app.editing.refused import EditRefused
from app.editing.stock_channel import channel_plate
from app.editing.stock_frame import BossAt, Layout, layout_of
from app.editing.stock_plates import (
    StockPlate,
    bar_bolts,
    boss_bolts,
    boss_holes,
    boss_reach_mm,
    column,
    flat_gap_mm,
    shaft_hole,
    stock_plate,
    upright,
)
from app.editing.stock_sheet import BAR_BOLT, THICKNESS_MM, reach_mm
from geometry.bolt_tables import UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.casing import EXAMPLE_NAME, Boss, Casing, Envelope
from geometry.fixing import Bolt
from geometry.plate import Hole

_APART_MM: Final = 2.0
"""Between two pieces beside each other, at least."""
_SHAFT_HOLES_MM: Final = (46.0, 40.0, 35.0, 30.0, 24.0)
_SHAFT_CLEAR_MM: Final = 15.0
"""A strap keeps this far off the shaft axis."""
_BAR_BOLT_SIZE: Final = bolt_size(BAR_BOLT)


@dataclass(frozen=True)
class StockShape:
    """A shape to start from."""

    name: str
    words: str
    """What it is and what it is good for, in a sentence."""
    make: Callable[[Bracket], Bracket]
    """The bracket with its plates and bolts replaced by the shape; EditRefused if it does not fit."""


def stock_shapes() -> tuple[StockShape, ...]:
    """Return the shapes to start from. Their bolts' grades are blank: only the marking on a bolt tells it."""
    return (
        StockShape(
            "flat plate",
            "One plate square to the shaft, on all bosses, bolted flat to the dash bar.",
            lambda bracket: _made(bracket, _flat_plate),
        ),
        StockShape(
            "plate with folded foot",
            "One plate square to the shaft, on all bosses, its foot folded under the dash bar.",
            lambda bracket: _made(bracket, _folded_foot),
        ),
        StockShape(
            "angle pair",
            "Two angles side by side, each on its own bosses, each with a foot folded under the dash bar.",
            lambda bracket: _made(bracket, _angle_pair),
        ),
        StockShape(
            "channel",
            "One plate square to the shaft with both edges folded away from the casing, on the dash bar.",
            lambda bracket: _made(bracket, _channel),
        ),
        StockShape(
            "straps side by side",
            "Two straps in one plane square to the shaft, a bolt at each end: shows how pieces rack.",
            lambda bracket: _made(bracket, _straps_beside),
        ),
        StockShape(
            "straps in line",
            "Two straps, one on each face of the dash bar, one behind the other along the shaft.",
            lambda bracket: _made(bracket, _straps_in_line),
        ),
    )


def example_casing(
    boss_circle_mm: float = 120.0, count: int = 3, thread: str = "M10", mass_kg: float = 5.0
) -> Casing:
    """Return a plain casing behind station 0, bosses evenly on a circle about the shaft, the first on +Y.

    It is named as an example, and a finding asks for the real one's figures for as long as it is. EditRefused
    for figures that make no casing.
    """
    try:
        size = bolt_size(thread)
    except UnknownBoltError as error:
        raise EditRefused(str(error.args[0])) from error
    face = 2.0 * size.diameter_mm + 4.0
    if not 1 <= count <= 12:
        raise EditRefused(f"a casing with {count} bosses: give 1 to 12")
    if not (math.isfinite(boss_circle_mm) and boss_circle_mm > 2.0 * face):
        raise EditRefused(
            f"a boss circle of {boss_circle_mm:g} mm has no room for the shaft between {thread} bosses: give"
            f" more than {2.0 * face:g} mm"
        )
    if count > 1 and boss_circle_mm * math.sin(math.pi / count) < face:
        raise EditRefused(
            f"{count} {thread} bosses do not fit on a circle of {boss_circle_mm:g} mm: give fewer or a larger"
        )
    if not (math.isfinite(mass_kg) and mass_kg > 0.0):
        raise EditRefused(f"a casing of {mass_kg:g} kg: weigh it and give its mass")
    radius = boss_circle_mm / 2.0
    turns = [2.0 * math.pi * k / count for k in range(count)]
    bosses = tuple(
        Boss(
            name=str(k),
            at_mm=(round(radius * math.sin(turn), 3) + 0.0, round(radius * math.cos(turn), 3) + 0.0, 0.0),
            thread=size.name,
            face_diameter_mm=face,
        )
        for k, turn in enumerate(turns, start=1)
    )
    half = radius + face / 2.0
    return Casing(
        name=EXAMPLE_NAME,
        bosses=bosses,
        envelope=Envelope(low_mm=(-half, -half, -130.0), high_mm=(half, half, 0.0)),
        mass_kg=mass_kg,
        mass_centre_mm=(0.0, 0.0, -65.0),
    )


def _made(bracket: Bracket, shape: Callable[[Layout], Sequence[StockPlate]]) -> Bracket:
    parts = shape(layout_of(bracket))
    bolts: list[Bolt] = []
    for part in parts:
        bolts += [bolt.but(name=str(len(bolts) + k)) for k, bolt in enumerate(part.bolts, start=1)]
    return bracket.but(plates=tuple(part.plate for part in parts), bolts=tuple(bolts))


def _flat_plate(layout: Layout) -> Sequence[StockPlate]:
    return [upright(layout, "plate", layout.bosses, folded=False, row=4, head_mm=152.0)]


def _folded_foot(layout: Layout) -> Sequence[StockPlate]:
    return [upright(layout, "plate", layout.bosses, folded=True, row=4, head_mm=152.0)]


def _channel(layout: Layout) -> Sequence[StockPlate]:
    return [channel_plate(layout)]


def _angle_pair(layout: Layout) -> Sequence[StockPlate]:
    left, right, shaft_mm = _halves(layout)
    return [
        upright(layout, name, bosses, folded=True, row=2, head_mm=0.0, shaft_mm=shaft_mm)
        for name, bosses in (("left angle", left), ("right angle", right))
    ]


def _halves(layout: Layout) -> tuple[tuple[BossAt, ...], tuple[BossAt, ...], float]:
    """Return the bosses of a left and a right piece that stay clear of each other, and the shaft's hole."""
    bosses = layout.bosses
    for k in sorted(range(1, len(bosses)), key=lambda k: abs(len(bosses) - 2 * k)):
        for shaft_mm in _SHAFT_HOLES_MM:
            left, right = (shaft_hole(layout, part, shaft_mm) for part in (bosses[:k], bosses[k:]))
            if right[1][0] - left[2][0] >= _APART_MM:
                return bosses[:k], bosses[k:], shaft_mm
    raise EditRefused(
        "the bosses are not far enough apart beside each other for two pieces: take the one-piece plate"
    )


def _straps_beside(layout: Layout) -> Sequence[StockPlate]:
    bosses = _beside_shaft(layout)
    first, last = bosses[0], bosses[-1]
    if last.u - first.u < _APART_MM + _strap_half(first) + _strap_half(last):
        raise EditRefused(
            "the bosses are not far enough apart beside each other for two straps: take one plate"
        )
    gap = flat_gap_mm(layout)
    return [
        _strap(layout, name, boss, back_mm=0.0, gap_mm=gap)
        for name, boss in (("left strap", first), ("right strap", last))
    ]


def _straps_in_line(layout: Layout) -> Sequence[StockPlate]:
    """One strap on the bosses and the bar's near face, the other on a spacer and the bar's far face."""
    bosses = _beside_shaft(layout)
    bar = layout.bar
    gap = flat_gap_mm(layout)
    if bar.w < 0.0:
        raise EditRefused(
            "the dash bar is behind the boss faces, where no strap reaches its far face: take side by side"
        )
    pairs = [(a, b) for k, a in enumerate(bosses) for b in bosses[k + 1 :]]
    one, other = min(pairs, key=lambda pair: abs(pair[0].u - pair[1].u))
    near, far = (one, other) if one.v >= other.v else (other, one)
    return [
        _strap(layout, "near strap", near, back_mm=0.0, gap_mm=gap),
        _strap(layout, "far strap", far, back_mm=bar.w + bar.half_w, gap_mm=0.0),
    ]


def _beside_shaft(layout: Layout) -> tuple[BossAt, ...]:
    """Return the bosses a strap can lead up from to the bar without meeting the shaft, at least two."""
    bosses = tuple(
        boss
        for boss in layout.bosses
        if abs(boss.u) >= _strap_half(boss) + _SHAFT_CLEAR_MM or boss.v >= _strap_half(boss) + _SHAFT_CLEAR_MM
    )
    if len(bosses) < 2:
        raise EditRefused(
            "two straps need two bosses from which they reach the bar beside the shaft: take the flat plate"
        )
    return bosses


def _strap_half(boss: BossAt) -> float:
    return max(boss_reach_mm(boss), reach_mm(_BAR_BOLT_SIZE)) + 2.0


def _strap(layout: Layout, name: str, boss: BossAt, *, back_mm: float, gap_mm: float) -> StockPlate:
    half = _strap_half(boss)
    top = layout.bar.v
    if top - boss.v < 2.0 * half:
        raise EditRefused(
            f"boss {boss.name} is only {top - boss.v:.0f} mm below the dash bar, too near for a strap: take"
            " the flat plate"
        )
    low, high = (boss.u - half, boss.v - half), (boss.u + half, boss.v + half)
    outline = column(low, high, top + half, (low[0], high[0]), min(12.0, half - THICKNESS_MM))
    bar_hole = Hole(name="bar 1", centre_mm=(boss.u, top), diameter_mm=_BAR_BOLT_SIZE.hole_medium_mm)
    plate = stock_plate(name, outline, (*boss_holes([boss]), bar_hole), (), layout.placement(back_mm))
    bolts = (*boss_bolts(name, [boss], back_mm), *bar_bolts(layout, name, ["bar 1"], gap_mm))
    return StockPlate(plate, bolts)
