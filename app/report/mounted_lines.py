"""The bracket as mounted as lines on paper: what is hidden is left out, nothing is an image. No Qt."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from app.mounted.overlay import Disc, Item, Path
from app.mounted.scene import Scene
from app.mounted.still import seen_lines
from app.paper.mounted import ON_WHITE, PX_PER_MM
from app.paper.page import Figure, LineKind, Mark, Stroke, Words, box, circle
from geometry.bracket import Bracket
from solver.results import Results

FINER: Final = 2.0
_THICK_PX: Final = 1.35


def mounted_figure(
    bracket: Bracket, results: Results | None, width_mm: float, height_mm: float, *, moved: bool
) -> tuple[Figure, str]:
    """Return the bracket as mounted in a box, and what it shows in words.

    Moved, it is drawn in the load case that moves it most, by a factor that the words state.
    """
    scene = Scene(ON_WHITE, (round(width_mm * PX_PER_MM), round(height_mm * PX_PER_MM)))
    scene.show(bracket, results if moved else None)
    scene.show_map(on=False)
    if moved and results is not None and results.free_motions:
        scene.show_free_motion(0)
    scene.stand("aslant")
    window = shapely.box(0.0, 0.0, width_mm, height_mm)
    marks: list[Mark] = []
    for pieces, width_px in seen_lines(scene.frame(), FINER):
        kind: LineKind = "medium" if width_px >= _THICK_PX else "hair"
        marks += _drawn(pieces / (FINER * PX_PER_MM), kind, window)
    marks += [_item(item) for item in scene.items(caption=False)]
    marks.append(box(0.0, 0.0, width_mm, height_mm, "hair"))
    return Figure(width_mm, height_mm, tuple(marks)), " \u2013 ".join(scene.words().splitlines())


def _drawn(pieces: np.ndarray, kind: LineKind, window: shapely.Polygon) -> list[Mark]:
    """Return pieces (k, 2, 2) as strokes within a window, those that hang together as one."""
    long = pieces[np.linalg.norm(pieces[:, 1] - pieces[:, 0], axis=1) > 0.03]
    if not len(long):
        return []
    seen = shapely.intersection(shapely.multilinestrings(list(np.round(long, 3))), window)
    joined = shapely.line_merge(seen)
    return [
        Stroke(tuple((float(x), float(y)) for x, y in line.coords), kind)
        for line in getattr(joined, "geoms", [joined])
        if line.geom_type == "LineString"
    ]


def _item(item: Item) -> Mark:
    if isinstance(item, Path):
        places = tuple((float(x), float(y)) for x, y in item.places_px / PX_PER_MM)
        return Stroke(places, "thin", closed=bool(item.fill), fill=item.fill)
    if isinstance(item, Disc):
        centre = (item.x_px / PX_PER_MM, item.y_px / PX_PER_MM)
        wide, high = item.half_width_px / PX_PER_MM, item.half_height_px / PX_PER_MM
        if wide <= high * 1.01:
            ring = circle(centre, high)
            return replace(ring, fill=item.fill)
        corners = [
            (centre[0] + sx * (wide - high) + high * np.cos(t), centre[1] + high * np.sin(t))
            for sx, turns in ((1.0, np.linspace(-0.5, 0.5, 9)), (-1.0, np.linspace(0.5, 1.5, 9)))
            for t in np.pi * turns
        ]
        return Stroke(tuple((float(x), float(y)) for x, y in corners), "thin", closed=True, fill=item.fill)
    at = (item.x_px / PX_PER_MM, (item.y_px + 0.36 * item.size_px) / PX_PER_MM)
    return Words(
        item.words, at, item.size_px / PX_PER_MM, item.across, italic=item.italic, angle_deg=item.slant_deg
    )
