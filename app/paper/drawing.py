"""The drawing: a sheet for each plate's flat pattern, then the bracket as mounted with its parts list."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial
from typing import Final

from app.cautions import CAUTIONS
from app.cutting.cut_lines import CutLines, cut_lines
from app.paper.bend_table import BendRow, bend_rows
from app.paper.flat_drawing import flat_drawing, letter_of, scale_for
from app.paper.flow import Flow, Room
from app.paper.job import PaperJob
from app.paper.mounted import mounted_picture
from app.paper.outline_places import arc_middles
from app.paper.page import SMALL_MM, Mark, Measure, Page, Words, moved, paper_mm
from app.paper.part_table import list_sources, part_table
from app.paper.tables import Column, Table
from app.paper.title_block import Sheet, framed, space
from app.wording.figures import drawn_length, plain, sentence_in_units
from app.wording.weld_words import plate_of_weld, stands_words, weld_words
from geometry.flat_segments import Flat
from geometry.plate import Plate

_TABLES_MM: Final = 96.0
"""Width of the tables beside a flat pattern, at most."""
_TABLES_SHARE: Final = 0.38
_NOTE_MM: Final = 2.3
Length = Callable[[float], str]
"""A length in mm to what stands in a table."""


def drawing_pages(job: PaperJob, measure: Measure) -> tuple[Page, ...]:
    """Return the drawing's sheets; ShapeError for a plate that makes no shape."""
    made: list[tuple[Sheet, tuple[Mark, ...]]] = []
    for plate in job.bracket.plates:
        made += _plate_sheets(job, plate, measure)
    if made:
        made += _mounted_sheets(job, measure)
    width, height = paper_mm(job.paper, landscape=True)
    return tuple(
        Page(
            width,
            height,
            (*framed(job, Sheet(s.kind, s.part, s.scale, number, len(made)), measure), *marks),
        )
        for number, (s, marks) in enumerate(made, start=1)
    )


def _plate_sheets(job: PaperJob, plate: Plate, measure: Measure) -> list[tuple[Sheet, tuple[Mark, ...]]]:
    room = space(job)
    tables_mm = min(_TABLES_MM, _TABLES_SHARE * (room.right_mm - room.left_mm))
    left_mm = room.right_mm - tables_mm
    lines = cut_lines(plate)
    size = (left_mm - room.left_mm, room.bottom_mm - room.top_mm)
    scale, words = scale_for(lines, *size)
    figure = flat_drawing(job.bracket, plate, lines, scale, job.units)
    at = (room.left_mm + (size[0] - figure.width_mm) / 2.0, room.top_mm + (size[1] - figure.height_mm) / 2.0)
    caption = (
        f"flat pattern, seen from the front; {plate.thickness_mm:g} mm {plate.material or 'material blank'}"
    )
    head = Words(
        sentence_in_units(plain(caption), job.units), (room.left_mm + 3.0, room.top_mm + 4.5), SMALL_MM
    )
    tables = _tables(job, plate, lines, _column(job, left_mm, room.right_mm), measure)
    sheet = Sheet("part drawing", plate.name, words, 0, 0)
    first, *more = tables
    drawn = (sheet, (head, *moved(figure.marks, at), *first.marks))
    return [drawn, *((Sheet("part drawing", plate.name, "", 0, 0), page.marks) for page in more)]


def _column(job: PaperJob, left_mm: float, right_mm: float) -> Room:
    room = space(job)
    width, height = paper_mm(job.paper, landscape=True)
    return Room(width, height, left_mm, room.top_mm + 3.0, right_mm - 3.0, room.bottom_mm - 2.0)


def _tables(job: PaperJob, plate: Plate, lines: CutLines, room: Room, measure: Measure) -> tuple[Page, ...]:
    flow = Flow(room, measure, job.units)
    unit = "mm" if job.units == "mm" else "inches"
    length: Length = partial(drawn_length, units=job.units)
    if plate.openings:
        flow.heading(f"Openings, {unit} from the left and lower edge")
        flow.table(_opening_table(plate, lines, length))
    rows = bend_rows(plate)
    if rows:
        flow.heading("Folds")
        flow.table(_fold_table(plate, rows, lines, length))
        flow.table(_bend_table(rows, length))
        flow.bullets(_bend_notes(plate, rows), size_mm=_NOTE_MM)
    flow.heading("Notes", keep_mm=8.0)
    notes = [f"All in {unit}; corners are given as if sharp. Deburr all edges, inside of holes too."]
    if arc_middles(plate, lines):
        notes.append(
            "A cross at a rounded corner is the middle of its radius, given in place of a sharp corner that"
            " would lie beyond the plate."
        )
    if any(opening.kind == "cut-out" for opening in plate.openings):
        notes.append("Corners of a cut-out: see its own table above, or cut from the file for the cutter.")
    notes += [plain(words) for words in _weld_notes(job, plate, lines, length)]
    flow.bullets(notes, size_mm=_NOTE_MM)
    return flow.pages(lambda _page, _pages: ())


def _weld_notes(job: PaperJob, plate: Plate, lines: CutLines, length: Length) -> Iterator[str]:
    """Yield what is welded on a plate: along its own edges, then what stands on its faces."""

    def from_to(ends: tuple[Flat, Flat]) -> str:
        begins, stops = (f"{length(x - lines.box_mm[0])}, {length(y - lines.box_mm[1])}" for x, y in ends)
        return f"from {begins} to {stops}"

    for weld in job.bracket.welds:
        if weld.plate == plate.name:
            yield f"Weld {weld.name}: {weld_words(weld)}; {from_to((weld.from_mm, weld.to_mm))}."
    for weld, ends, stands in stands_words(job.bracket, plate.name):
        yield (
            f"Weld {weld.name}: {weld_words(weld)}; {plate_of_weld(weld)} stands {stands}, the middle of its"
            f" edge {from_to(ends)}."
        )


def _opening_table(plate: Plate, lines: CutLines, length: Length) -> Table:
    low_x, low_y = lines.box_mm[0], lines.box_mm[1]

    def at(x: float, y: float) -> tuple[str, str]:
        return (length(x - low_x), length(y - low_y))

    rows: list[tuple[str, ...]] = []
    for number, opening in enumerate(plate.openings):
        letter = letter_of(number)
        if opening.kind == "hole":
            rows.append(
                (letter, *at(*opening.centre_mm), f"\u2300{length(opening.diameter_mm)}", plain(opening.name))
            )
        elif opening.kind == "slot":
            size = f"{length(opening.length_mm)} x {length(opening.width_mm)} at {opening.angle_deg:g}\u00b0"
            rows.append((letter, *at(*opening.centre_mm), size, plain(opening.name)))
        else:
            for k, corner in enumerate(opening.corners, start=1):
                radius = f"R{length(corner.radius_mm)}" if corner.radius_mm else "sharp"
                if corner.arc_via_mm is not None:
                    radius = "arc via " + ", ".join(at(*corner.arc_via_mm))
                rows.append((f"{letter}{k}", *at(*corner.at_mm), radius, plain(opening.name)))
    columns = (
        Column("", 9), Column("x", 15, right=True), Column("y", 15, right=True), Column("size", 20),
        Column("name", 28),
    )  # fmt: skip
    return Table(columns, tuple(rows), size_mm=_NOTE_MM)


def _fold_table(plate: Plate, rows: tuple[BendRow, ...], lines: CutLines, length: Length) -> Table:
    low_x, low_y = lines.box_mm[0], lines.box_mm[1]
    found = []
    for number, (row, fold) in enumerate(zip(rows, plate.folds, strict=True), start=1):
        (x0, y0), (x1, y1) = fold.from_mm, fold.to_mm
        if abs(x1 - x0) < 1e-6:
            place = f"x {length(x0 - low_x)}"
        elif abs(y1 - y0) < 1e-6:
            place = f"y {length(y0 - low_y)}"
        else:
            place = (
                f"{length(x0 - low_x)}, {length(y0 - low_y)} to {length(x1 - low_x)}, {length(y1 - low_y)}"
            )
        turned = f"{row.turned_deg:g}\u00b0 {row.direction}"
        found.append((f"F{number}", plain(row.fold), place, turned, f"R{length(row.tool_radius_mm)}"))
    columns = (
        Column("", 9),
        Column("fold", 24),
        Column("line", 22),
        Column("turned", 20),
        Column("tool", 12),
    )
    return Table(columns, tuple(found), size_mm=_NOTE_MM)


def _bend_table(rows: tuple[BendRow, ...], length: Length) -> Table:
    columns = (
        Column("", 9), Column("K", 11, right=True), Column("zone", 12, right=True),
        Column("less", 12, right=True),
        Column("legs outside", 23, right=True), Column("least leg", 13, right=True),
        Column("die", 10, right=True),
    )  # fmt: skip
    found = tuple(
        (
            f"F{number}",
            f"{row.k_factor:.2f}",
            length(row.zone_mm),
            length(row.deduction_mm),
            f"{length(row.legs_mm[0])} / {length(row.legs_mm[1])}",
            length(row.least_leg_mm),
            length(row.die_mm),
        )
        for number, row in enumerate(rows, start=1)
    )
    return Table(columns, found, size_mm=_NOTE_MM)


def _bend_notes(plate: Plate, rows: tuple[BendRow, ...]) -> list[str]:
    sources = sorted({row.k_source for row in rows})
    notes = [
        # least inside radii are those across the grain
        "Up is toward you; the punch comes down on the fold line. Fold across the grain, or at 45\u00b0 to it"
        " where folds run both ways.",
        f"K from: {' and '.join(sources)}; a bent test strip tells your own brake's. Less: flat length ="
        " outside legs, each once, less that of every fold. Least leg outside and die: common practice; ask"
        " the brake.",
    ]
    short = [f"F{number}" for number, row in enumerate(rows, start=1) if row.short]
    if short:
        notes.append(
            f"A leg of {', '.join(short)} is shorter than the least for that die: bend before trimming, or "
            "fold by hand."
        )
    if len(plate.folds) > 1:
        notes.append("Try the order of folds on paper first: a leg may hit the punch.")
    return notes


def _mounted_sheets(job: PaperJob, measure: Measure) -> list[tuple[Sheet, tuple[Mark, ...]]]:
    room = space(job)
    across = room.right_mm - room.left_mm
    left_mm = room.left_mm + 0.43 * across
    height = room.bottom_mm - room.top_mm
    box = (room.left_mm + 2.0, room.top_mm + 2.0, left_mm - room.left_mm - 5.0, 0.56 * height)
    flow = Flow(_column(job, left_mm, room.right_mm), measure, job.units)
    flow.heading("Parts list")
    flow.table(part_table(job.bracket))
    flow.paragraph(list_sources(job.bracket), size_mm=_NOTE_MM)
    tables = flow.pages(lambda _page, _pages: ())
    width, paper_height = paper_mm(job.paper, landscape=True)
    below = Flow(
        Room(width, paper_height, room.left_mm + 3.0, box[1] + box[3] + 2.0, left_mm - 4.0, math.inf), measure
    )
    below.heading("Cautions")
    below.bullets(CAUTIONS, size_mm=_NOTE_MM)
    cautions = below.pages(lambda _page, _pages: ())[0].marks
    sheet = Sheet("assembly drawing", "as mounted", "none", 0, 0)
    first, *more = tables
    drawn = (sheet, (mounted_picture(job.bracket, box), *cautions, *first.marks))
    return [drawn, *((Sheet("parts list", "as mounted", "", 0, 0), page.marks) for page in more)]
