"""The measuring sheet, to take under the dash with a pencil: its numbers are the fields of the file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from app.paper.flow import Flow
from app.paper.job import PaperJob, dressed, portrait
from app.paper.measuring_sketches import dash_bar, from_the_side, from_the_wheel
from app.paper.page import Figure, Measure, Page, moved
from app.paper.tables import Column, Table
from app.wording.bar_words import outside_words
from app.wording.figures import plain
from geometry.bracket import Bracket
from geometry.casing import Boss
from geometry.fixing import Bolt
from geometry.loads import LoadCell, MotorTorque, StatedCouple, TorqueMeters

_ROW_MM: Final = 6.2
_BLANK_BOSSES: Final = 4
_BLANK_BOLTS: Final = 6
Row = tuple[str, str, str]
"""Sketch's letter, what to measure, what the file has."""


def measuring_pages(job: PaperJob, measure: Measure) -> tuple[Page, ...]:
    """Return the measuring sheet: blank where the job has no file, else with what the file has beside."""
    flow = portrait(job, measure)
    bracket = job.bracket
    flow.paragraph(
        "Steering: disconnect the battery and take the key out before reaching under the dash. Lengths"
        " in mm, angles in deg; say so beside any that is not. X is to the right as seen from the wheel,"
        " Y up and square to the shaft, Z along the shaft to the wheel; z = 0 is where the plate sits on"
        " the casing. Leave unknown what you could not reach: a blank is honest, a guess is not."
    )
    wheel, side = from_the_wheel(), from_the_side()
    flow.figure(_beside(wheel, side, flow.room.across_mm))
    _table(flow, "Casing and shaft", _casing_rows(job))
    _boss_table(flow, job)
    _table(
        flow, "What else holds the column: nothing, bearings, or the donor's column mount", _column_rows(job)
    )
    flow.heading("Dash bar and its ends", keep_mm=60.0)
    flow.figure(dash_bar())
    _table(flow, "", _bar_rows(job))
    _plates_and_bolts(flow, job)
    _table(flow, "Couple: what the unit turns its casing with", _couple_rows(bracket, blank=not job.file))
    flow.paragraph("Measured by: __________________   on: ____________   car and unit: __________________")
    return flow.pages(lambda page, pages: dressed(job, "Measuring sheet", page, pages))


def _beside(one: Figure, other: Figure, width_mm: float) -> Figure:
    gap = max(0.0, width_mm - one.width_mm - other.width_mm)
    marks = (*one.marks, *moved(other.marks, (one.width_mm + gap, 0.0)))
    return Figure(width_mm, max(one.height_mm, other.height_mm), marks)


def _table(flow: Flow, title: str, rows: Sequence[Row]) -> None:
    if title:
        flow.heading(title, keep_mm=20.0)
    columns = (Column("", 5), Column("what", 58), Column("in the file", 30), Column("measured", 34))
    flow.table(Table(columns, tuple((*row, "") for row in rows), least_row_mm=_ROW_MM))


def _casing_rows(job: PaperJob) -> list[Row]:
    bracket, casing = job.bracket, job.bracket.casing
    low = high = centre = clocked = mass = ""
    if casing is not None and job.file:
        low, high = _place(casing.envelope.low_mm), _place(casing.envelope.high_mm)
        centre, clocked, mass = (
            _place(casing.mass_centre_mm),
            f"{casing.clocking_deg:g} deg",
            f"{casing.mass_kg:.3g} kg",
        )
    wheel = bracket.wheel
    rows: list[Row] = [
        ("c, h", "block that encloses the casing: lowest x, y, z", low),
        ("c, h", "its highest x, y, z", high),
        ("", "how far the casing is turned about the shaft from where it is measured", clocked),
        ("", "mass of the casing with motor, weighed", mass),
        ("", "middle of its mass: x, y, z (balance it on an edge)", centre),
        ("d", "rake: how far the shaft rises to the wheel", _or(bracket.rake_deg, "deg", job)),
        ("f", "wheel: station z", "" if wheel is None else f"{wheel.station_mm:g} mm"),
        ("", "wheel: diameter", "" if wheel is None else f"{wheel.diameter_mm:g} mm"),
    ]
    joints = bracket.shaft_joints or ((None,) if not job.file else ())
    for joint in joints:
        name = "" if joint is None else f" {plain(joint.name)}"
        told = (
            ""
            if joint is None
            else f"z {joint.station_mm:g}, {joint.angle_deg:g} deg, {joint.plane_deg:g} deg"
        )
        rows.append(("", f"shaft joint{name}: station z, angle, direction it bends toward (from X)", told))
    return rows


def _boss_table(flow: Flow, job: PaperJob) -> None:
    order = (
        "in the order of the file" if job.file else "clockwise as seen from the wheel, the uppermost first"
    )
    flow.heading(f"Bosses, {order}", keep_mm=34.0)
    bosses: Sequence[Boss | None] = job.bracket.casing.bosses if job.bracket.casing and job.file else ()
    bosses = bosses or (None,) * _BLANK_BOSSES
    columns = (
        Column("", 4),
        Column("boss: in the file x, y, z; thread; depth; face; metal", 50),
        Column("a: to the shaft", 19),
        Column("b: to the next", 19),
        Column("z of its face", 17),
        Column("thread, depth", 18),
        Column("face, metal", 18),
    )
    rows = [(f"{n}", _boss_words(boss), "", "", "", "", "") for n, boss in enumerate(bosses, start=1)]
    flow.table(Table(columns, tuple(rows), least_row_mm=_ROW_MM))


def _boss_words(boss: Boss | None) -> str:
    if boss is None:
        return ""
    depth = "depth unknown" if boss.depth_mm is None else f"{boss.depth_mm:g} deep"
    return plain(
        f"{boss.name}: {_place(boss.at_mm)}; {boss.thread}; {depth}; \u2300{boss.face_diameter_mm:g}; "
        f"{boss.metal}"
    )


def _column_rows(job: PaperJob) -> list[Row]:
    column = job.bracket.column
    rows: list[Row] = [("", "what holds it, seen with your own eyes", column.held_by or "")]
    held = list(_held(job.bracket)) if job.file else []
    for words, told in held or [("bearing, lower", ""), ("bearing, upper", ""), ("column mount", "")]:
        rows.append(("e", f"{words}: station z", told))
    return [*rows, ("", "play of the shaft at each, sideways, by dial gauge", "")]


def _held(bracket: Bracket) -> Iterator[tuple[str, str]]:
    column = bracket.column
    if column.held_by == "bearings":
        for bearing in column.bearings:
            low, high = bearing.stiffness_n_per_mm
            yield plain(f"bearing {bearing.name}"), f"z {bearing.station_mm:g}; {_span(low, high)} N/mm"
    elif column.held_by == "donor mount" and column.mount is not None:
        low, high = column.mount.sideways_n_per_mm
        yield "column mount", f"z {column.mount.station_mm:g}; {_span(low, high)} N/mm"


def _bar_rows(job: PaperJob) -> list[Row]:
    bar = job.bracket.dash_bar if job.file else None
    section = wall = left = right = ends = ""
    seen = ("", "")
    if bar is not None:
        tube = bar.section
        section = outside_words(tube)
        wall, ends = f"{tube.wall_mm:g}", bar.material
        left, right = _place(bar.from_mm), _place(bar.to_mm)
        first, last = bar.ends
        seen = (first.kind, last.kind)
    return [
        ("i", "outside: diameter, or width and height", section),
        ("j", "wall (at an open end, or drilled and felt)", wall),
        ("", "material, and how it is known", plain(ends)),
        ("k, g", "left end: x, y, z from the shaft at z = 0", left),
        ("l, g", "right end: x, y, z", right),
        ("", "left end: welded, bolted flange, pinned, free; seen by", seen[0]),
        ("", "right end: the same; seen by", seen[1]),
    ]


def _plates_and_bolts(flow: Flow, job: PaperJob) -> None:
    plates = job.bracket.plates if job.file else ()
    rows: list[Row] = [
        ("", plain(f"{p.name}: thickness, by micrometer; material, by its certificate"),
         plain(f"{p.thickness_mm:g} mm {p.material or ''}"))
        for p in plates
    ] or [("", "plate: thickness, by micrometer; material, by its certificate", "")]  # fmt: skip
    _table(flow, "Plates", rows)
    flow.heading("Bolts: read the marking on the head", keep_mm=24.0)
    bolts = job.bracket.bolts if job.file else ()
    told = [
        (plain(b.name), _bolt_words(b),
         "", "", "", "")
        for b in bolts
    ] or [(f"{n}", "", "", "", "", "") for n in range(1, _BLANK_BOLTS + 1)]  # fmt: skip
    columns = (
        Column("bolt", 12),
        Column("in the file", 52),
        Column("size", 15),
        Column("grade", 15),
        Column("locking", 18),
        Column("hole, gap to face", 24),
    )
    flow.table(Table(columns, tuple(told), least_row_mm=_ROW_MM))


def _couple_rows(bracket: Bracket, *, blank: bool) -> list[Row]:
    couple = bracket.loads.couple
    rows: list[Row] = []
    if blank or isinstance(couple, TorqueMeters):
        out, into = (
            ("", "") if blank or not isinstance(couple, TorqueMeters) else (couple.output_nm, couple.input_nm)
        )
        rows += [
            ("", "torque meters: output torque", _nm(out)),
            ("", "torque meters: input torque", _nm(into)),
        ]
    if blank or isinstance(couple, LoadCell):
        cell = couple if isinstance(couple, LoadCell) else LoadCell()
        told = (
            "" if cell.force_n is None or cell.arm_mm is None else f"{cell.force_n:g} N at {cell.arm_mm:g} mm"
        )
        rows.append(("", "load cell: force, and its arm from the shaft axis", told))
    if blank or isinstance(couple, MotorTorque):
        motor = couple if isinstance(couple, MotorTorque) else MotorTorque()
        told = (
            ""
            if motor.motor_nm is None or motor.ratio is None
            else f"{motor.motor_nm:g} N.m x {motor.ratio:g}"
        )
        rows.append(("", "motor torque, and ratio of its reduction", told))
    if blank or isinstance(couple, StatedCouple):
        stated = couple if isinstance(couple, StatedCouple) else StatedCouple()
        by = "" if blank else f" {stated.by}"
        rows.append(("", "couple as stated, and by whom", plain(f"{_nm(stated.couple_nm)}{by}".strip())))
    return rows


def _nm(value: float | str | None) -> str:
    return f"{value:g} N.m" if isinstance(value, float) else ""


def _bolt_words(bolt: Bolt) -> str:
    grade, locking = bolt.grade or "grade blank", bolt.locking or "locking blank"
    return plain(f"{bolt.size} {grade}; {_torque(bolt.tightening_nm)}; {locking}")


def _torque(value: float | None) -> str:
    return "torque blank" if value is None else f"{value:.4g} N.m"


def _or(value: float | None, unit: str, job: PaperJob) -> str:
    return "" if value is None or not job.file else f"{value:g} {unit}"


def _place(place: tuple[float, float, float]) -> str:
    return ", ".join(f"{round(v, 2) + 0.0:g}" for v in place)


def _span(low: float, high: float) -> str:
    return f"{low:.0f}" if low == high else f"{low:.0f} to {high:.0f}"
