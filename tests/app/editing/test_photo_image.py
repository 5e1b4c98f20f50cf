"""Pictures from files, and laid flat."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from app.editing import photo_image
from app.editing.photo_image import MOST_PIXELS, read_image, warped
from app.editing.photo_square import squared
from app.editing.refused import EditRefused
from tests.app.editing.test_photo_square import SIZE, camera, seen, sheet_corners


def photograph() -> np.ndarray:
    """Return a picture of a table with black squares of 6 mm at known places, and a white sheet."""
    view = camera(20, 15, 5)
    back = np.linalg.inv(view)
    x, y = np.meshgrid(np.arange(SIZE[0]) + 0.5, np.arange(SIZE[1]) + 0.5)
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in back)
    u, v = u / w, v / w
    picture = np.full((SIZE[1], SIZE[0], 3), 180, dtype=np.uint8)
    picture[(u >= 0) & (u <= 297) & (v >= 0) & (v <= 210)] = 255
    for at_x, at_y in MARKS:
        picture[(abs(u - at_x) <= 3) & (abs(v - at_y) <= 3)] = 0
    return picture


MARKS = [(50.0, 40.0), (250.0, 160.0), (-40.0, 100.0), (330.0, 30.0)]


def test_a_picture_laid_flat_shows_places_where_they_are() -> None:
    squaring = squared(seen(camera(20, 15, 5), sheet_corners()), "A4", SIZE)
    flat = warped(photograph(), squaring, 0.3)
    rows, columns = flat.rgb.shape[:2]
    x = flat.left_mm + (np.arange(columns) + 0.5) * flat.mm_per_px
    y = flat.bottom_mm + (rows - np.arange(rows) - 0.5) * flat.mm_per_px
    dark = flat.rgb[:, :, 0] < 90
    for at_x, at_y in MARKS:
        near = dark & (abs(x[None, :] - at_x) < 8) & (abs(y[:, None] - at_y) < 8)
        down, across = np.nonzero(near)
        assert x[across].mean() == pytest.approx(at_x, abs=0.1)
        assert y[down].mean() == pytest.approx(at_y, abs=0.1)
        assert near.sum() * 0.3**2 == pytest.approx(36.0, rel=0.08)


def test_a_picture_that_shows_the_horizon_is_bounded() -> None:
    squaring = squared(seen(camera(-55, 0, 0), sheet_corners()), "A4", SIZE)
    flat = warped(np.full((SIZE[1], SIZE[0], 3), 100, dtype=np.uint8), squaring, 1.0)
    rows, columns = flat.rgb.shape[:2]
    assert columns <= 297 * 4 + 1
    assert rows <= 210 + 297 * 3 + 1
    assert {100, 255} >= set(np.unique(flat.rgb[:, :, 0]).tolist()) - set(range(101, 255))
    assert (flat.rgb == 100).any()


def test_too_fine_is_refused_and_says_what_will_do() -> None:
    squaring = squared(seen(camera(20, 15, 5), sheet_corners()), "A4", SIZE)
    picture = np.zeros((SIZE[1], SIZE[0], 3), dtype=np.uint8)
    with pytest.raises(EditRefused, match=r"million pixels: take 0\.\d+ mm or more"):
        warped(picture, squaring, 0.01)
    with pytest.raises(EditRefused, match="shows nothing"):
        warped(picture, squaring, 0.0)
    with pytest.raises(EditRefused, match="another size"):
        warped(picture[:100], squaring, 1.0)


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "L", "P", "CMYK", "1", "I;16"])
def test_pictures_of_all_kinds_are_read(tmp_path: Path, mode: str) -> None:
    path = tmp_path / ("picture.tif" if mode == "CMYK" else "picture.png")
    if mode == "I;16":
        Image.fromarray(np.full((20, 30), 40_000, dtype=np.uint16)).save(path)
    else:
        Image.new("RGB", (30, 20), (156, 156, 156)).convert(mode).save(path)
    picture = read_image(path)
    assert picture.shape == (20, 30, 3)
    if mode not in ("1", "P"):
        assert abs(picture.astype(int) - 156).max() <= 2
    assert picture.mean() == pytest.approx(156, abs=3)


def test_a_picture_is_turned_as_its_camera_was_held(tmp_path: Path) -> None:
    path = tmp_path / "held.jpg"
    exif = Image.Exif()
    exif[0x0112] = 6
    Image.new("RGB", (300, 200)).save(path, exif=exif)
    assert read_image(path).shape == (300, 200, 3)


def test_a_large_picture_is_made_smaller(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(photo_image, "MOST_PIXELS", 5_000)
    path = tmp_path / "large.png"
    Image.new("RGB", (300, 200), (9, 9, 9)).save(path)
    picture = read_image(path)
    assert picture.shape[0] * picture.shape[1] <= 5_000
    assert picture.shape[1] / picture.shape[0] == pytest.approx(1.5, abs=0.03)
    assert MOST_PIXELS == 12_000_000


def bomb() -> bytes:
    """Return a PNG that says it is 60 000 pixels square."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(bytes(1000)))
        + chunk(b"IEND", b"")
    )


def test_what_is_no_picture_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    Image.fromarray(np.random.default_rng(1).integers(0, 255, (200, 200, 3), dtype=np.uint8)).save(path)
    whole = path.read_bytes()
    for content, words in (
        (b"", "no picture"),
        (b"words", "no picture"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n", "no picture"),
        (whole[: len(whole) // 2], "is broken"),
        (bomb(), "no picture|3600 million pixels"),
    ):
        path.write_bytes(content)
        with pytest.raises(EditRefused, match=words):
            read_image(path)
    with pytest.raises(EditRefused, match="There is no file"):
        read_image(tmp_path / "none.png")
    with pytest.raises(EditRefused, match="cannot be read"):
        read_image(tmp_path)
