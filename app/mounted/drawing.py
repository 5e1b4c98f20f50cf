"""The one file that draws with matplotlib: lines and words put on an image, without any screen."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import Any, Final

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure
from matplotlib.patches import FancyBboxPatch, Polygon
from matplotlib.transforms import IdentityTransform

from app.mounted.frame import Image
from app.mounted.look import RGB
from app.mounted.overlay import Disc, Item, Path, Words
from app.mounted.shapes import Floats

DPI: Final = 100.0
POINTS_PER_PX: Final = 72.0 / DPI


def line_image(image: Image, strokes: Sequence[tuple[Floats, float, RGB]]) -> Image:
    """Return the image with lines drawn on it: each (k, 2, 2) pieces in pixels, width and colour."""
    figure = _figure(image)
    for pieces, width_px, colour in strokes:
        lines = LineCollection(
            list(_upward(pieces, image.shape[0])),
            linewidths=width_px * POINTS_PER_PX,
            colors=[tuple(part / 255.0 for part in colour)],
            transform=IdentityTransform(),
            capstyle="round",
        )
        figure.add_artist(lines)
    return _painted(figure)


def overlaid(image: Image, items: Sequence[Item], scale: float) -> Image:
    """Return the image with what is drawn over it; `scale` image pixels for each of the items'."""
    figure = _figure(image)
    height = image.shape[0]
    for order, item in enumerate(items, start=10):
        if isinstance(item, Path):
            _path(figure, item, scale, height, order)
        elif isinstance(item, Disc):
            _disc(figure, item, scale, height, order)
        else:
            _words(figure, item, scale, height, order)
    return _painted(figure)


def png_bytes(image: Image) -> bytes:
    """Return an image as PNG."""
    from matplotlib.image import imsave

    target = BytesIO()
    imsave(target, image, format="png")
    return target.getvalue()


def _figure(image: Image) -> Figure:
    height, width = image.shape[:2]
    figure = Figure(figsize=(width / DPI, height / DPI), dpi=DPI)
    FigureCanvasAgg(figure)
    figure.figimage(image, 0, 0, origin="upper")
    return figure


def _painted(figure: Figure) -> Image:
    canvas: Any = figure.canvas
    canvas.draw()
    return np.ascontiguousarray(np.asarray(canvas.buffer_rgba())[:, :, :3])


def _upward(places: Floats, height: int) -> Floats:
    turned = np.array(places, dtype=float)
    turned[..., 1] = height - turned[..., 1]
    return turned


def _path(figure: Figure, path: Path, scale: float, height: int, order: int) -> None:
    places = _upward(path.places_px * scale, height)
    figure.add_artist(
        Polygon(
            places,
            closed=bool(path.fill),
            fill=bool(path.fill),
            facecolor=path.fill or "none",
            edgecolor=path.colour,
            linewidth=path.width_px * scale * POINTS_PER_PX,
            transform=IdentityTransform(),
            zorder=order,
        )
    )


def _disc(figure: Figure, disc: Disc, scale: float, height: int, order: int) -> None:
    half_width, half_height = disc.half_width_px * scale, disc.half_height_px * scale
    figure.add_artist(
        FancyBboxPatch(
            (disc.x_px * scale - half_width, height - disc.y_px * scale - half_height),
            2.0 * half_width,
            2.0 * half_height,
            boxstyle=f"round,pad=0,rounding_size={half_height}",
            facecolor=disc.fill,
            edgecolor=disc.colour,
            linewidth=disc.width_px * scale * POINTS_PER_PX,
            transform=IdentityTransform(),
            mutation_aspect=1.0,
            zorder=order,
        )
    )


def _words(figure: Figure, words: Words, scale: float, height: int, order: int) -> None:
    figure.text(
        words.x_px * scale,
        height - words.y_px * scale,
        words.words,
        fontsize=words.size_px * scale * POINTS_PER_PX,
        color=words.colour,
        horizontalalignment={"left": "left", "middle": "center", "right": "right"}[words.across],
        verticalalignment="center_baseline",
        rotation=words.slant_deg,
        rotation_mode="anchor",
        style="italic" if words.italic else "normal",
        transform=IdentityTransform(),
        parse_math=False,
        bbox={"facecolor": words.ground, "edgecolor": "none", "pad": 1.0 * scale} if words.ground else None,
        zorder=order,
    )
