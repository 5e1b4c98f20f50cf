"""Bytes changed without knowledge of what they mean, but for words and figures of their own kind of file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from random import Random
from typing import Final

_FIGURE: Final = re.compile(rb"-?\d+\.?\d*(?:[eE][+-]?\d+)?")
_FIGURES: Final = (
    b"0", b"-1", b"1e308", b"-1e308", b"nan", b"inf", b"1e999", b"99999999999999999999", b"1e-320", b"0.0001",
    b"360", b"1,5", b"0x10", b"1" * 70, b"1_000", b"--1", b"+", b"1e", b"\xd9\xa1",
)  # fmt: skip
_BITS: Final = (
    b"\x00",
    b"\xff",
    b"\xef\xbb\xbf",
    b"\r",
    b"\n",
    b"\r\n",
    b"\t",
    b" ",
    b'"',
    b"'",
    b"\xed\xa0\x80",
)
_MOST_BYTES: Final = 300_000


def changed(content: bytes, others: Sequence[bytes], words: Sequence[bytes], dice: Random) -> bytes:
    """Return the bytes with a change or a few; `words` are those of this kind of file."""
    for _ in range(dice.choice((1, 1, 2, 3, 6, 12))):
        content = _once(content, others, words, dice)[:_MOST_BYTES]
    return content


def _once(content: bytes, others: Sequence[bytes], words: Sequence[bytes], dice: Random) -> bytes:
    low = dice.randrange(len(content) + 1)
    high = min(len(content), low + dice.choice((1, 1, 4, 16, 200)))
    way = dice.randrange(10)
    if way == 0:
        return content[:low] + bytes([dice.randrange(256)]) + content[low + 1 :]
    if way == 1:
        return content[:low] + content[high:]
    if way == 2:
        return content[:low] + content[low:high] * dice.choice((2, 2, 3, 40, 2_000)) + content[high:]
    if way == 3:
        return content[:low] + dice.choice(_BITS) + content[high if dice.random() < 0.5 else low :]
    if way in (4, 5):
        return _other_figure(content, dice)
    if way in (6, 7) and words:
        return content[:low] + dice.choice(words) + content[high if dice.random() < 0.5 else low :]
    if way == 8 and others:
        other = dice.choice(others)
        place = dice.randrange(len(other) + 1)
        return content[:low] + other[place : place + dice.choice((8, 80, 800))] + content[high:]
    return _other_line(content, dice)


def _other_figure(content: bytes, dice: Random) -> bytes:
    start = dice.randrange(len(content) + 1)
    found = _FIGURE.search(content, start) or _FIGURE.search(content)
    if found is None:
        return content
    if dice.random() < 0.5:
        new = dice.choice(_FIGURES)
    else:
        new = repr(float(found[0]) * dice.choice((0, -1, 0.001, 1e3, 1e9, 1.0001))).encode()
    return content[: found.start()] + new + content[found.end() :]


def _other_line(content: bytes, dice: Random) -> bytes:
    lines = content.split(b"\n")
    place = dice.randrange(len(lines))
    way = dice.randrange(3)
    if way == 0:
        del lines[place]
    elif way == 1:
        lines.insert(dice.randrange(len(lines)), lines[place])
    else:
        other = dice.randrange(len(lines))
        lines[place], lines[other] = lines[other], lines[place]
    return b"\n".join(lines)
