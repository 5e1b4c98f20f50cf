"""Pictures from files, and pictures laid flat; the one file that knows pillow."""

from __future__ import annotations

import io
import math
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageOps, UnidentifiedImageError

from app.editing.photo_square import Squaring
from app.editing.refused import EditRefused

Picture = npt.NDArray[np.uint8]
"""(height, width, 3), red green blue."""
MOST_PIXELS: Final = 12_000_000
"""Of a picture in memory; a larger one is made smaller as it is read."""
_MOST_READ: Final = 120_000_000
"""Pixels of a JPEG file, which is made smaller while it is unpacked."""
_MOST_UNPACKED: Final = 40_000_000
"""Of any other file: it is unpacked whole, four bytes a pixel, three times over where it is see-through."""
_LONGEST_READ_PX: Final = 30_000
"""Of a side: a strip a million pixels long shows nothing, and takes far more memory than its pixels."""
_MOST_BYTES: Final = 60_000_000
_KINDS: Final = ("PNG", "JPEG", "TIFF", "BMP", "WEBP")
_BESIDE_PIXELS: Final = {"exif", "comment", "xmp", "photoshop", "icc_profile", "mp"}
_HEAD_BYTES: Final = 4096
"""Where the notes of a camera stand, before the pixels."""
_AROUND: Final = 1.5
"""How far round the sheet the picture is laid, in long edges of the sheet."""
_PAPER: Final = (255, 255, 255)


@dataclass(frozen=True, eq=False)
class LaidFlat:
    """A picture laid flat, to lie under the sheet."""

    rgb: Picture
    left_mm: float
    """x of its left edge, from the lower left corner of the sheet of paper."""
    bottom_mm: float
    mm_per_px: float


def read_image(path: Path | str) -> Picture:
    """Return the picture in a file, upright, at most MOST_PIXELS of it; EditRefused if there is none."""
    path = Path(path)
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise EditRefused(f"{path.name} is over {_MOST_BYTES / 1e6:g} MB: save the picture smaller.")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # the bound below is ours, and so are the words
            with Image.open(path, formats=_KINDS) as image:
                return _upright(image, path.name)
    except EditRefused:
        raise
    except FileNotFoundError:
        raise EditRefused(f"There is no file {path}: check the name and the folder.") from None
    except (UnidentifiedImageError, Image.DecompressionBombError):
        raise EditRefused(
            f"{path.name} is no picture that can be laid under the sheet: choose {', '.join(_KINDS)}."
        ) from None
    except Exception as error:  # broken files make the library raise many kinds
        raise EditRefused(f"{path.name} is broken or cannot be read: save the picture again.") from error


def jpeg_of(picture: Picture, longest_px: int, most_bytes: int) -> tuple[bytes, int, int]:
    """Return a picture as a JPEG file no larger than that, its width and its height.

    It is made of the pixels alone: nothing that a camera wrote down beside them goes with it.
    """
    image = Image.fromarray(picture)
    image.thumbnail((longest_px, longest_px), Image.Resampling.LANCZOS)
    for quality in (85, 75, 60, 40):
        out = io.BytesIO()
        image.save(out, "JPEG", quality=quality, optimize=True)
        if out.tell() <= most_bytes:
            return out.getvalue(), image.width, image.height
    smaller = np.array(image)
    return jpeg_of(smaller, max(64, longest_px * 3 // 4), most_bytes)


def jpeg_in(content: bytes, longest_px: int) -> tuple[Picture, bool]:
    """Return the picture in the bytes of a JPEG file, and whether anything but pixels stands beside it.

    EditRefused if it is no JPEG, is broken or has a longer side than that.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(content), formats=("JPEG",)) as image:
                if max(image.size) > longest_px:
                    raise EditRefused(
                        f"it is {image.width} x {image.height} pixels and {longest_px} are the most a side"
                    )
                beside = bool(set(image.info) & _BESIDE_PIXELS) or b"\xff\xe1" in content[:_HEAD_BYTES]
                return _upright(image, "the photograph"), beside
    except EditRefused:
        raise
    except Exception as error:  # broken files make the library raise many kinds
        raise EditRefused("it is no JPEG picture or is broken") from error


def warped(image_rgb: Picture, squaring: Squaring, mm_per_px: float) -> LaidFlat:
    """Return the picture as seen square on, its pixels that large; white where it shows nothing.

    It reaches at most one and a half long edges beyond the sheet of paper. Raises EditRefused if that has too
    many pixels or the picture is not the one that was squared.
    """
    height, width = image_rgb.shape[:2]
    if (width, height) != squaring.image_size:
        raise EditRefused(
            "The picture has another size than the one the corners were marked in: mark them again."
        )
    if not (math.isfinite(mm_per_px) and mm_per_px > 0.0):
        raise EditRefused(f"A pixel of {mm_per_px:g} mm shows nothing: give a size above 0.")
    left, bottom, right, top = _box_mm(squaring)
    across, up = math.ceil((right - left) / mm_per_px), math.ceil((top - bottom) / mm_per_px)
    if across * up > MOST_PIXELS:
        least = math.sqrt((right - left) * (top - bottom) / MOST_PIXELS) * 1.001
        raise EditRefused(
            f"At {mm_per_px:g} mm a pixel the picture would have {across * up / 1e6:.0f} million pixels: take"
            f" {least:g} mm or more."
        )
    top = bottom + up * mm_per_px
    # output pixels to mm to input pixels
    to_mm = np.array([[mm_per_px, 0.0, left], [0.0, -mm_per_px, top], [0.0, 0.0, 1.0]])
    back = np.linalg.inv(squaring.matrix) @ to_mm
    flat = Image.fromarray(image_rgb).transform(
        (across, up),
        Image.Transform.PERSPECTIVE,
        tuple((back / back[2, 2]).ravel()[:8].tolist()),
        Image.Resampling.BICUBIC,
        fillcolor=_PAPER,
    )
    laid = np.array(flat)
    x, y = np.arange(across) + 0.5, np.arange(up) + 0.5
    depth = back[2, 0] * x[None, :] + back[2, 1] * y[:, None] + back[2, 2]
    laid[depth * _depth_at_sheet(squaring) <= 0.0] = _PAPER  # behind the camera
    return LaidFlat(laid, left, bottom, mm_per_px)


def _depth_at_sheet(squaring: Squaring) -> float:
    width, height = squaring.size_mm
    return float(np.linalg.inv(squaring.matrix)[2] @ (width / 2, height / 2, 1.0))


def _box_mm(squaring: Squaring) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of what the picture shows round the sheet."""
    width, height = squaring.image_size
    share = np.linspace(0.0, 1.0, 101)
    zero, one = np.zeros_like(share), np.ones_like(share)
    border = np.concatenate(
        [np.column_stack(pair) for pair in ((share, zero), (share, one), (zero, share), (one, share))]
    ) * (width, height)
    # beyond the horizon of the sheet's plane there are no places
    depth = np.column_stack([border, np.ones(len(border))]) @ squaring.matrix[2]
    middle = np.append(np.mean(squaring.corners_px, axis=0), 1.0) @ squaring.matrix[2]
    seen = depth * np.sign(middle) > 1e-9 * abs(middle)
    around = _AROUND * max(squaring.size_mm)
    lowest, highest = np.full(2, -around), np.array(squaring.size_mm) + around
    places = squaring.places_mm(border[seen]) if seen.any() else np.empty((0, 2))
    if not seen.all():
        places = np.concatenate([places, [lowest, highest]])
    low = np.clip(places.min(axis=0), lowest, 0.0)
    high = np.clip(places.max(axis=0), squaring.size_mm, highest)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _upright(image: Image.Image, name: str) -> Picture:
    pixels = image.width * image.height
    most = _MOST_READ if image.format == "JPEG" else _MOST_UNPACKED
    if pixels > most:
        raise EditRefused(
            f"{name} has {pixels / 1e6:.0f} million pixels, and at most {most / 1e6:.0f} are read: save"
            " it smaller, or as JPEG."
        )
    if max(image.size) > _LONGEST_READ_PX:
        raise EditRefused(
            f"{name} is {image.width} x {image.height} pixels, and {_LONGEST_READ_PX} are the most a side:"
            " cut it, or save it smaller."
        )
    share = math.sqrt(MOST_PIXELS / pixels)
    if share < 1.0:
        image.draft("RGB", (int(image.width * share), int(image.height * share)))
    if image.mode.startswith("I;16"):
        deep = np.asarray(image, dtype=np.uint16)
        image = Image.fromarray((deep >> 8).astype(np.uint8))
    ImageOps.exif_transpose(image, in_place=True)
    see_through = image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info
    upright = image if image.mode in ("RGB", "RGBA") else image.convert("RGBA" if see_through else "RGB")
    if see_through and upright.mode == "RGB":
        upright = upright.convert("RGBA")
    share = math.sqrt(MOST_PIXELS / (upright.width * upright.height))
    if share < 1.0:  # before anything else is made of it
        size = (max(1, int(upright.width * share)), max(1, int(upright.height * share)))
        upright = upright.resize(size, Image.Resampling.LANCZOS)
    if see_through:
        ground = Image.new("RGBA", upright.size, (*_PAPER, 255))
        upright = Image.alpha_composite(ground, upright)
    return np.array(upright.convert("RGB"))
