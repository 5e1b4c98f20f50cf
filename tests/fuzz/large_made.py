"""Files that are large where a sound one is small: as many of something as their size allows.

A limit on bytes alone lets work through that grows with the square of what is in them. Each such file takes
long to make, so there are few: a list to be drawn from, varied by size and by what they hold.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from random import Random
from typing import Any, Final

from tests.fuzz import samples
from tests.fuzz.pictures_made import whole_png

_BRACKET_BYTES: Final = 4_900_000
_LIMITS_BYTES: Final = 490_000
_RECORD_BYTES: Final = 55_000_000
_LIST_BYTES: Final = 19_000_000


def _head(what: str) -> str:
    return f'{{"format":"holdsquare {what}","version":1,'


def _filled(head: str, piece: Callable[[int], str], end: str, most: int) -> bytes:
    """Return head, numbered pieces with commas between until the size is reached, and end."""
    found, size, number = [], len(head) + len(end), 0
    while size < most:
        one = piece(number)
        found.append(one)
        size += len(one) + 1
        number += 1
    return (head + ",".join(found) + end).encode()


def bracket_made(dice: Random) -> bytes:
    """Return a bracket with a great many of something."""
    most = dice.choice((_BRACKET_BYTES, _BRACKET_BYTES // 3))
    count = 245_000
    near = dice.choice(("plate", "x", "title", "bolts"))
    head = _head("bracket")
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: _filled(head, lambda k: f'"{near}{k}":1', "}", min(most, count * 10)),
        lambda: _filled(
            head + '"plates":[{"name":"a",', lambda k: f'"{near}{k}":1', "}]}", min(most, count * 10)
        ),
        lambda: _filled(head + '"installation":{"x":[', lambda k: "1", "]}}", 480_000),
        lambda: _filled(head + '"loads":{"couple":[', lambda k: '{"a":1}', "]}}", 480_000),
        lambda: _filled(head + '"casing":{"bosses":[', lambda k: "7", "]}}", 380),
        lambda: (head + '"note":"' + "\u200b" * (most // 3) + '"}').encode(),
        lambda: (head + '"rake_deg":' + "7" * most + "}").encode(),
        lambda: (head + '"rake_deg":0.' + "7" * most + "}").encode(),
        lambda: (head + '"rake_deg":1e' + "7" * most + "}").encode(),
        lambda: b"[]" * (most // 2),
        lambda: b'""' * (most // 2),
        lambda: (head + '"note":"' + "\\" * (most // 2) + '"}').encode(),
        lambda: json.dumps(_crowded(dice)).encode()[:_BRACKET_BYTES],
    )
    return dice.choice(ways)()


def _crowded(dice: Random) -> dict[str, Any]:
    """Return a bracket that may be read, with as many parts as may be."""
    tree: dict[str, Any] = json.loads(dice.choice(samples.brackets()[1:]))
    plate, bolts = tree["plates"][0], tree.get("bolts", [])
    way = dice.randrange(5)
    if way == 0:  # openings side by side, on one another or nested
        step = dice.choice((0.0, 0.001, 1.0))
        plate["openings"] += [
            {
                "kind": "hole",
                "name": f"h{k}",
                "centre_mm": [step * (k % 70), step * (k // 70)],
                "diameter_mm": dice.choice((0.5, 30.0)),
            }
            for k in range(4_900)
        ]
    elif way == 1:
        tree["bolts"] = (
            bolts + [{**bolts[k % len(bolts)], "name": f"b{k}"} for k in range(1_900)] if bolts else []
        )
    elif way == 2:
        tree["plates"] += [{**plate, "name": f"p{k}"} for k in range(190)]
    elif way == 3:
        # a comb: teeth side by side
        plate["outline"] = [{"at_mm": [k // 2 * 0.1, 50.0 * ((k + 1) // 2 % 2)]} for k in range(19_000)]
    else:
        plate["openings"] = [
            {
                "kind": "cut-out",
                "name": "c",
                "corners": [{"at_mm": [k * 0.01, (k * 7919 % 1000) / 50]} for k in range(9_000)],
            }
        ]
    return tree


def limits_made(dice: Random) -> bytes:
    """Return limits with a great many keys, or a profile with a great many lines."""
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: _filled("{", lambda k: f'"turn_deg{k}":1', "}", _LIMITS_BYTES),
        lambda: _filled('{"turn_deg":1,', lambda k: '"turn_deg":1', "}", _LIMITS_BYTES),
        lambda: _filled(_head("profile") + '"cautions":[', lambda k: "7", "]}", _LIMITS_BYTES),
        lambda: _filled(
            _head("profile") + '"check_list":[', lambda k: '{"group":"bolts","words":""}', "]}", _LIMITS_BYTES
        ),
    )
    return dice.choice(ways)()


def record_made(dice: Random) -> bytes:
    """Return a record with a great many of something."""
    head = _head("record") + '"bracket_hash":"a","program":"1",'
    most = dice.choice((_RECORD_BYTES, _RECORD_BYTES // 4))
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: b"[]" * (most // 2),
        lambda: b'""' * (most // 2),
        lambda: (head + '"remarks":"' + "\u200b" * (most // 3) + '"}').encode(),
        lambda: (head + '"remarks":"' + "[" * most + '"}').encode(),
        lambda: (
            head + '"photographs":[{"name":"a","width_px":1,"height_px":1,"jpeg":"' + "A" * most + '"}]}'
        ).encode(),
        lambda: _filled(head, lambda k: f'"remarks{k}":1', "}", 3_000_000),
        lambda: _filled(
            head + '"measured":{"holes":[',
            lambda k: '{"plate":"a","opening":"b","centre_mm":[1,2]}',
            "]}}",
            3_000_000,
        ),
        lambda: (head + '"x":' + "7" * most + "}").encode(),
    )
    return dice.choice(ways)()


def list_made(dice: Random) -> bytes:
    """Return a register's list with a great many columns or rows."""
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: b"record_file" + b"," * (_LIST_BYTES // 2) + b"\n" + b"a\n" * 40_000,
        lambda: b"record_file,verdict\n" + b"a,x\n" * 49_000,
        lambda: b"record_file,due\n" + b'a,"' + b"[" * 100_000 + b'"\n',
        lambda: b"record_file\n" + b"\n" * (_LIST_BYTES - 100),
        lambda: b"record_file,title\n" + b'a,"' + b"x" * _LIST_BYTES,
        lambda: b"record_file,open_items\na," + b"7" * 120_000 + b"\n",
    )
    return dice.choice(ways)()


def log_made(dice: Random) -> bytes:
    """Return a log of many megabytes that holds text where numbers should stand, or a great many columns."""
    head = b"couple [N.m],dial gauge [mm]\n" + b"1,2\n3,4\n" * 200
    ways: tuple[Callable[[], bytes], ...] = (
        lambda: head + b"a,b\n" * 8_000_000,
        lambda: head + b"1,2\n" * 4_000_000,
        lambda: head + b'"' + b"x" * 60_000_000,
        lambda: head + b"\n" * 60_000_000,
        lambda: (
            b"\n" * 100 + b",".join(b"c%d" % k for k in range(199)) + b"\n" + (b"," * 198 + b"\n") * 100_000
        ),
        lambda: (
            b",".join(b"c%d" % k for k in range(199))
            + b"\n"
            + (b"1," * 198 + b"1\n") * 300
            + (b"x," * 198 + b"x\n") * 80_000
        ),
        lambda: head + b"9" * 30_000_000 + b",1\n",
        lambda: head + b"," * 30_000_000,
    )
    return dice.choice(ways)()


def svg_made(dice: Random) -> bytes:
    """Return a drawing with as many edges as may be, each near all the others."""
    count = dice.choice((19_000, 6_000))
    ways: tuple[Callable[[int], str], ...] = (
        lambda k: f'<circle r="{1 + k * 0.01:.2f}"/>',
        lambda k: f'<line x2="{k * 0.37 % 100:.2f}" y2="{k * 0.91 % 100:.2f}"/>',
        lambda k: f'<line x1="{k * 0.37 % 100:.2f}" x2="{k * 0.71 % 100:.2f}" y2="99"/>',
        lambda k: f'<rect width="{1 + k * 0.01:.2f}" height="{1 + k * 0.01:.2f}"/>',
        lambda k: f'<circle cx="{k % 140}" cy="{k // 140}" r="0.4"/>',
        lambda k: '<path d="M0 0L9 0 9 9z"/>',
        lambda k: f'<g transform="rotate({k})"/>',
        lambda k: f'<use href="#e{k - 1}" id="e{k}"/>',
    )
    piece = dice.choice(ways)
    body = "".join(piece(k) for k in range(count))
    return f'<svg xmlns="http://www.w3.org/2000/svg">{body}</svg>'.encode()[:_BRACKET_BYTES]


def dxf_made(dice: Random) -> bytes:
    """Return a drawing with as many edges as may be, each near all the others."""
    count = dice.choice((19_000, 6_000))
    ways: tuple[Callable[[int], str], ...] = (
        lambda k: f"  0\nCIRCLE\n  8\n0\n 10\n0\n 20\n0\n 40\n{1 + k * 0.01:.2f}\n",
        lambda k: (
            f"  0\nLINE\n  8\n0\n 10\n0\n 20\n0\n 11\n{k * 0.37 % 100:.2f}\n 21\n{k * 0.91 % 100:.2f}\n"
        ),
        lambda k: (
            f"  0\nLINE\n  8\n{k}\n 10\n{k * 0.37 % 100:.2f}\n 20\n0\n 11\n{k * 0.71 % 100:.2f}\n 21\n99\n"
        ),
        lambda k: f"  0\nLINE\n  8\n0\n 10\n{k}\n 20\n0\n 11\n{k + 1}\n 21\n0\n",
        lambda k: f"  0\nTEXT\n  8\n0\n  1\n{k}\n 10\n0\n 20\n0\n 40\n1\n",
        lambda k: f"  0\nARC\n  8\n0\n 10\n0\n 20\n0\n 40\n9\n 50\n{k % 360}\n 51\n{k % 357}\n",
        lambda k: "1000\nx\n",
    )
    piece = dice.choice(ways)
    body = "".join(piece(k) for k in range(count))
    return f"  0\nSECTION\n  2\nENTITIES\n{body}  0\nENDSEC\n  0\nEOF\n".encode()[:_BRACKET_BYTES]


def picture_made(dice: Random) -> bytes:
    """Return a picture of noughts that unpacks to as many pixels as may be, or to a few more."""
    wide, high = dice.choice(
        ((6_300, 6_300), (29_000, 1_350), (1_300, 29_999), (10_900, 10_900), (1, 39_000_000), (60_000, 900))
    )
    depth, colour = dice.choice(((8, 2), (8, 6), (16, 6), (8, 4), (16, 0), (1, 0), (8, 3), (4, 3)))
    noted = bytes({2: 6, 3: 1, 0: 2}.get(colour, 0)) if dice.random() < 0.5 else b""
    return whole_png((wide, high), depth, colour, noted)
