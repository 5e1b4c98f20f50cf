"""The figures of a report: stamp, flat pattern, stress map, the bracket as mounted and moved. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from app.cutting.cut_lines import CutLines, cut_lines
from app.paper.flat_marks import flat_marks
from app.paper.page import BODY_MM, Figure, Mark, Measure, Stroke, Words, box, dimension, line, moved
from app.paper.tables import wrapped
from app.paper.weld_marks import weld_figure
from app.report.job import ReportJob
from app.report.mounted_lines import mounted_figure
from app.report.stress_map import captioned, map_marks, map_words
from app.wording.figures import Units, in_units, plain
from app.wording.plate_name import plate_called
from geometry.flat_segments import ShapeError
from geometry.plate import Plate
from solver.results import PlateField, Verdict

STAMP_MM: Final = (48.0, 15.0)
_GAP_MM: Final = 5.0
_AROUND_MM: Final = 8.0
"""Room round a flat pattern for its two outer dimensions."""
_HIGH_MM: Final = 80.0
"""Of one plate's figure; of several each has less."""
_SEVERAL_HIGH_MM: Final = 62.0
_MOUNTED_MM: Final = 74.0


def stamp_figure(verdict: Verdict, words: str, width_mm: float, measure: Measure) -> Figure:
    """Return the verdict's stamp with its sentence beside it: word and shape say it, never colour."""
    wide, high = STAMP_MM
    marks: list[Mark] = list(_stamp(verdict))
    if verdict == "no verdict":
        colon = ":" if words and not words.startswith("for ") else ""
        words = f"NO VERDICT{colon} {words}".strip()
    lines = wrapped(words, width_mm - wide - 8.0, 4.2, measure, bold=True)
    first = max(4.6, high / 2.0 + 1.5 - (len(lines) - 1) * 2.9)
    marks += [Words(text, (wide + 7.0, first + n * 5.8), 4.2, bold=True) for n, text in enumerate(lines)]
    return Figure(width_mm, max(high, first + (len(lines) - 1) * 5.8 + 2.0) + 2.0, tuple(marks))


def _stamp(verdict: Verdict) -> tuple[Mark, ...]:
    wide, high = STAMP_MM
    if verdict == "no verdict":
        return (box(0.0, 0.0, wide, high, "thin"),)
    middle = high / 2.0
    word = Words(verdict.upper(), (wide / 2.0, middle + 2.3), 6.4, "middle", bold=True)
    outer = box(0.0, 0.0, wide, high, "thick")
    if verdict == "pass":
        return (outer, box(1.5, 1.5, wide - 3.0, high - 3.0, "medium"), word)
    if verdict == "marginal":
        inner = box(1.5, 1.5, wide - 3.0, high - 3.0, "dashed")
        return (outer, inner, word)
    half = 2.6 * len(verdict) + 2.0
    struck = tuple(
        line((x0, y), (x1, y), kind="thick")
        for y in (middle - 1.2, middle + 1.2)
        for x0, x1 in ((-3.0, wide / 2.0 - half), (wide / 2.0 + half, wide + 3.0))
    )
    return (outer, *struck, word)


def plate_figures(job: ReportJob, width_mm: float) -> list[tuple[Figure, str]]:
    """Return for each plate its flat pattern beside its stress map, and what they show in words."""
    fields = {} if job.results is None else {field.plate: field for field in job.results.plates}
    found = []
    high = _HIGH_MM if len(job.bracket.plates) == 1 else _SEVERAL_HIGH_MM
    for plate in job.bracket.plates:
        try:
            lines = cut_lines(plate)
        except ShapeError:
            continue
        field = fields.get(plate.name)
        found.append(_plate_figure(job, plate, lines, field, (width_mm, high)))
    return found


def _plate_figure(
    job: ReportJob, plate: Plate, lines: CutLines, field: PlateField | None, size_mm: tuple[float, float]
) -> tuple[Figure, str]:
    width_mm, high_mm = size_mm
    half = (width_mm - _GAP_MM) / 2.0
    low_x, low_y, high_x, high_y = lines.box_mm
    room = half - 2.0 * _AROUND_MM
    scale = min(room / (high_x - low_x), (high_mm - 2.0 * _AROUND_MM) / (high_y - low_y))
    of_what = plate.material or "material blank"
    in_unit = "mm" if job.units == "mm" else "inches"
    thick = f"{plate.thickness_mm:g}" if job.units == "mm" else _length(plate.thickness_mm, job.units)
    caption = f"{plain(plate_called(plate.name))}, flat, in {in_unit}: {thick} thick, {of_what}"
    drawn = captioned(_flat(job, plate, lines, scale, half), (caption,))
    if field is None:
        return drawn, caption
    shown = map_words(field, job.units)
    words, more = shown.split(": ", 1)
    mapped = captioned(_mapped(plate, lines, field, scale, half, job.units), (words, more))
    return beside((drawn, mapped), width_mm), f"{caption}; {shown}"


def _flat(job: ReportJob, plate: Plate, lines: CutLines, scale: float, width_mm: float) -> Figure:
    marks = flat_marks(plate, lines, past_mm=2.0 / scale)
    width, height = marks.width_mm * scale, marks.height_mm * scale
    drawn: list[Mark] = [
        *moved((marks.outline, *marks.openings), (0.0, 0.0), scale),
        *moved((Stroke(s.places, "chain") for s in marks.crosses), (0.0, 0.0), scale),
        *moved((s for _, s in marks.folds), (0.0, 0.0), scale),
        *dimension((0.0, height + 5.0), (width, height + 5.0), _length(marks.width_mm, job.units)),
        *dimension((-4.0, height), (-4.0, 0.0), _length(marks.height_mm, job.units)),
    ]
    drawn += weld_figure(job.bracket, plate, lines, scale, job.units)
    left = (width_mm - width) / 2.0
    return Figure(width_mm, height + 2.0 * _AROUND_MM, moved(drawn, (left, _AROUND_MM)))


def _length(value_mm: float, units: Units) -> str:
    """Return a length as a bare number: tenths of a mm, or thousandths of an inch."""
    return f"{value_mm:.1f}" if units == "mm" else f"{in_units(value_mm, 'mm', units)[0]:.3f}"


def _mapped(
    plate: Plate, lines: CutLines, field: PlateField, scale: float, width_mm: float, units: Units
) -> Figure:
    low_x, low_y, _, high_y = lines.box_mm
    marks = flat_marks(plate, lines, past_mm=0.0)
    width, height = marks.width_mm * scale, marks.height_mm * scale
    drawn: list[Mark] = [
        *map_marks(field, (low_x, low_y), high_y, scale, units),
        *moved((marks.outline, *marks.openings), (0.0, 0.0), scale),
        *moved((s for _, s in marks.folds), (0.0, 0.0), scale),
    ]
    left = (width_mm - width) / 2.0
    return Figure(width_mm, height + 2.0 * _AROUND_MM, moved(drawn, (left, _AROUND_MM)))


def mounted_figures(job: ReportJob, width_mm: float, measure: Measure) -> tuple[Figure, str]:
    """Return the bracket as mounted, at rest and moved, and what they show in words."""
    half = (width_mm - _GAP_MM) / 2.0
    figures, words = [], []
    for as_moved in (False, True):
        if as_moved and (job.results is None or not (job.results.cases or job.results.free_motions)):
            continue
        figure, shows = mounted_figure(job.bracket, job.results, half, _MOUNTED_MM, moved=as_moved)
        figures.append(captioned(figure, tuple(wrapped(shows, half, 2.5, measure))))
        words.append(shows)
    return beside(figures, width_mm), "; ".join(words)


def beside(figures: Sequence[Figure], width_mm: float) -> Figure:
    """Return figures in a row, their upper edges level."""
    marks: list[Mark] = []
    step = (width_mm + _GAP_MM) / max(len(figures), 1)
    for number, figure in enumerate(figures):
        marks += moved(figure.marks, (number * step, 0.0))
    return Figure(width_mm, max((f.height_mm for f in figures), default=BODY_MM), tuple(marks))
