"""JSON of strangers: data trees changed at random places, and written as no sound writer would."""

from __future__ import annotations

import copy
import json
import math
import sys
from collections.abc import Iterator, Sequence
from random import Random
from typing import Any, Final

from tests.fuzz import hostile
from tests.fuzz.hostile import Nested

_MOST_REPEATS: Final = 3_000
_FEW: Final = 60_000
"""Characters of a written tree that is repeated no further."""


class Doubled(dict[str, Any]):
    """A group one of whose keys stands in it twice, the second time with another value."""

    second: tuple[str, Any] = ("", None)


def changed(tree: Any, others: Sequence[Any], dice: Random) -> Any:  # noqa: ANN401 - any JSON
    """Return a copy of the tree with one place changed or a few; values of other trees come in too."""
    tree = copy.deepcopy(tree)
    for _ in range(dice.choice((1, 1, 1, 2, 3, 8))):
        ways = list(_places(tree))
        if not ways:
            return tree
        holder, key = dice.choice(ways)
        _change(holder, key, others, dice)
    return tree


def _change(holder: Any, key: Any, others: Sequence[Any], dice: Random) -> None:  # noqa: ANN401
    before = holder[key]
    drawn = dice.random()
    if isinstance(before, int | float) and not isinstance(before, bool) and drawn < 0.6:
        holder[key] = _near(before, dice)
    elif drawn < 0.7:
        other = list(_places(dice.choice(others)))
        alike = [(h, k) for h, k in other if k == key and not isinstance(k, int)] or other
        if alike:
            theirs, place = dice.choice(alike)
            holder[key] = copy.deepcopy(theirs[place])
    elif drawn < 0.76:
        del holder[key]
    elif drawn < 0.82 and isinstance(holder, list):
        holder[key:key] = [copy.deepcopy(before) for _ in range(_repeats(before, dice))]
    elif drawn < 0.85 and isinstance(holder, list):
        dice.shuffle(holder)
    elif drawn < 0.88 and isinstance(holder, dict):
        holder[hostile.text(dice)[:200]] = hostile.value(dice)
    elif drawn < 0.9 and isinstance(before, dict) and before:
        twice = Doubled(before)
        twice.second = (dice.choice(list(before)), hostile.value(dice))
        holder[key] = twice
    else:
        holder[key] = hostile.value(dice)


def _repeats(item: Any, dice: Random) -> int:  # noqa: ANN401
    if dice.random() < 0.8:
        return dice.randrange(1, 4)
    size = len(json.dumps(item, default=lambda _: ""))
    return min(_MOST_REPEATS, max(1, _FEW // max(size, 1)))


def _near(figure: float, dice: Random) -> float:
    """Return a number that may still be taken: this is what reaches furthest into the program."""
    drawn = dice.random()
    if drawn < 0.25 or abs(figure) > sys.float_info.max:
        return hostile.figure(dice)
    if drawn < 0.5:
        return figure * dice.choice((0, -1, 0.5, 2, 1e-3, 1e3, 1e-9, 1e6, 1.0000001, 0.9999999))
    if drawn < 0.8:
        return round(figure + dice.uniform(-30, 30), dice.choice((0, 1, 3)))
    if drawn < 0.9 and isinstance(figure, float) and math.isfinite(figure):
        return math.nextafter(figure, dice.choice((-math.inf, math.inf)))
    return dice.choice((0.0, 1.0, 5.0, 45.0, 90.0, 100.0, 179.0, 180.0))


def _places(tree: Any) -> Iterator[tuple[Any, Any]]:  # noqa: ANN401
    """Yield holder and key of every piece of data."""
    waiting = [tree]
    while waiting:
        here = waiting.pop()
        if isinstance(here, dict):
            for key, held in here.items():
                yield here, key
                waiting.append(held)
        elif isinstance(here, list):
            for place, held in enumerate(here):
                yield here, place
                waiting.append(held)


def written(tree: Any, dice: Random) -> bytes:  # noqa: ANN401
    """Return the tree as JSON, or nearly: marks at the front, other line ends, signs that do not belong."""
    kept_as_signs = dice.random() < 0.7
    content = "".join(_text(tree, kept_as_signs)).encode("utf-8", errors="surrogatepass")
    drawn = dice.random()
    if drawn < 0.85:
        return content
    if drawn < 0.88:
        return b"\xef\xbb\xbf" + content
    if drawn < 0.9:
        return content.replace(b",", b",\r\n")
    if drawn < 0.92:
        return content.decode("utf-8", errors="replace").encode(
            dice.choice(("utf-16", "utf-32", "cp1252")), "replace"
        )
    if drawn < 0.94:
        return content[: dice.randrange(len(content) + 1)]
    if drawn < 0.96:
        return content + dice.choice((b"\x00", b"}", b"{}", content, b" " * 100_000, b"\n" * 1_000))
    place = dice.randrange(len(content) + 1)
    return (
        content[:place]
        + dice.choice((b"\x00", b"\xff", b"//x\n", b",", b"'", b"\\", b"NaN"))
        + content[place:]
    )


def _text(tree: Any, signs: bool) -> Iterator[str]:  # noqa: ANN401
    if isinstance(tree, Nested):
        yield tree.text
    elif isinstance(tree, dict):
        pairs = list(tree.items()) + ([tree.second] if isinstance(tree, Doubled) else [])
        yield "{"
        for number, (key, held) in enumerate(pairs):
            yield ("," if number else "") + json.dumps(key, ensure_ascii=signs) + ":"
            yield from _text(held, signs)
        yield "}"
    elif isinstance(tree, list):
        yield "["
        for number, held in enumerate(tree):
            if number:
                yield ","
            yield from _text(held, signs)
        yield "]"
    else:
        yield json.dumps(tree, ensure_ascii=signs)
