"""Where a plate stands: put by its holes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from app.editing.hole_fit import fit_holes
from app.editing.hole_partner import HoleAt
from app.editing.names import plate_of
from app.editing.possible import folded
from app.editing.refused import EditRefused
from app.editing.still_panel import LEVELS, as_place
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole

Partner = AtHole | AtBoss | AtDashBar | AtAnchor
HoleOn = tuple[str, Partner]
"""A hole of the plate, and what it is put on."""

_TOLD_MM: Final = 0.05


@dataclass(frozen=True)
class PlateStanding:
    """A plate put by its holes."""

    bracket: Bracket
    off_mm: float
    """How far the worst hole is out of line with its partner; a gap that a spacer fills is not counted."""
    words: str
    """How each hole stands to its partner."""


def stand_by_holes(
    bracket: Bracket, plate_name: str, first: HoleOn, second: HoleOn, third: HoleOn | None = None
) -> PlateStanding:
    """Return the bracket with a plate placed so that its holes lie on their partners, face on face.

    The first boss, anchor or hole of another plate named is met exactly, its face against the panel; the
    plate is then turned about that bolt until the others lie on theirs as nearly as can be. Of two ways that
    fit alike the one nearer to where the plate stands is taken. EditRefused if the holes do not reach.
    """
    plate = plate_of(bracket, plate_name)
    wanted = [first, second, *([] if third is None else [third])]
    if len({hole for hole, _ in wanted}) < len(wanted):
        raise EditRefused("a hole can be put on one partner only: name different holes")
    holes = [HoleAt(bracket, plate, hole, partner) for hole, partner in wanted]
    fit = fit_holes(folded(plate, "placed"), holes)
    placement = plate.placement
    height = LEVELS[placement.origin_on] * plate.thickness_mm
    placed = plate.but(
        placement=placement.but(
            origin_mm=as_place(fit.origin + height * fit.axes[:, 2]),
            x_axis=as_place(fit.axes[:, 0]),
            y_axis=as_place(fit.axes[:, 1]),
        )
    )
    told = []
    for hole, off, gap in zip(holes, fit.off_mm, fit.gap_mm, strict=True):
        words = f"hole {hole.name} lies on {hole.words}"
        if off > _TOLD_MM:
            words = f"hole {hole.name} is {off:.2f} mm out of line with {hole.words}"
        if abs(gap) > _TOLD_MM:
            words += f", {abs(gap):.2f} mm {'off its face' if gap > 0.0 else 'into it'}"
        told.append(words)
    return PlateStanding(bracket.with_plate(placed), max(fit.off_mm), "; ".join(told))
