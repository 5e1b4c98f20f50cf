"""The notes on what holds the column besides the bracket, the wheel and the shaft's joints. No Qt."""

from __future__ import annotations

from collections.abc import Iterator

from app.window.lists.field import Drafts, Field, Line, Path, Piece
from app.window.lists.off_default import off_default
from geometry.bracket import Bracket
from geometry.casing import Column

HELD_BY = ("nothing", "bearings", "donor mount")


def column_line(bracket: Bracket, drafts: Drafts) -> Line:
    """Return the note on what else holds the column: the question without a default."""
    column = bracket.column
    held = Field(
        (("column", "held_by"),),
        "what else holds the column",
        column.held_by,
        "choice",
        choices=HELD_BY,
        blank=column.held_by is None,
    )
    match column.held_by:
        case None:
            words: tuple[Piece, ...] = (" holds the column: nothing, bearings or the donor's mount.",)
        case "nothing":
            words = (" holds the column: the bracket takes the whole moment of a pull.",)
        case "bearings":
            words = (" hold the column", *_bearings(column, drafts), ".")
        case _:
            words = (" holds the column", *_mount(column, drafts), ".")
    return Line("column", ("Besides the bracket, ", held, *words))


def wheel_line(bracket: Bracket, drafts: Drafts) -> Line:
    """Return the note on the driver's pull and the wheel it acts at."""
    pull = bracket.loads.pull_n
    usual, looser = off_default(pull, 300.0, higher_is_looser=False)
    stem: Path = ("wheel",) if bracket.wheel is not None else ("wheel", "+")
    diameter, station = (
        getattr(bracket.wheel, name) if bracket.wheel is not None else drafts.get((*stem, name))
        for name in ("diameter_mm", "station_mm")
    )
    return Line(
        "wheel",
        (
            "Pull ",
            Field((("loads", "pull_n"),), "pull at the wheel", pull, unit="N", usual=usual, looser=looser),
            " each way at a wheel ",
            _figure((*stem, "diameter_mm"), "diameter of the wheel", diameter),
            " across, at z ",
            _figure((*stem, "station_mm"), "station of the wheel", station),
            ".",
        ),
    )


def shaft_joint_lines(bracket: Bracket) -> Iterator[Line]:
    """Yield a note on each universal joint of the shaft."""
    for joint in bracket.shaft_joints:
        path: Path = ("shaft_joints", joint.name)
        yield Line(
            f"shaft joint {joint.name}",
            (
                f"Shaft joint {joint.name} at z ",
                Field(((*path, "station_mm"),), f"station of {joint.name}", joint.station_mm, unit="mm"),
                " bends ",
                Field(((*path, "angle_deg"),), f"angle of {joint.name}", joint.angle_deg, unit="deg"),
                " toward ",
                Field(((*path, "plane_deg"),), f"direction of {joint.name}", joint.plane_deg, unit="deg"),
                " about the shaft.",
            ),
        )


def _bearings(column: Column, drafts: Drafts) -> Iterator[Piece]:
    for number, bearing in enumerate(column.bearings):
        path: Path = ("column", "bearings", bearing.name)
        yield f"{';' if number else ':'} {bearing.name} at z "
        yield Field(
            ((*path, "station_mm"),),
            f"station of bearing {bearing.name}; emptied, it is taken out",
            bearing.station_mm,
            unit="mm",
            may_be_empty=True,
        )
        yield ", "
        yield Field(
            ((*path, "stiffness_n_per_mm"),),
            f"stiffness of bearing {bearing.name}, low to high",
            bearing.stiffness_n_per_mm,
            "range",
            "N/mm",
        )
    yield "; another at z " if column.bearings else ": the first at z "
    missing = not column.bearings
    stem: Path = ("column", "bearings", "+")
    station = drafts.get((*stem, "station_mm"))
    yield Field(
        ((*stem, "station_mm"),),
        "station of another bearing",
        station,
        unit="mm",
        blank=missing and station is None,
        instead="none",
        may_be_empty=True,
    )
    stiffness = drafts.get((*stem, "stiffness_n_per_mm"))
    if missing or station is not None or stiffness is not None:
        yield ", stiffness "
        yield _stiffness((*stem, "stiffness_n_per_mm"), "stiffness of another bearing", stiffness)


def _mount(column: Column, drafts: Drafts) -> Iterator[Piece]:
    there = column.mount is not None
    stem: Path = ("column", "mount") if there else ("column", "mount", "+")
    station, sideways, along = (
        getattr(column.mount, name) if there else drafts.get((*stem, name))
        for name in ("station_mm", "sideways_n_per_mm", "along_n_per_mm")
    )
    yield " at z "
    yield _figure((*stem, "station_mm"), "station of the donor's mount", station)
    yield ", sideways "
    yield _stiffness((*stem, "sideways_n_per_mm"), "sideways stiffness of the donor's mount", sideways)
    yield ", along "
    yield _stiffness((*stem, "along_n_per_mm"), "stiffness of the donor's mount along the shaft", along)


def _figure(path: Path, spoken: str, value: object) -> Field:
    return Field((path,), spoken, value, unit="mm", blank=value is None)


def _stiffness(path: Path, spoken: str, value: object) -> Field:
    return Field((path,), f"{spoken}, low to high", value, "range", "N/mm", blank=value is None)
