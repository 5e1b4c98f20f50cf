"""Room: spanners and bolts get in, nothing stands where knees, pedals and loom are, the column can tilt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.bar_face import bar_spots, depth_inside_bar
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtDashBar
from geometry.installation import KeptClear, Room
from solver.around.line import AroundGroup, AroundLine, blank
from solver.around.solids import TOUCH_MM, Cylinder, Solids, depth_in_block, depth_in_casing, tilted
from solver.around.spanners import spanner_lines

Floats = NDArray[np.float64]

_GROUP: AroundGroup = "room"
_PRACTICE: Final = "common practice, no source"
_MOST_TILTS: Final = 31
_BAR_STEP_MM: Final = 4.0
"""Between places on the dash bar."""
_BLOCK_STEP_MM: Final = 0.8
_MOST_IN_BLOCK: Final = 100_000


def room_lines(bracket: Bracket) -> Iterator[AroundLine]:
    """Yield everything there is to say of the room around the bracket."""
    solids = Solids(bracket)
    yield from spanner_lines(bracket, solids)
    yield from _casing_lines(solids)
    room = bracket.installation.room
    if room is None:
        yield blank(_GROUP, "clearance", "nobody has listed what has to stay clear: knees, pedals, loom")
        return
    yield from _kept_clear_lines(room, solids)
    yield from _tilt_lines(bracket, room, solids)


def _casing_lines(solids: Solids) -> Iterator[AroundLine]:
    bracket = solids.bracket
    casing = bracket.casing
    if casing is None:
        return
    for body in solids.plates:
        deep = depth_in_casing(casing, body.spots)
        if len(deep) and float(deep.max()) > TOUCH_MM:
            yield blank(
                _GROUP,
                f"casing and plate {body.name}",
                f"the plate lies {float(deep.max()):.1f} mm inside the block drawn round the casing: look"
                " whether"
                " metal meets there, or draw the block as it is",
            )
    if bracket.dash_bar is not None:
        deep = depth_inside_bar(bracket.dash_bar, solids.casing_spots)
        if len(deep) and float(deep.max()) > TOUCH_MM:
            yield blank(
                _GROUP,
                f"casing and {bracket.dash_bar.name}",
                f"the {bracket.dash_bar.name} runs {float(deep.max()):.1f} mm into the block drawn round the"
                " casing: look whether metal meets there, or draw the block as it is",
            )


def _kept_clear_lines(room: Room, solids: Solids) -> Iterator[AroundLine]:
    if room.looked_at is None or not room.looked_at.strip():
        yield blank(
            _GROUP, "clearance", "nobody is named who looked under the dash for all that has to stay clear"
        )
    for block in room.kept_clear:
        hit = _first_in(block, _named_spots(solids)) or _first_round(block, solids)
        if hit is None:
            yield AroundLine(
                _GROUP, f"clear: {block.name}", "met", "nothing of bracket, casing and bar is in it"
            )
            continue
        what, deep = hit
        yield AroundLine(
            _GROUP,
            f"clear: {block.name}",
            "fails",
            f"{what} reaches {deep:.0f} mm into the block kept clear for it",
            "the block, as typed",
            deep,
            0.0,
            "mm",
        )


def _named_spots(solids: Solids) -> list[tuple[str, Floats]]:
    named = [(f"plate {body.name}", body.spots) for body in solids.plates]
    named.append(("the casing", solids.casing_spots))
    bar = solids.bracket.dash_bar
    if bar is not None:
        named.append((f"the {bar.name}", bar_spots(bar, _BAR_STEP_MM)))
    return named


def _first_in(block: KeptClear, named: list[tuple[str, Floats]]) -> tuple[str, float] | None:
    low, high = np.asarray(block.low_mm), np.asarray(block.high_mm)
    for what, spots in named:
        if len(spots):
            deep = float(depth_in_block(low, high, spots).max())
            if deep > TOUCH_MM:
                return what, deep
    return None


def _first_round(block: KeptClear, solids: Solids) -> tuple[str, float] | None:
    """Return what a small block stands in, between the places that are looked at of it."""
    low = np.minimum(block.low_mm, block.high_mm)
    sides = np.abs(np.subtract(block.high_mm, block.low_mm))
    # places no farther apart than half a usual sheet, more so in a block too large for that
    apart = max(_BLOCK_STEP_MM, float(np.prod(np.maximum(sides, 1.0)) / _MOST_IN_BLOCK) ** (1.0 / 3.0))
    steps = [np.linspace(a, a + side, 2 + int(side / apart)) for a, side in zip(low, sides, strict=True)]
    spots = np.stack([g.ravel() for g in np.meshgrid(*steps)], axis=1)
    return next(((what, deep) for what, _, deep in solids.lie_in(spots)), None)


def _tilt_lines(bracket: Bracket, room: Room, solids: Solids) -> Iterator[AroundLine]:
    name = "tilt"
    if room.tilt_deg is None:
        yield blank(_GROUP, name, "whether the column tilts, and how far, is blank")
        return
    low, high = sorted(room.tilt_deg)
    if low == high == 0.0:
        yield AroundLine(_GROUP, name, "told", "the column does not tilt")
        return
    if room.pivot_mm is None or room.casing_tilts is None:
        what = (
            "the point it tilts about" if room.pivot_mm is None else "whether casing and bracket go with it"
        )
        yield blank(_GROUP, name, f"the column tilts from {low:g} to {high:g} deg and {what} is blank")
        return
    pivot = np.asarray(room.pivot_mm, dtype=float)
    tilts = np.linspace(low, high, min(_MOST_TILTS, 2 + int(high - low)))
    if room.casing_tilts == "yes":
        yield from _casing_tilts(bracket, room, solids, pivot, tilts)
    else:
        yield _column_tilts(bracket, room, solids, pivot, tilts)


def _casing_tilts(
    bracket: Bracket, room: Room, solids: Solids, pivot: Floats, tilts: Floats
) -> Iterator[AroundLine]:
    bolted, welded = [bolt.joins for bolt in bracket.bolts], [weld.joins for weld in bracket.welds]
    for joined, how in ((bolted, "bolted"), (welded, "welded")):
        if any(isinstance(joins, AtDashBar) for joins in joined):
            yield AroundLine(
                _GROUP,
                "tilt",
                "fails",
                f"casing and bracket tilt with the column, and the bracket is {how} to the dash bar: it ties"
                " down what has to move; bolt it to what tilts, or lock the tilt for good",
                _PRACTICE,
            )
            return
    at = {joins.anchor for joins in (*bolted, *welded) if isinstance(joins, AtAnchor)}
    if at:
        yield blank(
            _GROUP,
            "what tilts",
            f"casing and bracket tilt with the column, and anchor {', '.join(sorted(at))} is taken as"
            " immovable: look whether it tilts too, or the bracket ties down what has to move",
        )
    moving = [
        (what, spots) for what, spots in _named_spots(solids) if what.startswith(("plate", "the casing"))
    ]
    for tilt in tilts:
        for what, spots in moving:
            turned = tilted(spots, pivot, float(tilt))
            met = _met_by(turned, room, bracket)
            if met:
                yield AroundLine(
                    _GROUP, "tilt", "fails", f"tilted by {tilt:.0f} deg {what} runs into {met}", _PRACTICE
                )
                return
    yield AroundLine(
        _GROUP,
        "tilt",
        "met",
        f"casing and bracket stay clear from {tilts[0]:g} to {tilts[-1]:g} deg",
        _PRACTICE,
    )


def _met_by(spots: Floats, room: Room, bracket: Bracket) -> str:
    for block in room.kept_clear:
        if _first_in(block, [("", spots)]) is not None:
            return block.name
    bar = bracket.dash_bar
    if bar is not None and len(spots) and float(depth_inside_bar(bar, spots).max()) > TOUCH_MM:
        return f"the {bar.name}"
    return ""


def _column_tilts(bracket: Bracket, room: Room, solids: Solids, pivot: Floats, tilts: Floats) -> AroundLine:
    if room.column_diameter_mm is None or bracket.wheel is None:
        what = "the column's diameter" if room.column_diameter_mm is None else "the wheel's station"
        return blank(_GROUP, "tilt", f"the column tilts above the casing, and {what} is blank")
    length = bracket.wheel.station_mm - float(pivot[2])
    if length <= 0.0:
        return blank(
            _GROUP, "tilt", "the point the column tilts about lies beyond the wheel: correct one of them"
        )
    start = np.array([0.0, 0.0, float(pivot[2])])
    column = Cylinder(start, np.array([0.0, 0.0, 1.0]), room.column_diameter_mm / 2.0, length)
    for tilt in tilts:
        hit = solids.in_the_way(column.tilted(pivot, float(tilt)))
        if hit is not None:
            return AroundLine(
                _GROUP, "tilt", "fails", f"tilted by {tilt:.0f} deg the column runs into {hit[0]}", _PRACTICE
            )
    return AroundLine(
        _GROUP, "tilt", "met", f"the column stays clear from {tilts[0]:g} to {tilts[-1]:g} deg", _PRACTICE
    )
