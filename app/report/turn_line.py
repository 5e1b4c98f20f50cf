"""What the casing's turn comes from, as one line in pieces, hatched: it reads without colour. No Qt."""

from __future__ import annotations

from typing import Final

from app.paper.page import SMALL_MM, Figure, Mark, Measure, Stroke, Words, box, line
from app.wording.figures import plain
from app.wording.turn_words import share_words, told_shares, turn_words
from solver.results import Results

_HIGH_MM: Final = 6.0
_STEP_MM: Final = 5.0
_BELOW_MM: Final = 4.2
_MARGIN_MM: Final = 1.5
_Hatch = tuple[float, int, float]
"""Distance between strokes across the line in mm, which way they lean (0 upright), and the grey beneath."""
_HATCHES: Final[tuple[_Hatch, ...]] = (
    (2.4, 1, 0.88),
    (2.4, -1, 1.0),
    (1.2, 0, 1.0),
    (1.2, 1, 1.0),
    (0.0, 0, 0.7),
    (1.2, -1, 0.88),
    (0.0, 0, 1.0),
    (2.4, 0, 0.7),
)


def turn_figure(results: Results, width_mm: float, measure: Measure) -> tuple[Figure, str] | None:
    """Return the stacked line with its labels, and what it shows in words; None where no share is known."""
    parts = told_shares(results)
    if not parts:
        return None
    shows = f"Of the turn: {turn_words(results)}."
    marks: list[Mark] = [Words("Of the turn", (0.0, 3.0), SMALL_MM, bold=True)]
    top, start, row_end = 4.2, 0.0, 0.0
    low = top + _HIGH_MM + _BELOW_MM
    for number, part in enumerate(parts):
        end = start + width_mm * part.share
        marks += _piece((start, end), top, _HATCHES[number % len(_HATCHES)])
        start = end
    # A key under the line: a narrow piece has no room for its words.
    for number, part in enumerate(parts):
        words = plain(f"{part.name} {share_words(part)}")
        needed = _STEP_MM + _MARGIN_MM + measure(words, SMALL_MM, False) + 5.0
        if row_end > 0.0 and row_end + needed > width_mm:
            row_end, low = 0.0, low + _BELOW_MM
        marks += _piece((row_end, row_end + _STEP_MM), low - 2.6, _HATCHES[number % len(_HATCHES)], 3.0)
        marks.append(Words(words, (row_end + _STEP_MM + _MARGIN_MM, low), SMALL_MM))
        row_end += needed
    return Figure(width_mm, low + 1.5, tuple(marks)), shows


def _piece(
    span_mm: tuple[float, float], top_mm: float, hatch: _Hatch, high_mm: float = _HIGH_MM
) -> list[Mark]:
    """Return a box of the line with its hatching, cut off at the box."""
    (left, right), (apart, lean, grey) = span_mm, hatch
    marks: list[Mark] = [box(left, top_mm, right - left, high_mm, "thin", grey=grey)]
    if apart <= 0.0:
        return marks
    slant = lean * high_mm
    count = int((right - left + high_mm) / apart) + 2
    for n in range(count):
        foot = left - max(slant, 0.0) + (n + 0.5) * apart
        stroke = _cut((foot, foot + slant), (left, right), top_mm, high_mm)
        if stroke is not None:
            marks.append(stroke)
    return marks


def _cut(
    foot_and_head: tuple[float, float], span_mm: tuple[float, float], top_mm: float, high_mm: float
) -> Stroke | None:
    """Return the stroke from the box's lower edge to its upper one, as far as it lies within the span."""
    foot, head = foot_and_head
    left, right = span_mm
    if foot == head:
        inside = (0.0, 1.0) if left < foot < right else None
    else:
        ends = sorted(((left - foot) / (head - foot), (right - foot) / (head - foot)))
        inside = (max(ends[0], 0.0), min(ends[1], 1.0)) if ends[0] < 1.0 and ends[1] > 0.0 else None
    if inside is None:
        return None
    places = [(foot + t * (head - foot), top_mm + (1.0 - t) * high_mm) for t in inside]
    return line(*places, kind="hair")
