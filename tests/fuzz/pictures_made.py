"""Pictures as a stranger might hand them in: huge claims, bombs in their notes, broken ends."""

from __future__ import annotations

import io
import struct
import zlib
from functools import cache
from random import Random
from typing import Final

from PIL import Image
from PIL.TiffImagePlugin import ImageFileDirectory_v2

WORDS: Final = (
    b"IHDR", b"IDAT", b"IEND", b"tEXt", b"zTXt", b"iTXt", b"iCCP", b"eXIf", b"tRNS", b"PLTE", b"acTL",
    b"fcTL", b"gAMA",
    b"\xff\xd8", b"\xff\xd9", b"\xff\xe1", b"\xff\xdb", b"\xff\xc0", b"\xff\xc4", b"\xff\xda",
    b"Exif\x00\x00", b"II*\x00",
    b"MM\x00*", b"RIFF", b"WEBP", b"VP8 ", b"VP8L", b"VP8X", b"ANIM", b"ALPH", b"BM", b"\xff\xff\xff\xff",
    b"\x7f\xff\xff\xff",
)  # fmt: skip
_MODES: Final = ("RGB", "RGBA", "L", "LA", "P", "1", "I;16", "CMYK")
_SIDES: Final = (1, 2, 7, 64, 300)
_HUGE: Final = (0, 1, 3_000, 10_900, 12_000, 60_000, 65_535, 2**31 - 1, 2**32 - 1)


def made(dice: Random) -> bytes:
    """Return one picture file."""
    way = dice.randrange(12)
    if way < 5:
        return _sound(dice)
    if way < 9:
        return _png(dice)
    if way == 9:
        return _bmp(dice)
    if way == 10:
        return _tiff(dice)
    content = _sound(dice)
    return content[: dice.randrange(len(content) + 1)] + dice.choice((b"", b"\x00" * 5_000))


def _sound(dice: Random) -> bytes:
    kind = dice.choice(("PNG", "JPEG", "TIFF", "BMP", "WEBP"))
    mode = dice.choice(_MODES)
    if (kind in ("JPEG", "WEBP") and mode not in ("RGB", "L")) or (
        kind == "BMP" and mode not in ("RGB", "L", "P", "1")
    ):
        mode = "RGB"
    size = (dice.choice(_SIDES), dice.choice(_SIDES))
    image = Image.new(mode, size, 1 if mode in ("L", "P", "1", "I;16") else None or 0)
    stream = io.BytesIO()
    notes: dict[str, object] = {}
    if kind == "JPEG" and dice.random() < 0.5:
        exif = Image.Exif()
        exif[274] = dice.choice((0, 1, 3, 5, 6, 8, 9, 65_535))
        exif[dice.choice((270, 305, 33_432, 37_510))] = dice.choice(("x" * 60_000, 7, "=1+1"))
        try:
            notes["exif"] = exif.tobytes()
        except (TypeError, ValueError, struct.error):
            notes = {}
    try:
        image.save(stream, kind, **notes)
    except (OSError, ValueError):  # the kind has no such mode
        image.convert("RGB").save(stream, "PNG")
    return stream.getvalue()


CHANNELS: Final = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}
"""By a PNG's kind of colour."""


def whole_png(size: tuple[int, int], depth: int, colour: int, see_through: bytes) -> bytes:
    """Return a PNG of that many pixels, all nought, in a thousandth of their bytes."""
    dice = Random(0)
    row = (size[0] * CHANNELS[colour] * depth + 7) // 8 + 1
    parts = [
        b"\x89PNG\r\n\x1a\n",
        _chunk(b"IHDR", struct.pack(">IIBBBBB", *size, depth, colour, 0, 0, 0), dice),
    ]
    if colour == 3:
        parts.append(_chunk(b"PLTE", bytes(6), dice))
    if see_through:
        parts.append(_chunk(b"tRNS", see_through, dice))
    data = noughts(row * size[1] + _PIECE)
    return b"".join([*parts, _chunk(b"IDAT", data, dice), _chunk(b"IEND", b"", dice)])


def _chunk(name: bytes, data: bytes, dice: Random) -> bytes:
    check = zlib.crc32(name + data) if dice.random() < 0.98 else 0
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", check)


def _png(dice: Random) -> bytes:
    """Return a PNG that claims much and holds little, or that swells as it is read."""
    wide, high = dice.choice(_HUGE), dice.choice(_HUGE)
    if dice.random() < 0.4:
        wide = high = dice.choice((10, 500))
    depth, colour = dice.choice(((8, 2), (8, 6), (1, 0), (16, 6), (16, 0), (8, 3), (2, 3), (8, 4), (7, 9)))
    channels = CHANNELS.get(colour, 1)
    row = (wide * channels * depth + 7) // 8 + 1
    # rows of noughts pack a thousand to one
    whole = dice.random() < 0.3 and row * high < 700_000_000
    real = row * high if whole else dice.choice((0, 1_000, 100_000))
    parts = [
        b"\x89PNG\r\n\x1a\n",
        _chunk(
            b"IHDR", struct.pack(">IIBBBBB", wide, high, depth, colour, 0, 0, dice.choice((0, 0, 1))), dice
        ),
    ]
    if colour == 3:
        parts.append(_chunk(b"PLTE", bytes(range(256))[: dice.choice((3, 255, 6, 4))], dice))
    for _ in range(dice.choice((0, 0, 1, 3, 70))):
        name = dice.choice((b"tEXt", b"zTXt", b"iTXt", b"iCCP", b"eXIf", b"tRNS", b"xxxx", b"acTL", b"fcTL"))
        swollen = noughts(dice.choice((10, 10_000, 20_000_000)))
        data = {
            b"tEXt": b"k\x00" + b"v" * 500, b"zTXt": b"k\x00\x00" + swollen, b"iCCP": b"p\x00\x00" + swollen,
            b"iTXt": b"k\x00\x01\x00\x00\x00" + swollen, b"eXIf": b"II*\x00\x08\x00\x00\x00" + b"\xff" * 40,
            b"tRNS": bytes(dice.choice((1, 2, 6, 300))),
        }.get(name, bytes(dice.choice((0, 8, 26))))  # fmt: skip
        parts.append(_chunk(name, data, dice))
    parts.append(_chunk(b"IDAT", noughts(real), dice))
    return b"".join([*parts, _chunk(b"IEND", b"", dice)])


_PIECE: Final = 1 << 20


@cache
def _packed_piece() -> bytes:
    """Return a mebibyte of noughts as a part of a packed stream, which may stand there many times."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    return packer.compress(bytes(_PIECE)) + packer.flush(zlib.Z_FULL_FLUSH)


def noughts(count: int) -> bytes:
    """Return so many noughts packed, rounded down to mebibytes where there are several."""
    pieces = count // _PIECE
    if not pieces:
        return zlib.compress(bytes(count))
    # RFC 1950: head, parts, an empty last part, and a check sum that is 1 and the count for noughts
    check = ((pieces * _PIECE) % 65_521) << 16 | 1
    return b"\x78\xda" + _packed_piece() * pieces + b"\x03\x00" + struct.pack(">I", check)


def _bmp(dice: Random) -> bytes:
    wide, high = dice.choice(_HUGE), dice.choice((*_HUGE, -5))
    signed = [size - 2**32 if size >= 2**31 else size for size in (wide, high)]
    bits, packed, colours = (
        dice.choice((1, 4, 8, 24, 32, 99)),
        dice.choice((0, 1, 3, 4)),
        dice.choice((0, 256, 2**31)),
    )
    head = struct.pack("<IiiHHIIiiII", 40, *signed, 1, bits, packed, 0, 0, 0, colours, 0)
    return b"BM" + struct.pack("<IHHI", 54 + 100, 0, 0, 54) + head + bytes(dice.choice((0, 100, 3_000)))


def _tiff(dice: Random) -> bytes:
    stream = io.BytesIO()
    notes = ImageFileDirectory_v2()
    notes[270] = "x" * dice.choice((1, 100_000))
    Image.new("RGB", (20, 20)).save(
        stream,
        "TIFF",
        compression=dice.choice(("raw", "tiff_lzw", "tiff_adobe_deflate", "packbits")),
        tiffinfo=notes,
    )
    content = bytearray(stream.getvalue())
    for tag in (256, 257, 258, 259, 273, 277, 278, 279):
        place = content.find(struct.pack("<H", tag), 4)
        if place >= 0 and dice.random() < 0.3 and place + 12 <= len(content):
            content[place + 8 : place + 12] = struct.pack("<I", dice.choice(_HUGE) % 2**32)
    return bytes(content)
