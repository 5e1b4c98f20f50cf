"""Findings about what else holds the column, and whether it can hold the shaft that the casing is on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.casing import Casing
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.shaft_line import ShaftLineError, joints_on_casing

ROUGHLY_MM: Final = 5.0
"""How far off the block that encloses a casing may be drawn (common practice, no source)."""

_Held = list[tuple[str, float]]
"""What holds the column, in words, and its station."""


def column_findings(bracket: Bracket) -> Iterator[Finding]:
    """Yield blanks about what else holds the column, and what is said to hold it where it cannot."""
    column = bracket.column
    if column.held_by is None:
        yield found("blank-column", "column")
    elif column.held_by == "bearings" and not column.bearings:
        yield found("blank-bearings", "column")
    elif column.held_by == "donor mount" and column.mount is None:
        yield found("blank-mount", "column")
    yield from _along_shaft(bracket)


def _along_shaft(bracket: Bracket) -> Iterator[Finding]:
    """Tell what holds the column beyond the wheel or a shaft joint, and bearings that are the casing's own.

    Each would take a pull at the wheel that the bracket has to hold.
    """
    column, wheel, casing = bracket.column, bracket.wheel, bracket.casing
    held = [(f"bearing {b.name}", b.station_mm) for b in column.bearings if column.held_by == "bearings"]
    if casing is not None:
        low, high = casing.along_shaft_mm
        for where, station in held:
            if low + ROUGHLY_MM < station < high - ROUGHLY_MM:
                yield found("bearing-in-casing", where, station_mm=station)
    if column.mount is not None and column.held_by == "donor mount":
        held.append((f"column mount {column.mount.name}", column.mount.station_mm))
    if casing is not None:
        yield from _beyond_joints(bracket, casing, held)
    if wheel is None or (casing is not None and wheel.station_mm <= casing.along_shaft_mm[1]):
        return  # told of the wheel
    for where, station in held:
        if station >= wheel.station_mm:
            yield found("bearing-beyond-wheel", where, station_mm=station, wheel_mm=wheel.station_mm)


def _beyond_joints(bracket: Bracket, casing: Casing, held: _Held) -> Iterator[Finding]:
    """Tell what holds a piece of shaft that the casing is not on: a joint passes no bending on."""
    joints = [(joint.name, joint.station_mm) for joint in bracket.shaft_joints]
    if bracket.installation.shaft is not None:
        try:
            measured = joints_on_casing(bracket.installation.shaft, casing.station_mm)
        except ShaftLineError:
            measured = ()  # said around the bracket
        joints += [(joint.name, joint.station_mm) for joint in measured]
    middle = sum(casing.along_shaft_mm) / 2.0
    for where, station in held:
        between = [j for j in joints if min(middle, station) < j[1] < max(middle, station)]
        if between:
            name, at = min(between, key=lambda joint: abs(joint[1] - middle))
            yield found("bearing-beyond-joint", where, station_mm=station, joint=name, joint_mm=at)
