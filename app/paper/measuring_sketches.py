"""Sketches of what to measure under the dash, drawn by line; the letters are those of the sheet's rows."""

from __future__ import annotations

import math

from app.paper.page import (
    SMALL_MM,
    Figure,
    Mark,
    Stroke,
    Words,
    arrow,
    box,
    circle,
    dimension,
    line,
)

_LETTER_MM = 3.0


def from_the_wheel() -> Figure:
    """Return the casing seen from the wheel: X to the right, Y up, bosses about the shaft."""
    middle = (34.0, 34.0)
    cx, cy = middle
    marks: list[Mark] = [
        box(cx - 17, cy - 17, 34, 34, "double chain"),
        circle(middle, 12.0, "thick"),
        circle(middle, 2.5, "thick"),
        line((cx - 22, cy), (cx + 22, cy), kind="chain"),
        line((cx, cy - 22), (cx, cy + 22), kind="chain"),
    ]
    bosses = [(cx + 14 * math.sin(a), cy - 14 * math.cos(a)) for a in (0.0, 2.15, 4.13)]
    for number, at in enumerate(bosses, start=1):
        marks += [circle(at, 3.2, "medium", 1.0), circle(at, 1.3, "thin")]
        marks.append(_letter(f"{number}", (at[0] - 4.6, at[1] - 2.4)))
    (x1, y1), (x2, y2) = bosses[0], bosses[1]
    marks += dimension((x1, y1), (x2, y2), "")
    marks.append(_letter("b", ((x1 + x2) / 2 + 2.5, (y1 + y2) / 2)))
    marks += dimension(middle, bosses[2], "")
    marks.append(_letter("a", ((cx + bosses[2][0]) / 2 - 3.0, (cy + bosses[2][1]) / 2 - 0.5)))
    marks += _axis((cx + 22, cy), (1, 0), "X") + _axis((cx, cy - 22), (0, -1), "Y")
    marks += [
        *dimension((cx - 17, cy + 22), (cx + 17, cy + 22), ""),
        line((cx - 17, cy + 17), (cx - 17, cy + 23)),
        line((cx + 17, cy + 17), (cx + 17, cy + 23)),
        _letter("c", (cx, cy + 21)),
        Words("seen from the wheel", (cx, 64.0), SMALL_MM, "middle", italic=True),
    ]
    return Figure(68.0, 66.0, tuple(marks))


def from_the_side() -> Figure:
    """Return shaft, casing, bearings, bar and wheel from the side: stations along the shaft, and the rake."""
    rake = math.radians(20.0)
    ux, uy = math.cos(rake), -math.sin(rake)
    nx, ny = -uy, ux  # to the left of the way to the wheel on paper, which is down: minus is up
    start = (8.0, 46.0)

    def at(along: float, off: float = 0.0) -> tuple[float, float]:
        return (start[0] + along * ux - off * nx, start[1] + along * uy - off * ny)

    def block(low: float, high: float, down: float, up: float, kind: str = "thick") -> Stroke:
        return Stroke((at(low, down), at(high, down), at(high, up), at(low, up)), kind, closed=True)  # type: ignore[arg-type]

    marks: list[Mark] = [line(at(-4), at(88), kind="chain"), block(18, 42, -8, 8)]
    marks += [block(42, 44, 6, 26), circle(at(50, 26), 4.0, "thick"), circle(at(50, 26), 3.0, "thin")]
    for along in (8.0, 66.0):
        marks += [block(along - 2, along + 2, 2, 5, "medium"), block(along - 2, along + 2, -5, -2, "medium")]
    marks += [line(at(86, -14), at(86, 14), kind="thick"), circle(at(2), 2.0, "medium", 1.0)]
    marks += [line(start, (start[0] + 60, start[1]), kind="hair")]
    arc = [(start[0] + 49 * math.cos(rake * k / 8), start[1] - 49 * math.sin(rake * k / 8)) for k in range(9)]
    marks += [Stroke(tuple(arc)), _letter("d", (start[0] + 52.0, start[1] - 4.0))]
    for name, along, off in (("e", 66.0, -20.0), ("f", 86.0, -26.0)):
        marks += [line(at(42, -8), at(42, off - 1)), line(at(along, -6), at(along, off - 1))]
        marks += dimension(at(42, off), at(along, off), "")
        marks.append(_letter(name, at((42 + along) / 2, off + 1.0)))
    marks += dimension(at(50, 0), at(50, 26), "")
    marks.append(_letter("g", at(53, 13)))
    marks += dimension(at(18, 11), at(42, 11), "")
    marks.append(_letter("h", at(28, 12.5)))
    marks += [
        Words("z = 0", at(37, -12.5), SMALL_MM, "right"),
        Words("casing", at(24, 1.2), SMALL_MM, angle_deg=math.degrees(rake)),
        Words("wheel", at(83, 13.5), SMALL_MM, "right"),
        Words("dash bar", at(57, 26), SMALL_MM),
        Words("bearing", at(70, 3.5), SMALL_MM),
    ]
    marks += _axis(at(88), (ux, uy), "Z")
    marks.append(Words("seen from the side", (58.0, 64.0), SMALL_MM, "middle", italic=True))
    return Figure(122.0, 66.0, tuple(marks))


def dash_bar() -> Figure:
    """Return the dash bar: its section, its ends, and its place beside the shaft."""
    marks: list[Mark] = [
        box(6, 8, 20, 20, "thick"),
        box(8, 10, 16, 16, "thick"),
        circle((46, 18), 10, "thick"),
        circle((46, 18), 8.4, "thick"),
        *dimension((6, 33), (26, 33), ""),
        _letter("i", (16, 32)),
        *dimension((36, 33), (56, 33), ""),
        _letter("i", (46, 32)),
        line((24, 18), (31, 18)),
        arrow((24, 18), (31, 18)),
        line((3, 18), (6, 18)),
        _letter("j", (29, 16.5)),
        Words("section", (31, 41.0), SMALL_MM, "middle", italic=True),
    ]
    x0, x1, y = 72.0, 168.0, 14.0
    marks += [box(x0, y - 3, x1 - x0, 6, "thick"), line((x0, y), (x1, y), kind="chain")]
    for x, side in ((x0, -1), (x1, 1)):
        marks.append(line((x, y - 9), (x, y + 9), kind="thick"))
        marks += [line((x, y - 9 + 3 * k), (x + 3 * side, y - 6 + 3 * k), kind="hair") for k in range(6)]
    shaft = 112.0
    marks += [circle((shaft, y + 16), 2.0, "thick"), line((shaft, y - 6), (shaft, y + 21), kind="chain")]
    marks += dimension((x0, y + 12), (shaft, y + 12), "") + dimension((shaft, y + 12), (x1, y + 12), "")
    marks += [_letter("k", ((x0 + shaft) / 2, y + 11)), _letter("l", ((x1 + shaft) / 2, y + 11))]
    marks.append(
        Words("from the wheel: left end, shaft, right end", (120.0, 41.0), SMALL_MM, "middle", italic=True)
    )
    return Figure(174.0, 43.0, tuple(marks))


def _letter(words: str, at: tuple[float, float]) -> Words:
    return Words(words, at, _LETTER_MM, "middle", bold=True)


def _axis(at: tuple[float, float], way: tuple[float, float], name: str) -> list[Mark]:
    tip = (at[0] + 6.0 * way[0], at[1] + 6.0 * way[1])
    return [
        line(at, tip),
        arrow(tip, at),
        Words(name, (tip[0] + 2.5 * way[0] - 0.8, tip[1] + 3.2 * way[1] + 0.9), SMALL_MM, bold=True),
    ]
