"""Photographs for a record: the picture itself, at most 1600 px long, and nothing else the camera wrote."""

from __future__ import annotations

import base64
import binascii
from pathlib import Path

from app.editing.photo_image import Picture, jpeg_in, jpeg_of, read_image
from app.editing.refused import EditRefused
from app.record.record import LONGEST_SIDE_PX, MOST_JPEG_BYTES, MOST_PHOTOGRAPHS, Photograph, Record


def photograph_of(path: Path, words: str = "") -> Photograph:
    """Return the photograph in a file, its place and time left behind; EditRefused if there is none."""
    return _made(read_image(path), path.stem[:80].strip() or "photograph", words)


def with_photograph(record: Record, photograph: Photograph) -> Record:
    """Return the record with one photograph more; EditRefused if it holds as many as it can."""
    if len(record.photographs) >= MOST_PHOTOGRAPHS:
        raise EditRefused(
            f"The record holds {MOST_PHOTOGRAPHS} photographs and takes no more: take one out first."
        )
    taken = {p.name for p in record.photographs}
    name, count = photograph.name, 1
    while name in taken:
        count += 1
        name = f"{photograph.name[:70]} {count}"
    return record.but(photographs=(*record.photographs, photograph.but(name=name)))


def without_photograph(record: Record, name: str) -> Record:
    """Return the record without the photograph of that name."""
    return record.but(photographs=tuple(p for p in record.photographs if p.name != name))


def picture_of(photograph: Photograph) -> Picture:
    """Return the pixels of a photograph; EditRefused, saying why, if it holds none."""
    return _looked_at(photograph)[0]


def sound_photograph(photograph: Photograph) -> tuple[Photograph, bool]:
    """Return a photograph from a stranger's record as it may be kept, and whether anything was taken out.

    EditRefused, saying why, if it is no photograph at all.
    """
    picture, beside = _looked_at(photograph)
    size = (picture.shape[1], picture.shape[0])
    if not beside and size == (photograph.width_px, photograph.height_px):
        return photograph, False
    return _made(picture, photograph.name, photograph.words), beside


def _looked_at(photograph: Photograph) -> tuple[Picture, bool]:
    try:
        content = base64.b64decode(photograph.jpeg, validate=True)
    except (binascii.Error, ValueError):
        raise EditRefused("it is not written as base64") from None
    return jpeg_in(content, LONGEST_SIDE_PX)


def _made(picture: Picture, name: str, words: str) -> Photograph:
    content, width, height = jpeg_of(picture, LONGEST_SIDE_PX, MOST_JPEG_BYTES)
    return Photograph(
        name=name,
        words=words,
        width_px=width,
        height_px=height,
        jpeg=base64.b64encode(content).decode("ascii"),
    )
