"""The lever, the mass and the dial gauge, from the wheel and from the side. No Qt."""

from __future__ import annotations

import math

from app.paper.page import (
    SMALL_MM,
    Figure,
    LineKind,
    Mark,
    Stroke,
    Words,
    arrow,
    box,
    circle,
    dimension,
    line,
)
from app.wording.figures import Units, quantity


def proof_sketch(
    mass_kg: float,
    arm_mm: float,
    gauge_mm: tuple[float, float, float],
    rake_deg: float,
    units: Units = "mm",
    *,
    sideways: bool,
) -> Figure:
    """Return both views; the gauge stands on top right of the shaft, or sideways below it."""
    marks = (*_front(mass_kg, arm_mm, gauge_mm, units, sideways), *_side(rake_deg, gauge_mm, units, sideways))
    return Figure(176.0, 78.0, marks)


def place_words(mm: float, units: Units) -> str:
    """Return a place or a length: a bare number of mm, or inches with their unit."""
    return f"{mm:.0f}" if units == "mm" else quantity(mm, "mm", units)


def _front(
    mass_kg: float, arm_mm: float, gauge_mm: tuple[float, float, float], units: Units, sideways: bool
) -> list[Mark]:
    cx, cy, reach = 55.0, 36.0, 46.0
    marks: list[Mark] = [
        box(cx - 12, cy - 12, 24, 24, "thick"),
        circle((cx, cy), 2.4, "thick"),
        line((cx, cy - 26), (cx, cy + 20), kind="chain"),
        box(cx - reach - 2, cy - 1.6, 2 * reach + 4, 3.2, "medium", grey=0.93),
        circle((cx, cy), 2.4, "thick"),
    ]
    marks += _held_above(cx, cy)
    marks += _mass((cx - reach, cy), _heavy(mass_kg, units), "thick") + _mass((cx + reach, cy), "", "dashed")
    y = cy + 32.0
    marks += [line((cx, cy + 20), (cx, y + 1.5)), line((cx + reach, cy + 24), (cx + reach, y + 1.5))]
    marks += dimension(
        (cx, y), (cx + reach, y), f"{arm_mm:g}" if units == "mm" else quantity(arm_mm, "mm", units)
    )
    marks += [line((cx - reach, cy + 24), (cx - reach, y + 1.5))]
    marks += dimension(
        (cx - reach, y), (cx, y), f"{arm_mm:g}" if units == "mm" else quantity(arm_mm, "mm", units)
    )
    marks += _side_gauge(cx + 12.0, cy + 9.0) if sideways else _gauge(cx + 12.0, cy - 12.0)
    marks += _couple_arrow(cx, cy)
    if sideways:
        words, place = f"tip {place_words(-gauge_mm[1], units)} below the shaft", (cx + 3.0, cy + 27.4)
    else:
        words, place = (
            f"tip on the casing, {place_words(gauge_mm[0], units)} right of the shaft",
            (cx + 22.0, cy - 27.5),
        )
    marks.append(Words(words, place, SMALL_MM))
    marks += [
        Words("hang left", (cx - reach, cy - 5.0), SMALL_MM, "middle"),
        Words("then right", (cx + reach - 2.0, cy - 5.0), SMALL_MM, "middle"),
        Words("seen from the wheel", (cx, 76.5), SMALL_MM, "middle", italic=True),
    ]
    return marks


def _held_above(cx: float, cy: float) -> list[Mark]:
    return [
        Stroke(((cx - 10, cy - 12), (cx - 10, cy - 26), (cx + 4, cy - 26), (cx + 4, cy - 12)), "medium"),
        box(cx - 22, cy - 31, 40, 5, "medium"),
        Words("dash bar", (cx - 24.0, cy - 27.5), SMALL_MM, "right"),
        Words("bracket", (cx - 11.5, cy - 19.0), SMALL_MM, "right"),
    ]


def _heavy(mass_kg: float, units: Units) -> str:
    return f"{mass_kg:.1f} kg" if units == "mm" else quantity(mass_kg, "kg", units)


def _mass(at: tuple[float, float], words: str, kind: LineKind) -> list[Mark]:
    x, y = at
    marks: list[Mark] = [line((x, y + 1.6), (x, y + 13), kind="thin" if words else "dashed")]
    marks.append(box(x - 6, y + 13, 12, 9, kind))
    if words:
        marks.append(Words(words, (x, y + 18.6), SMALL_MM, "middle", bold=True))
    return marks


def _gauge(x: float, y: float) -> list[Mark]:
    """Return a dial gauge standing on the car's body, its tip down on the casing's edge."""
    return [
        line((x - 1.5, y), (x - 1.5, y - 4)),
        circle((x - 1.5, y - 0.8), 0.8, "thin", 0.0),
        circle((x - 1.5, y - 8.2), 4.4, "medium", 1.0),
        line((x - 1.5, y - 8.2), (x + 0.8, y - 11.2), kind="thin"),
        Stroke(((x + 2.9, y - 8.2), (x + 14, y - 8.2), (x + 14, y - 4)), "medium"),
        line((x + 9, y - 4), (x + 19, y - 4), kind="thick"),
        *(line((x + 9 + 2 * k, y - 4), (x + 7.5 + 2 * k, y - 2.2), kind="hair") for k in range(6)),
        Words("body of the car", (x + 21.0, y - 3.0), SMALL_MM),
    ]


def _side_gauge(x: float, y: float) -> list[Mark]:
    """Return a dial gauge standing on the car's body, its tip against the casing's right side."""
    return [
        line((x, y), (x + 6, y)),
        circle((x + 0.8, y), 0.8, "thin", 0.0),
        circle((x + 10.4, y), 4.4, "medium", 1.0),
        line((x + 10.4, y), (x + 13, y - 2.2), kind="thin"),
        Stroke(((x + 10.4, y + 4.4), (x + 10.4, y + 10)), "medium"),
        line((x + 4, y + 10), (x + 17, y + 10), kind="thick"),
        *(line((x + 5 + 2 * k, y + 10), (x + 3.5 + 2 * k, y + 11.8), kind="hair") for k in range(6)),
        Words("body of the car", (x + 4.0, y + 14.4), SMALL_MM),
    ]


def _couple_arrow(cx: float, cy: float) -> list[Mark]:
    turns = [math.radians(200 + 14 * k) for k in range(8)]
    places = tuple((cx + 8.0 * math.cos(t), cy - 8.0 * math.sin(t)) for t in turns)
    return [Stroke(places, "medium"), arrow(places[-1], places[-2])]


def _side(rake_deg: float, gauge_mm: tuple[float, float, float], units: Units, sideways: bool) -> list[Mark]:
    rake = math.radians(rake_deg)
    ux, uy = math.cos(rake), -math.sin(rake)
    x0, y0 = 126.0, 52.0

    def at(along: float, off: float = 0.0) -> tuple[float, float]:
        return (x0 + along * ux + off * uy, y0 + along * uy - off * ux)

    def block(low: float, high: float, down: float, up: float, kind: LineKind) -> Stroke:
        return Stroke((at(low, down), at(high, down), at(high, up), at(low, up)), kind, closed=True)

    lever, tip = at(12, 0), at(17, -6 if sideways else 9)
    away = (x0 - 10.0, y0 - 32.0)
    return [
        line(at(-8), at(48), kind="chain"),
        block(2, 22, -9, 9, "thick"),
        block(22, 23.5, 4, 24, "medium"),
        circle(at(27, 24), 4.0, "medium"),
        box(lever[0] - 1.6, lever[1] - 1.6, 3.2, 3.2, "medium", grey=0.93),
        line(lever, (lever[0], lever[1] + 14)),
        box(lever[0] - 5, lever[1] + 14, 10, 7, "thick"),
        Words(f"gauge at z = {place_words(gauge_mm[2], units)}", (away[0] - 10.0, away[1] - 3.0), SMALL_MM),
        line(away, tip),
        arrow(tip, away),
        Words("shaft free", at(46, -6), SMALL_MM, "middle"),
        line((x0 - 8, y0), (x0 + 26, y0), kind="hair"),
        Words(f"rake {rake_deg:g} deg", (x0 + 28.0, y0 + 0.8), SMALL_MM),
        Words("seen from the side", (x0 + 22.0, 76.5), SMALL_MM, "middle", italic=True),
    ]
