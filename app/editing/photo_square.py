"""A photograph or scan squared by the four corners of a sheet of paper lying in it.

Four corners fit a sheet exactly, always: that fit says nothing about accuracy. What can be checked without
measuring anything is whether a camera can see a sheet of those proportions so; a distance known by measuring
checks it directly. The words say which of the two was done, or that neither could be.

Pixels: (0, 0) is the upper left of the upper left pixel, x to the right, y down. Millimetres: the sheet's
lower left corner, as it lies in the picture, is (0, 0), x along its lower edge, y up.

Glossary
--------
aspect   the sheet's lower edge over its left edge, as the camera must have seen them
wide     the sheet lies with a long edge along the bottom
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, get_args

import numpy as np
import numpy.typing as npt

from app.editing.refused import EditRefused

Sheet = Literal["A4", "Letter"]
SHEETS_MM: Final[dict[Sheet, tuple[float, float]]] = {"A4": (297.0, 210.0), "Letter": (279.4, 215.9)}
"""Long and short edge."""
Pixel = tuple[float, float]
Floats = npt.NDArray[np.float64]
KnownDistance = tuple[Pixel, Pixel, float]
"""Two places in the picture and the mm between them, measured in the plane of the sheet."""

_LEAST_EDGE_PX: Final = 30.0
_FOCAL: Final = (0.5, 12.0)
"""Focal lengths of ordinary cameras, in diagonals of their picture."""
_USUAL_FOCAL: Final = 0.8
_SETTLED: Final = 0.02
"""An aspect known to this share is worth comparing."""
_NO_SHEET: Final = 0.15
_WORTH_TELLING: Final = 0.03


@dataclass(frozen=True, eq=False)
class Squaring:
    """How pixels of a picture become mm in the plane of the sheet."""

    matrix: Floats
    """(3, 3): pixels to mm, in homogeneous coordinates."""
    sheet: Sheet
    wide: bool
    corners_px: tuple[Pixel, ...]
    """Lower left, lower right, upper right, upper left, as the sheet lies in the picture."""
    image_size: tuple[int, int]
    residual_mm: float | None
    """What does not fit, in mm; None if nothing could be checked. `words` say what it was taken from."""
    words: tuple[str, ...]

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the sheet as it lies."""
        return _size_mm(self.sheet, self.wide)

    @property
    def mm_per_px(self) -> float:
        """Size of a pixel in the middle of the sheet."""
        width, height = self.size_mm
        middle = self.pixels([(width / 2, height / 2)])[0]
        near = self.places_mm(middle + np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]))
        x, y = near[1] - near[0], near[2] - near[0]
        return math.sqrt(abs(float(x[0] * y[1] - x[1] * y[0])))

    def places_mm(self, pixels: Sequence[Pixel] | Floats) -> Floats:
        """Return places (n, 2) in mm for pixels (n, 2)."""
        return _through(self.matrix, np.asarray(pixels, dtype=float))

    def pixels(self, places_mm: Sequence[tuple[float, float]] | Floats) -> Floats:
        """Return pixels (n, 2) for places (n, 2) in mm."""
        return _through(np.linalg.inv(self.matrix).astype(np.float64), np.asarray(places_mm, dtype=float))


def squared(
    corners_px: Sequence[Pixel],
    sheet: Sheet,
    image_size: tuple[int, int],
    known: Sequence[KnownDistance] = (),
) -> Squaring:
    """Return the squaring by the four corners of a sheet, given in any order, and what checks it.

    Raises EditRefused if the corners make no such sheet.
    """
    if sheet not in SHEETS_MM:
        raise EditRefused(f"There is no sheet {sheet!r}: choose {' or '.join(get_args(Sheet))}.")
    corners = _in_order(corners_px, image_size)
    aspect, sigma = _aspect(corners, image_size)
    wide = aspect > 1.0
    long_mm, short_mm = SHEETS_MM[sheet]
    off = abs(math.log(aspect)) - math.log(long_mm / short_mm) if sigma is not None else None
    if off is not None and abs(off) > _NO_SHEET:
        raise EditRefused(
            f"The four corners make a sheet of 1 : {math.exp(abs(math.log(aspect))):.2f}, and {sheet} is"
            f" 1 : {long_mm / short_mm:.2f}: mark its corners again, and take the picture whole, not cropped."
        )
    matrix = _matrix(corners, *_size_mm(sheet, wide))
    residual_mm = None if off is None else abs(off) * long_mm
    words = [_aspect_words(off, sigma, sheet)]
    if known:
        residual_mm, told = _known(matrix, known)
        words.append(told)
    words.append(
        "Only what lies in the plane of the sheet is true to size: what is nearer to the camera looks larger."
    )
    return Squaring(
        matrix,
        sheet,
        wide,
        tuple((float(x), float(y)) for x, y in corners),
        image_size,
        residual_mm,
        tuple(words),
    )


def _size_mm(sheet: Sheet, wide: bool) -> tuple[float, float]:
    long_mm, short_mm = SHEETS_MM[sheet]
    return (long_mm, short_mm) if wide else (short_mm, long_mm)


def _in_order(corners_px: Sequence[Pixel], image_size: tuple[int, int]) -> Floats:
    """Return the corners (4, 2) from the lower left on, y still down; EditRefused if no sheet has them."""
    if len(corners_px) != 4:
        raise EditRefused(f"A sheet has four corners, and {len(corners_px)} are marked: mark each once.")
    corners = np.array(corners_px, dtype=float)
    size = np.array(image_size, dtype=float)
    if not np.isfinite(corners).all() or (corners < -1.0).any() or (corners > size + 1.0).any():
        raise EditRefused("A corner lies outside the picture: mark the four corners of the sheet within it.")
    x, y = (corners - corners.mean(axis=0)).T
    corners = corners[np.argsort(np.arctan2(-y, x))]  # against the clock, as people see it
    edges = np.roll(corners, -1, axis=0) - corners
    following = np.roll(edges, -1, axis=0)
    turns = -(edges[:, 0] * following[:, 1] - edges[:, 1] * following[:, 0])
    lengths = np.hypot(*edges.T)
    if lengths.min() < _LEAST_EDGE_PX:
        raise EditRefused(
            f"Two of the corners are {lengths.min():.0f} pixels apart: mark the four corners of the sheet,"
            " each once, on a sheet that fills more of the picture."
        )
    if (turns < 0.02 * lengths * np.roll(lengths, -1)).any():
        raise EditRefused(
            "The four corners lie nearly in line or one within the others, as no sheet does: mark them again."
        )
    lower = int(np.argmax(edges[:, 0] / lengths))  # the edge that runs most to the right
    ordered: Floats = np.roll(corners, -lower, axis=0)
    return ordered


def _matrix(corners: Floats, width_mm: float, height_mm: float) -> Floats:
    """Return the matrix (3, 3) that takes the corners, lower left first, to those of the sheet."""
    target = np.array([(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)])
    # scaled about the middle, so that the equations are well conditioned
    middle, spread = corners.mean(axis=0), float(np.abs(corners - corners.mean(axis=0)).max())
    rows, right = [], []
    for (x, y), (u, v) in zip((corners - middle) / spread, target, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    matrix = np.append(np.linalg.solve(np.array(rows), np.array(right)), 1.0).reshape(3, 3)
    shift = np.array([[1 / spread, 0, -middle[0] / spread], [0, 1 / spread, -middle[1] / spread], [0, 0, 1]])
    whole: Floats = matrix @ shift
    return whole


def _through(matrix: Floats, places: npt.NDArray[np.floating]) -> Floats:
    moved = np.column_stack([places, np.ones(len(places))]) @ matrix.T
    result: Floats = moved[:, :2] / moved[:, 2:]
    return result


def _aspect(corners: Floats, image_size: tuple[int, int]) -> tuple[float, float | None]:
    """Return the aspect and the share it is sure to for a pixel's error; None if it cannot be told.

    The camera is taken to have square pixels and its axis in the middle of the picture. Then the right angle
    between the sheet's edges gives the focal length, and that the aspect (Zhang and He, Whiteboard scanning
    and image enhancement, Digital Signal Processing 17 (2007), section 3). Seen square on, any focal length
    gives the same aspect.
    """
    by_angle = _aspect_by_right_angle(corners, image_size)
    if by_angle is not None:
        sigma = _sigma(corners, by_angle, lambda moved: _aspect_by_right_angle(moved, image_size))
        if sigma < _SETTLED:
            return by_angle, sigma
    low, usual, high = (
        _aspect_at(corners, image_size, focal) for focal in (_FOCAL[0], _USUAL_FOCAL, _FOCAL[1])
    )
    spread = abs(math.log(high / low)) / 2.0
    if spread > _SETTLED:
        return usual, None
    sigma = _sigma(corners, usual, lambda moved: _aspect_at(moved, image_size, _USUAL_FOCAL))
    return math.sqrt(low * high), math.hypot(spread, sigma)


def _edges_seen(corners: Floats, image_size: tuple[int, int]) -> tuple[Floats, Floats]:
    """Return the sheet's lower and left edges through the camera, each (3,), to a common unknown scale."""
    sight = np.linalg.inv(_matrix(corners, 1.0, 1.0))
    middle = np.array([[1, 0, -image_size[0] / 2], [0, 1, -image_size[1] / 2], [0, 0, 1.0]])
    seen = middle @ sight
    return seen[:, 0], seen[:, 1]


def _aspect_at(corners: Floats, image_size: tuple[int, int], focal: float) -> float:
    """Return the aspect for a focal length in diagonals of the picture."""
    first, second = _edges_seen(corners, image_size)
    focal_px = focal * math.hypot(*image_size)

    def length(edge: Floats) -> float:
        return math.sqrt(float(edge[0] ** 2 + edge[1] ** 2) / focal_px**2 + float(edge[2]) ** 2)

    return length(first) / length(second)


def _aspect_by_right_angle(corners: Floats, image_size: tuple[int, int]) -> float | None:
    first, second = _edges_seen(corners, image_size)
    across = float(first[0] * second[0] + first[1] * second[1])
    depth = float(first[2] * second[2])
    if depth == 0.0 or across / depth >= 0.0:
        return None
    focal = math.sqrt(-across / depth) / math.hypot(*image_size)
    return _aspect_at(corners, image_size, focal) if _FOCAL[0] <= focal <= _FOCAL[1] else None


def _sigma(corners: Floats, aspect: float, again: Callable[[Floats], float | None]) -> float:
    """Return the share the aspect is sure to if each corner is marked to a pixel."""
    total = 0.0
    for corner, axis in np.ndindex(4, 2):
        moved = corners.copy()
        moved[corner, axis] += 1.0
        other = again(moved)
        if other is None:
            return math.inf
        total += math.log(other / aspect) ** 2
    return math.sqrt(total)


def _aspect_words(off: float | None, sigma: float | None, sheet: Sheet) -> str:
    if off is None or sigma is None:
        return (
            "Four corners always fit a sheet, and this picture does not show by itself whether they are"
            " right: give a distance you have measured in the plane of the sheet."
        )
    long_mm, short_mm = SHEETS_MM[sheet]
    unsure_mm = sigma * long_mm
    told = (
        f"Seen by a camera, these corners make a sheet {math.exp(off) * long_mm:.1f} x {short_mm:.1f} mm;"
        f" {sheet} is {long_mm:g} x {short_mm:g}. The difference is {abs(off) * long_mm:.1f} mm, where one"
        f" pixel at the corners makes {unsure_mm:.1f} mm. It shows coarse mistakes only; a distance you have"
        " measured shows more."
    )
    other: Sheet = "Letter" if sheet == "A4" else "A4"
    other_long, other_short = SHEETS_MM[other]
    other_off = off + math.log(long_mm / short_mm) - math.log(other_long / other_short)
    if abs(off) > max(_WORTH_TELLING, 3.0 * sigma) and abs(other_off) < abs(off):
        told += f" It is nearer to {other}: look which sheet it is."
    return told


def _known(matrix: Floats, known: Sequence[KnownDistance]) -> tuple[float, str]:
    worst, told = -1.0, ""
    for first, second, wanted_mm in known:
        if not (math.isfinite(wanted_mm) and wanted_mm > 0.0):
            raise EditRefused(f"A distance of {wanted_mm:g} mm checks nothing: give one above 0.")
        a, b = _through(matrix, np.array([first, second], dtype=float))
        measured_mm = math.dist(a, b)
        if abs(measured_mm - wanted_mm) > worst:
            worst = abs(measured_mm - wanted_mm)
            told = (
                f"A distance measured as {wanted_mm:g} mm is {measured_mm:.2f} mm here: {worst:.2f} mm off."
            )
    return worst, told
