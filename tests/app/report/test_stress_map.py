"""The map of stress on paper: areas by share of the allowable, hatched above, lines with their figures."""

from __future__ import annotations

import pytest
import shapely

from app.paper.page import Mark, Stroke, Words
from app.report.stress_map import box_of, map_marks, map_words
from app.theme import PAPER
from tests.app.example_results import example_bracket
from tests.app.report.reports import field_of

PLATE_MM2 = 80.0 * 60.0


def marks_of(least: float, most: float) -> list[Mark]:
    field = field_of(example_bracket(), least, most)
    low, high = box_of(field)
    return map_marks(field, (float(low[0]), float(low[1])), float(high[1]), 1.0)


def area_mm2(marks: list[Mark], colour: str) -> float:
    areas = [m for m in marks if isinstance(m, Stroke) and m.closed and m.fill == colour]
    return float(sum(shapely.Polygon(m.places).area for m in areas))


def test_areas_share_the_plate_as_the_stress_does() -> None:
    marks = marks_of(0.0, 1.25)
    # even growth along 60 mm: 80 % is reached at 0.64 of it, 100 % at 0.8; the bore and its corners are lost
    low, near, over = (area_mm2(marks, c) for c in (PAPER.map_low, PAPER.map_near, PAPER.map_over))
    assert over == pytest.approx(0.2 * PLATE_MM2, rel=0.01)
    assert near == pytest.approx(0.16 * PLATE_MM2, rel=0.01)
    hole = 63.6
    assert low + near + over == pytest.approx(PLATE_MM2 - hole, rel=0.005)


def test_below_the_limit_nothing_is_hatched_and_lines_carry_figures() -> None:
    marks = marks_of(0.05, 0.7)
    assert area_mm2(marks, PAPER.map_near) == area_mm2(marks, PAPER.map_over) == 0.0
    figures = [float(m.words) for m in marks if isinstance(m, Words)]
    assert len(figures) >= 3
    assert all(5.0 <= figure <= 70.0 for figure in figures)


def test_it_reads_in_grey_print() -> None:
    def grey(colour: str) -> float:
        r, g, b = (int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5))
        return 0.299 * r + 0.587 * g + 0.114 * b

    low, near, over = (grey(c) for c in (PAPER.map_low, PAPER.map_near, PAPER.map_over))
    assert low - near > 0.1
    assert near - over > 0.1
    marks = marks_of(0.0, 1.4)
    hatching = [
        m for m in marks
        if isinstance(m, Stroke) and len(m.places) == 2 and abs(slope(m) - 1.0) < 0.01
    ]  # fmt: skip
    assert len(hatching) > 10
    assert min(min(y for _, y in m.places) for m in hatching) >= -0.01
    assert max(max(y for _, y in m.places) for m in hatching) <= 60.0 * (1.0 - 1.0 / 1.4) + 0.1


def slope(stroke: Stroke) -> float:
    (x0, y0), (x1, y1) = stroke.places
    return abs((y1 - y0) / (x1 - x0)) if x1 != x0 else 1e9


def test_the_words_say_the_greatest_and_the_allowable() -> None:
    field = field_of(example_bracket(), 0.0, 1.4)
    assert "140 where 100 is allowed; amber" in map_words(field)
    words = map_words(field, "inch")
    assert "ksi, worse of both faces: 20.3 where 14.5 is allowed; amber" in words
    assert "MPa" not in words


def test_lines_stand_at_round_values_of_the_units_told() -> None:
    field = field_of(example_bracket(), 0.0, 1.25)
    low, high = box_of(field)
    place = (float(low[0]), float(low[1]))
    marks = map_marks(field, place, float(high[1]), 1.0, "inch")
    # 125 MPa are 18.1 ksi, 80 and 100 are 11.6 and 14.5
    told = {m.words for m in marks if isinstance(m, Words)}
    assert told == {"2.5", "5", "7.5", "10", "11.6", "14.5", "17.5"}
    metric = marks_of(0.0, 1.25)
    for colour in (PAPER.map_low, PAPER.map_near, PAPER.map_over):
        assert area_mm2(marks, colour) == pytest.approx(area_mm2(metric, colour), rel=1e-6)
