"""Drawings and pictures of strangers: what the trial of strangers' files found in them, cut down."""

from __future__ import annotations

import struct
import time
import warnings
import zlib
from pathlib import Path

import ezdxf
import pytest

from app.editing.outline_import import read_outline
from app.editing.photo_image import MOST_PIXELS, read_image
from app.editing.refused import EditRefused
from tests.fuzz import watch
from tests.fuzz.pictures_made import whole_png
from tests.pace import paced

TOLERABLE_S = 5.0
"""Of the processor, for any file: the rule of the trial."""


def drawing(path: Path, body: str) -> Path:
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg">{body}</svg>', encoding="utf-8")
    return path


def test_thousands_of_lines_from_one_place_are_told_in_time(tmp_path: Path) -> None:
    star = "".join(f'<line x2="{k % 97 + 1}" y2="{k * 0.01 + 1:.2f}"/>' for k in range(7_000))
    began = time.process_time()
    with pytest.raises(EditRefused, match=r"7000 lines meet at \(0, 0\)"):
        read_outline(drawing(tmp_path / "star.svg", star))
    assert time.process_time() - began < paced(TOLERABLE_S)


def test_the_name_of_an_entity_is_told_in_signs_that_print(tmp_path: Path) -> None:
    file = tmp_path / "odd.dxf"
    document = ezdxf.new()
    for x in (0.0, 20.0):
        document.modelspace().add_circle((x, 0.0), 5.0)
    document.saveas(file)
    before, after = file.read_bytes().rsplit(b"CIRCLE", 1)
    file.write_bytes(before + b"C\xf5RCLE" + after)
    (words,) = [said for said in read_outline(file).words if "RCLE" in said]
    assert words.isprintable()


def test_thousands_of_loops_on_each_other_are_one_in_time(tmp_path: Path) -> None:
    began = time.process_time()
    loops = read_outline(drawing(tmp_path / "many.svg", '<path d="M0 0H90V90H0z"/>' * 4_000))
    assert len(loops.loops) == 1
    assert any("3999 lines are drawn twice" in words for words in loops.words)
    assert time.process_time() - began < paced(TOLERABLE_S)


def test_thousands_of_loops_within_each_other_are_told_in_time(tmp_path: Path) -> None:
    rings = "".join(f'<circle r="{1 + 0.1 * k:.1f}"/>' for k in range(1_900))
    began = time.process_time()
    loops = read_outline(drawing(tmp_path / "rings.svg", rings), "mm")
    assert len(loops.loops) == 2
    assert any("1898 closed lines lie within an opening" in words for words in loops.words)
    assert time.process_time() - began < paced(TOLERABLE_S)


def test_a_line_drawn_thrice_nearly_is_one(tmp_path: Path) -> None:
    body = "".join(f'<path d="M0 0H90V{90 + off}H0z"/>' for off in (0.0, 0.0005, 0.001))
    assert len(read_outline(drawing(tmp_path / "thrice.svg", body), "mm").loops) == 1


@pytest.mark.parametrize(("size", "said"), [
    ((10_900, 10_900), "119 million pixels, and at most 40 are read"),
    ((1, 39_000_000), "1 x 39000000 pixels, and 30000 are the most a side"),
])  # fmt: skip
def test_small_files_that_unpack_to_gigabytes_are_refused(
    size: tuple[int, int], said: str, tmp_path: Path
) -> None:
    path = tmp_path / "bomb.png"
    path.write_bytes(whole_png(size, 8, 6, b""))
    assert path.stat().st_size < 1_000_000
    with pytest.raises(EditRefused, match=said):
        read_image(path)


@pytest.mark.parametrize(("depth", "colour", "see_through"), [(8, 6, b""), (8, 2, bytes(6))])
def test_the_largest_picture_that_is_read_stays_within_memory(
    depth: int, colour: int, see_through: bytes, tmp_path: Path
) -> None:
    path = tmp_path / "large.png"
    path.write_bytes(whole_png((6_300, 6_300), depth, colour, see_through))
    watch.forget_peak()
    before = watch.peak_bytes()
    picture = read_image(path)
    assert watch.peak_bytes() - before < 900_000_000
    assert picture.shape[0] * picture.shape[1] <= MOST_PIXELS
    # nothing is there but what is seen through to the paper
    assert picture[0, 0].tolist() == [255, 255, 255]


def test_what_the_library_would_say_of_a_picture_is_not_said(tmp_path: Path) -> None:
    path = tmp_path / "notes.png"
    plain = whole_png((10, 10), 8, 2, b"")
    head = plain.index(b"IDAT") - 4
    notes = b"acTL" + bytes(8)  # an animation of no pictures, of which the library warns
    chunk = struct.pack(">I", 8) + notes + struct.pack(">I", zlib.crc32(notes))
    path.write_bytes(plain[:head] + chunk + plain[head:])
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        assert read_image(path).shape == (10, 10, 3)
    assert not said
