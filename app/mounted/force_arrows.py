"""The forces of bolts on their plates as arrows over the picture."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from app.mounted.camera import Camera
from app.mounted.labels import SMALL_PX
from app.mounted.overlay import Item, Path, Words
from app.mounted.shapes import Floats
from app.theme import Theme
from app.wording.figures import Units, in_units
from solver.results import ConnectionSheet

ARROW_PX: Final = 90.0
"""The largest force is drawn this long."""


def force_arrows(
    sheets: Sequence[ConnectionSheet], camera: Camera, theme: Theme, units: Units
) -> tuple[list[Item], Floats]:
    """Return the arrows, and places (n, 2) along them that balloons should stand clear of."""
    forces = np.array([sheet.force_n for sheet in sheets]).reshape(-1, 3)
    sizes = np.linalg.norm(forces, axis=1)
    if len(sheets) == 0 or not sizes.max() > 0.0:
        return [], np.zeros((0, 2))
    tips = camera.project(np.array([sheet.at_mm for sheet in sheets]))[:, :2]
    ways = (forces @ camera.axes[:2].T) * np.array([1.0, -1.0])
    tails = tips - ways * (ARROW_PX / sizes.max())
    arrows = _arrows(tails, tips, [float(size) for size in sizes], theme, units)
    return arrows, np.concatenate([tails + share * (tips - tails) for share in (-0.15, 0.25, 0.6)])


def _arrows(tails: Floats, tips: Floats, forces_n: Sequence[float], theme: Theme, units: Units) -> list[Item]:
    """Return an arrow in ink for each force on a plate, tip at the bolt, its size in N or lbf at the tail."""
    items: list[Item] = []
    per_n, unit = in_units(1.0, "N", units)
    for tail, tip, force in zip(tails, tips, forces_n, strict=True):
        way = tip - tail
        length = float(np.hypot(*way))
        if length > 4.0:
            way = way / length
            side = np.array([-way[1], way[0]])
            back = tip - min(10.0, 0.6 * length) * way
            items.append(Path(np.array([tail, back]), 1.8, theme.ink))
            items.append(
                Path(np.array([tip, back + 3.2 * side, back - 3.2 * side]), 0.5, theme.ink, theme.ink)
            )
        at = tail - (way * 12.0 if length > 4.0 else np.array([0.0, 12.0]))
        items.append(
            Words(
                f"{force * per_n:.0f} {unit}",
                float(at[0]),
                float(at[1]),
                SMALL_PX,
                theme.ink,
                ground=theme.ground,
            )
        )
    return items
