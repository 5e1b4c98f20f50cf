"""Values that files from strangers may hold where a sensible one belongs.

Glossary
--------
dice    the random numbers of one case; the same seed and number give the same file
daring  the share of values that are replaced by hostile ones
"""

from __future__ import annotations

import math
from random import Random
from typing import Any, Final

FIGURES: Final = (
    0, -0.0, 1, -1, 0.1, 1e-9, -1e-9, 1e-300, 5e-324, 1e9, -1e9, 999_999_999.0, 1e15, 1e154, 1e155, 1e308,
    -1e308, 1.7976931348623157e308, math.nan, math.inf, -math.inf, 2**31, 2**53 + 1, 2**63, -(2**63), 2**64,
    10**18, 10**30, 10**400, 360, 180, 90, 89.999999999, 1e-6, 0.5, 3, 1e4,
)  # fmt: skip
ENDLESS: Final = (1_000, 20_000, 120_000)
"""Lengths of enormous texts."""
TEXTS: Final = (
    "", " ", "\t", "\n", "\r\n", "a", "0", "nan", "-inf", "1e999", "true", "null", "\u00e9", "e\u0301",
    "\ud800", "\udfff\ud800", "\ufeff", "\u202e", "\u200b", "\u2028", "\x00", "\x1b[31m", "\x7f", "\x85",
    "\U0001f527", "\uff1d1+1", "=1+1", "+1", "-1+cmd|' /C x'!A0", "@SUM(A1)", "\t=1", "\r=1", "'=1",
    "=HYPERLINK(\"http://x.invalid\")", "../../../etc/passwd", "/etc/passwd", "..\\..\\x", "C:\\x",
    "\\\\h\\s",
    "file:///etc/passwd", "http://127.0.0.1:9/x", "~/x", "$(id)", "`id`", "%s%n", "{0.__class__}", "{}", "{",
    "<script>x</script>", "&amp;", "&x;", "]]>", "<![CDATA[", "--><", '"', "'", "\\", "\\u0000", "/dev/zero",
    "CON", "aux.bracket.json", ".", "..", "a/b", "0\nSECTION\n", "AcDbEntity", "{\\fArial;x}", "%%c", "^J",
    "__proto__", "__class__", "constructor", "M8", "S235", "hole", "front",
)  # fmt: skip


def figure(dice: Random) -> int | float:
    """Return a number that is absurd, on an edge, or merely large."""
    if dice.random() < 0.3:
        return dice.choice((1.0, -1.0)) * 10.0 ** dice.uniform(-320.0, 308.0)
    return dice.choice(FIGURES)


def text(dice: Random) -> str:
    """Return a text that somebody might try to break a program with; seldom an enormous one."""
    drawn = dice.random()
    if drawn < 0.05:
        return dice.choice(TEXTS[5:60]) * dice.choice(ENDLESS)
    if drawn < 0.15:
        return "".join(chr(dice.randrange(1, 0x2FFF)) for _ in range(dice.randrange(1, 30)))
    if drawn < 0.3:
        return dice.choice(TEXTS) + dice.choice(TEXTS)
    return dice.choice(TEXTS)


def value(dice: Random, depth: int = 0) -> Any:  # noqa: ANN401 - anything JSON holds
    """Return anything that JSON can hold, and some that it cannot."""
    drawn = dice.random()
    if drawn < 0.4:
        return figure(dice)
    if drawn < 0.7:
        return text(dice)
    if drawn < 0.8 or depth > 3:
        return dice.choice((None, True, False, [], {}, [[]], [{}], {"": None}))
    if drawn < 0.9:
        return [value(dice, depth + 1) for _ in range(dice.randrange(5))]
    if drawn < 0.97:
        return {text(dice)[:50]: value(dice, depth + 1) for _ in range(dice.randrange(4))}
    return nested(dice.choice((5, 23, 24, 25, 200, 3_000)), dice)


class Nested:
    """Lists or groups within each other, written out without a writer that calls itself."""

    def __init__(self, text_of_it: str) -> None:
        self.text = text_of_it


def nested(depth: int, dice: Random) -> Nested:
    """Return that many lists or groups within each other."""
    if dice.random() < 0.5:
        return Nested("[" * depth + "]" * depth)
    return Nested('{"a":' * depth + "0" + "}" * depth)
