"""A cutter's file as SVG in mm: one group for each kind of line, arcs as arcs, y turned up."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from app.cutting.cut_lines import LINE_KINDS, NOT_JUDGED, WORDS_MM, CutLines, LineKind
from app.wording.figures import plain
from geometry.flat_segments import Arc, Flat, Line, Loop

_MARGIN_MM = 5.0
_STROKE: dict[LineKind, str] = {
    "CUT": 'stroke="#000000" stroke-width="0.25"',
    "FOLD": 'stroke="#0000ff" stroke-width="0.18" stroke-dasharray="6 1.5"',
    "MARK": 'stroke="#008000" stroke-width="0.13"',
}
"""Told apart by group and by line, and by colour for machines that go by nothing else."""


def cut_svg(lines: CutLines) -> str:
    """Return the text of an SVG file, 1:1 in mm."""
    low_x, low_y, high_x, high_y = lines.drawn_box_mm
    left, top = low_x - _MARGIN_MM, -high_y - _MARGIN_MM
    width, height = high_x - low_x + 2.0 * _MARGIN_MM, high_y - low_y + 2.0 * _MARGIN_MM
    drawn: dict[LineKind, list[str]] = {
        "CUT": [_loop(loop) for loop in lines.loops],
        "FOLD": [_line(piece) for fold in lines.folds for piece in fold.pieces],
        "MARK": [*(_line(line) for line in lines.crosses), *_words(lines)],
    }
    groups = "".join(
        f'<g id="{kind}" fill="none" {_STROKE[kind]}>\n{"".join(drawn[kind])}</g>\n' for kind in LINE_KINDS
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="{_n(left)} {_n(top)} {_n(width)} {_n(height)}">\n'
        f"<title>{escape(plain(lines.plate))}</title>\n<desc>{escape(NOT_JUDGED)}</desc>\n{groups}</svg>\n"
    )


def _loop(loop: Loop) -> str:
    first = loop[0]
    if isinstance(first, Arc) and first.is_circle:
        (x, y), radius = first.centre, first.radius_mm
        return f'<circle cx="{_n(x)}" cy="{_n(-y)}" r="{_n(radius)}"/>\n'
    return f"<path d={quoteattr('M ' + _place(first.start) + ''.join(map(_edge, loop)) + ' Z')}/>\n"


def _edge(edge: Line | Arc) -> str:
    if isinstance(edge, Line):
        return f" L {_place(edge.end)}"
    large = int(abs(edge.turn_rad) > 3.141592653589793)
    sweep = int(edge.turn_rad < 0.0)  # downward y turns the sense about
    return f" A {_n(edge.radius_mm)} {_n(edge.radius_mm)} 0 {large} {sweep} {_place(edge.end)}"


def _line(line: Line) -> str:
    return f'<path d="M {_place(line.start)} L {_place(line.end)}"/>\n'


def _words(lines: CutLines) -> list[str]:
    return [
        f'<text x="{_n(w.at_mm[0])}" y="{_n(-w.at_mm[1])}" font-family="sans-serif" font-size="{WORDS_MM:g}" '
        f'fill="#008000" stroke="none" transform="rotate({_n(-w.angle_deg)} {_place(w.at_mm)})">'
        f"{escape(w.words)}</text>\n"
        for w in lines.written
    ]


def _place(place: Flat) -> str:
    return f"{_n(place[0])} {_n(-place[1])}"


def _n(value: float) -> str:
    return f"{round(value, 6) + 0.0:.6f}".rstrip("0").rstrip(".")
