"""The channel: a plate square to the shaft whose two edges are folded forward and end below the bar."""

from __future__ import annotations

from typing import Final

from app.editing.refused import EditRefused
from app.editing.stock_frame import Layout
from app.editing.stock_plates import (
    StockPlate,
    bar_bolts,
    boss_bolts,
    boss_holes,
    flat_gap_mm,
    row_of,
    shaft_hole,
    stock_plate,
)
from app.editing.stock_sheet import BAR_BOLT, EDGE_MM, INSIDE_RADIUS_MM, THICKNESS_MM, reach_mm
from geometry.bend_allowance import bend_allowance
from geometry.bolt_tables import bolt_size
from geometry.plate import Corner, FoldLine, Hole

FLANGE_MM: Final = 20.0
"""Straight part of a flange beyond its bend."""
_CLEAR_MM: Final = 8.0
"""From the flanges' ends to the bar."""


def channel_plate(layout: Layout) -> StockPlate:
    """Return the channel's plate and bolts; EditRefused if the bar is too near the bosses for it."""
    width = bend_allowance(90.0, INSIDE_RADIUS_MM, THICKNESS_MM).zone_width_mm
    shaft, low, high = shaft_hole(layout, layout.bosses)
    # The web's neck passes between the bends with a rounded inside corner on each side.
    neck = (low[0] - THICKNESS_MM, high[0] + THICKNESS_MM)
    bend = (neck[0] - THICKNESS_MM - 2.0 - width / 2.0, neck[1] + THICKNESS_MM + 2.0 + width / 2.0)
    edge = (bend[0] - width / 2.0 - FLANGE_MM, bend[1] + width / 2.0 + FLANGE_MM)
    ends_v = layout.bar.v - layout.bar.half_v - _CLEAR_MM
    if ends_v < high[1]:
        raise EditRefused(
            f"the dash bar is {high[1] - ends_v:.0f} mm too near the bosses for a channel below it: take the"
            " flat plate"
        )
    gap = flat_gap_mm(layout)
    size = bolt_size(BAR_BOLT)
    us = row_of(layout, neck[0], neck[1], 4)
    names = [f"bar {k}" for k in range(1, len(us) + 1)]
    top = layout.bar.v + reach_mm(size) + EDGE_MM
    corners = (
        ((edge[0], low[1]), 8.0), ((edge[1], low[1]), 8.0), ((edge[1], ends_v), 8.0),
        ((neck[1], ends_v), THICKNESS_MM), ((neck[1], top), 8.0), ((neck[0], top), 8.0),
        ((neck[0], ends_v), THICKNESS_MM), ((edge[0], ends_v), 8.0),
    )  # fmt: skip
    plate = stock_plate(
        "channel",
        tuple(Corner(at_mm=at, radius_mm=radius) for at, radius in corners),
        (
            *boss_holes(layout.bosses),
            *shaft,
            *(
                Hole(name=name, centre_mm=(u, layout.bar.v), diameter_mm=size.hole_medium_mm)
                for name, u in zip(names, us, strict=True)
            ),
        ),
        tuple(
            FoldLine(
                name=name,
                from_mm=(u, low[1]),
                to_mm=(u, ends_v),
                direction="up",
                inside_radius_mm=INSIDE_RADIUS_MM,
            )
            for name, u in (("left", bend[0]), ("right", bend[1]))
        ),
        layout.placement(0.0),
    )
    bolts = (*boss_bolts("channel", layout.bosses), *bar_bolts(layout, "channel", names, gap))
    return StockPlate(plate, bolts)
