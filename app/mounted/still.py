"""Paint frames without any graphics library: faces by a depth buffer, lines by matplotlib.

For machines without OpenGL: it takes some tenths of a second where the other painter takes hundredths.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from app.mounted.drawing import line_image
from app.mounted.frame import Drawn, Faces, Frame, Image
from app.mounted.look import SEE_THROUGH
from app.mounted.shapes import Bools, Floats

HAIR_PX: Final = 1.6
"""How far before its own faces a line is taken to lie: as far as this many pixels are wide in space."""


class Still:
    """The slow painter."""

    def paint(self, frame: Frame, scale: float, *, draft: bool = False) -> Image:
        """Return the image, `scale` image pixels for each of the camera's; a draft is no quicker."""
        width, height = (max(1, round(size * scale)) for size in frame.camera.size_px)
        image = np.empty((height, width, 3), dtype=np.uint8)
        image[:] = frame.ground
        depth = np.full((height, width), -np.inf)
        _fill(image, depth, frame, frame.solid, scale, 1.0)
        solid_depth = depth.copy()
        _fill(image, depth, frame, frame.see_through, scale, SEE_THROUGH)
        strokes = [
            (_seen_pieces(frame, drawn, solid_depth, scale), drawn.width_px * scale, drawn.colour)
            for drawn in frame.lines.values()
            if len(drawn.ends)
        ]
        return line_image(image, strokes)


def seen_lines(frame: Frame, scale: float) -> list[tuple[Floats, float]]:
    """Return lines that no face hides, each kind as pieces (k, 2, 2) in pixels times scale, and its width."""
    width, height = (max(1, round(size * scale)) for size in frame.camera.size_px)
    image = np.empty((height, width, 3), dtype=np.uint8)
    depth = np.full((height, width), -np.inf)
    _fill(image, depth, frame, frame.solid, scale, 1.0)
    return [
        (_seen_pieces(frame, drawn, depth, scale), drawn.width_px)
        for drawn in frame.lines.values()
        if len(drawn.ends)
    ]


def _fill(image: Image, depth: Floats, frame: Frame, faces: Faces, scale: float, share: float) -> None:
    if len(faces.triangles) == 0:
        return
    seen = frame.camera.project(faces.points)
    seen[:, :2] *= scale
    corners = seen[faces.triangles]
    x, y = corners[:, :, 0], corners[:, :, 1]
    # Downward pixels: a face that looks at the eye turns right here.
    area = (x[:, 1] - x[:, 0]) * (y[:, 2] - y[:, 0]) - (x[:, 2] - x[:, 0]) * (y[:, 1] - y[:, 0])
    height, width = depth.shape
    on = (x.max(axis=1) > 0) & (x.min(axis=1) < width) & (y.max(axis=1) > 0) & (y.min(axis=1) < height)
    for number in np.flatnonzero(on & (area < -1e-9)):
        _triangle(image, depth, corners[number], faces.colours[number], share)


def _triangle(image: Image, depth: Floats, corners: Floats, colour: np.ndarray, share: float) -> None:
    height, width = depth.shape
    low = np.maximum(np.floor(corners[:, :2].min(axis=0)).astype(int), 0)
    high = np.minimum(np.ceil(corners[:, :2].max(axis=0)).astype(int) + 1, [width, height])
    if (high <= low).any():
        return
    x = np.arange(low[0], high[0])[None, :] + 0.5
    y = np.arange(low[1], high[1])[:, None] + 0.5
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = corners
    whole = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    second = ((x - ax) * (cy - ay) - (cx - ax) * (y - ay)) / whole
    third = ((bx - ax) * (y - ay) - (x - ax) * (by - ay)) / whole
    z = az + second * (bz - az) + third * (cz - az)
    window = (slice(low[1], high[1]), slice(low[0], high[0]))
    mine = (second >= -1e-9) & (third >= -1e-9) & (second + third <= 1.0 + 1e-9) & (z > depth[window])
    depth[window][mine] = z[mine]
    mixed = share * colour + (1.0 - share) * image[window][mine]
    image[window][mine] = np.round(mixed).astype(np.uint8)


def _seen_pieces(frame: Frame, drawn: Drawn, depth: Floats, scale: float) -> Floats:
    """Return (k, 2, 2) the parts of lines, in image pixels, that no face hides."""
    seen = frame.camera.project(drawn.ends.reshape(-1, 3)).reshape(-1, 2, 3)
    seen[:, :, :2] *= scale
    hair = HAIR_PX * frame.camera.mm_per_px / scale
    found = [np.zeros((0, 2, 2))]
    height, width = depth.shape
    for start, end in seen:
        count = int(np.clip(np.ceil(np.abs(end - start)[:2].max() / 2.0), 1, 2000))
        shares = (np.arange(count) + 0.5)[:, None] / count
        at = start + shares * (end - start)
        column = np.clip(at[:, 0].astype(int), 0, width - 1)
        row = np.clip(at[:, 1].astype(int), 0, height - 1)
        runs = _runs(at[:, 2] > depth[row, column] - hair)
        if len(runs):
            found.append(start[:2] + (runs / count)[:, :, None] * (end - start)[:2])
    return np.concatenate(found)


def _runs(seen: Bools) -> Floats:
    """Return (r, 2) the first and the one past the last of each run of True."""
    steps = np.diff(np.r_[0, seen.astype(int), 0])
    return np.stack([np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)], axis=1).astype(float)
