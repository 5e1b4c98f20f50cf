"""The foot of a stock shape: folded so that it lies under the dash bar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.editing.refused import EditRefused
from app.editing.stock_frame import BossAt, Layout
from app.editing.stock_sheet import BAR_BOLT, EDGE_MM, INSIDE_RADIUS_MM, THICKNESS_MM, reach_mm
from geometry.bend_allowance import bend_allowance
from geometry.bolt_tables import bolt_size


@dataclass(frozen=True)
class Foot:
    """A foot folded against the underside of the bar."""

    bend_v: float
    """Where the bend begins."""
    fold_v: float
    hole_v: float
    top_v: float
    direction: str


def foot_of(layout: Layout, bosses: Sequence[BossAt]) -> Foot:
    """Return where to fold and drill so that the foot lies under the bar; EditRefused if there is no room."""
    above_v = max(boss.v + boss.face_mm / 2.0 + THICKNESS_MM / 3.0 for boss in bosses)
    bar, t, radius = layout.bar, THICKNESS_MM, INSIDE_RADIUS_MM
    width = bend_allowance(90.0, radius, t).zone_width_mm
    fold_v = bar.v - bar.half_v - radius - t + width / 2.0
    up = bar.w >= t / 2.0
    begins = t + radius if up else radius
    margin = reach_mm(bolt_size(BAR_BOLT))
    across = bar.w if up else -bar.w
    spare = 0.0 if bar.is_round else max(bar.half_w - margin, 0.0)
    at = min(max(across, begins + margin), across + spare)
    if at < begins + margin - 1e-9:
        raise EditRefused(
            f"the dash bar is only {abs(bar.w):.0f} mm from the plane of the boss faces: no foot has room to"
            " be folded and bolted under it, take the flat plate"
        )
    if fold_v - width / 2.0 < above_v:
        short = above_v - (fold_v - width / 2.0)
        raise EditRefused(
            f"the dash bar is {short:.0f} mm too near the bosses for a folded foot under it: take the flat"
            " plate, or draw the plate by hand"
        )
    hole_v = fold_v + width / 2.0 + at - begins
    return Foot(fold_v - width / 2.0, fold_v, hole_v, hole_v + margin + EDGE_MM, "up" if up else "down")
