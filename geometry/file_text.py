"""From a path to plain data: what can be wrong with a file before anybody asks whether it is a bracket.

Files come from strangers: size and depth are bounded before anything is built from them, and nothing raises.

Glossary
--------
data    what JSON holds: dicts, lists, text, numbers, true, false, null
trail   the keys and list places that lead to a piece of data, such as ("plates", 0, "thickness_mm")
"""

from __future__ import annotations

import json
import math
import os
import re
import stat
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final
from unicodedata import category

from geometry.finding import Finding, Value
from geometry.finding_words import found

MOST_BYTES: Final = 5_000_000
DEEPEST: Final = 24
"""Levels of lists and groups within each other; a bracket needs ten."""
MOST_COMMAS: Final = 250_000
"""In one file: the largest bracket that is read has some 200 000 values."""
MOST_KEYS: Final = 500
"""In one group; the fullest has some 30."""
MOST_ITEMS: Final = 25_000
"""In one list; the corners of all outlines together are fewer."""
_MOST_SIGNS: Final = 2_500_000
"""Quotation marks, and opening brackets, of one file: more than its commas can part."""
LARGEST_NUMBER: Final = 1e9
"""Beyond it a number is absurd whatever it measures, and its square may not be finite."""
Trail = tuple[str | int, ...]
Wrong = tuple[Trail, str, dict[str, Value]]
"""Where, the code of a finding, and its values."""


def read_bytes(path: Path, kind: str = "bracket", most_bytes: int = MOST_BYTES) -> bytes | Finding:
    """Return what the file holds, or why not as a finding; its size is looked at before it is opened."""
    where, whole = f"file {path.name or path}", f"file {path}"
    try:
        state = path.stat()
        if stat.S_ISDIR(state.st_mode):
            return found("file-is-folder", whole)
        if not stat.S_ISREG(state.st_mode):
            return found("file-not-regular", whole)
        if state.st_size > most_bytes:
            return _too_big(where, kind, state.st_size, most_bytes)
        with path.open("rb") as stream:
            content = stream.read(most_bytes + 1)
    except FileNotFoundError:
        return found("file-missing", whole)
    except (OSError, ValueError) as error:  # ValueError: a nought within the path
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        return found("file-unreadable", whole, reason=reason)
    if len(content) > most_bytes:  # it grew between the look and the reading
        return _too_big(where, kind, len(content), most_bytes)
    return content


def parse(content: bytes, where: str = "file") -> tuple[Any, list[Finding]]:
    """Return the data of a JSON text and what is wrong with it; the data is None if it cannot be read at all.

    Doubled keys keep their last value. Numbers that are not finite or absurd stay in: `prune` tells them.
    """
    if not content.strip():
        return None, [found("file-empty", where)]
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return None, [found("file-not-utf8", where, line=1, byte="UTF-16")]
    if b"\x00" in content:
        return None, [found("file-binary", where)]
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        return None, [found("file-not-utf8", where, line=line, byte=f"{content[error.start]:#04x}")]
    if refused := _too_much(text, where):
        return None, [refused]
    try:
        data = _decode(text)
    except _TooManyKeysError as error:
        return None, [found("too-many", where, what="keys in one group", count=error.count, most=MOST_KEYS)]
    except json.JSONDecodeError as error:
        if text.lstrip().startswith("<"):
            return None, [found("file-marked-up", where)]
        code = "file-truncated" if _ends_early(text, error) else "file-not-json"
        return None, [found(code, where, line=error.lineno, column=error.colno, reason=_plain(error.msg))]
    longest = max((len(value) for _, _, _, value in _walk(data) if isinstance(value, list)), default=0)
    if longest > MOST_ITEMS:
        return None, [found("too-many", where, what="entries in one list", count=longest, most=MOST_ITEMS)]
    return data, []


def prune(data: Any) -> list[Wrong]:  # noqa: ANN401 - data is anything JSON holds
    """Clean the data in place and return what is wrong with single values: (trail, code, values).

    Control characters are taken out of text. Numbers that are not finite or absurd are told, not taken out:
    what goes with them depends on what they belong to.
    """
    wrong: list[Wrong] = []
    for trail, holder, key, value in _walk(data):
        if isinstance(value, Group):
            for name in [name for name in value if _printable(name) != name]:
                del value[name]
                wrong.append((trail, "key-unknown", {"key": _printable(name), "near": ""}))
            wrong += [((*trail, name), "key-doubled", {"key": name}) for name in value.doubled]
        elif isinstance(value, float) and not math.isfinite(value):
            wrong.append((trail, "number-not-finite", {"value": str(value)}))
        elif isinstance(value, int | float) and abs(value) > LARGEST_NUMBER:
            wrong.append((trail, "number-absurd", {"value": f"{float(value):g}", "most": LARGEST_NUMBER}))
        elif isinstance(value, str) and (clean := _printable(value)) != value:
            holder[key] = clean
            wrong.append((trail, "text-control", {"value": clean}))
    return wrong


class Group(dict[str, Any]):
    """A group of keys and values, and which keys stood in it more than once."""

    doubled: tuple[str, ...] = ()


def _too_big(where: str, kind: str, size: int, most: int) -> Finding:
    return found("file-too-big", where, kind=kind, size_mb=size / 1e6, most_mb=most / 1e6)


class _TooManyKeysError(ValueError):
    def __init__(self, count: int) -> None:
        super().__init__(count)
        self.count = count


def _too_much(text: str, where: str) -> Finding | None:
    """Return why a text is not given to the parser; what is counted at once goes before what is walked."""
    for signs, most in ((",", MOST_COMMAS), ('"', _MOST_SIGNS), ("[", _MOST_SIGNS), ("{", _MOST_SIGNS)):
        if (count := text.count(signs)) > most:
            return found("too-many", where, what="values", count=count, most=most)
    if (depth_line := _too_deep(text)) is not None:
        return found("file-too-deep", where, line=depth_line, most=DEEPEST)
    return None


def _decode(text: str) -> Any:  # noqa: ANN401 - data is anything JSON holds
    return json.loads(text, object_pairs_hook=_group, parse_int=_whole_number, parse_constant=float)


def _group(pairs: list[tuple[str, Any]]) -> Group:
    if len(pairs) > MOST_KEYS:
        raise _TooManyKeysError(len(pairs))
    group = Group(pairs)
    if len(group) != len(pairs):
        counts = Counter(key for key, _ in pairs)
        group.doubled = tuple(key for key, count in counts.items() if count > 1)
    return group


def _whole_number(digits: str) -> int | float:
    """Python refuses to read thousands of digits as a whole number; as a float they are merely absurd."""
    return int(digits) if len(digits) < 20 else float(digits)


_STRING_OR_BRACKET: Final = re.compile(r'"(?:[^"\\]++|\\.)*+"?|[\[{\]}]', re.DOTALL)


def _too_deep(text: str) -> int | None:
    """Return the line at which the text is nested too deep, before a parser that calls itself sees it."""
    depth = 0
    for match in _STRING_OR_BRACKET.finditer(text):
        sign = match[0]
        if sign in "[{":
            depth += 1
            if depth > DEEPEST:
                return text.count("\n", 0, match.start()) + 1
        elif sign in "]}":
            depth -= 1
    return None


def _ends_early(text: str, error: json.JSONDecodeError) -> bool:
    rest = text[error.pos :]
    return not rest.strip() or error.msg.startswith("Unterminated string")


def _plain(message: str) -> str:
    """Put the parser's words into lower case, without a full stop, to fit into a sentence."""
    return message[:1].lower() + message[1:].rstrip(".")


def _printable(text: str) -> str:
    """Return the text without control characters and half characters.

    They could draw on a screen or break a file.
    """
    if text.isprintable():  # looked at as a whole: a photograph has a million signs
        return text
    # each sign that occurs is judged once: a file may hold millions of one
    bad = [s for s in set(text) if not (s.isprintable() or s in "\n\t" or category(s) == "Zs")]
    return text.translate(dict.fromkeys(map(ord, bad)))


def _walk(data: Any) -> Iterator[tuple[Trail, Any, Any, Any]]:  # noqa: ANN401 - data is anything JSON holds
    """Yield (trail, holder, key, value) of every piece of data, holders before what they hold."""
    root = [data]
    waiting: list[tuple[Trail, Any, Any, Any]] = [((), root, 0, data)]
    while waiting:
        trail, holder, key, value = waiting.pop()
        yield trail, holder, key, value
        if isinstance(value, dict):
            waiting += [((*trail, name), value, name, held) for name, held in reversed(value.items())]
        elif isinstance(value, list):
            waiting += [((*trail, i), value, i, held) for i, held in reversed(list(enumerate(value)))]
