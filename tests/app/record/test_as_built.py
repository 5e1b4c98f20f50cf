"""What was measured goes into a second bracket, and every difference is told."""

from __future__ import annotations

import pytest

from app.record.as_built import as_built
from app.record.record import Measured, MeasuredHole, MeasuredThickness, MeasuredTorque
from tests.app.record.examples import locked_bracket, settled_record

BRACKET = locked_bracket()


def built(**measured: object):  # type: ignore[no-untyped-def]  # noqa: ANN201
    return as_built(BRACKET, settled_record().but(measured=Measured.model_validate(measured)))


def test_nothing_measured_or_all_as_drawn_is_the_same_bracket() -> None:
    assert built().bracket is BRACKET
    same = built(
        thicknesses=(MeasuredThickness(plate="front", thickness_mm=6.0),),
        holes=(MeasuredHole(plate="front", opening="h1", centre_mm=(40.0, 30.003)),),
        torques=(MeasuredTorque(bolt="bolt 1", tightening_nm=22.0),),
    )
    assert same.bracket is BRACKET
    assert not same.differs


def test_each_measured_value_takes_the_place_of_the_drawn_one() -> None:
    found = built(
        thicknesses=(MeasuredThickness(plate="front", thickness_mm=5.7),),
        holes=(MeasuredHole(plate="front", opening="h1", centre_mm=(40.3, 29.6)),),
        torques=(MeasuredTorque(bolt="bolt 1", tightening_nm=15.0),),
    )
    plate = found.bracket.plate("front")
    assert plate.thickness_mm == 5.7
    assert plate.opening("h1").centre_mm == (40.3, 29.6)  # type: ignore[union-attr]
    assert found.bracket.bolt("bolt 1").tightening_nm == 15.0
    assert found.differences == (
        "plate front is 5.7 mm thick, drawn 6",
        "hole h1 of plate front is 0.50 mm off its place (+0.30 along x, -0.40 along y)",
        "bolt bolt 1 is tightened with 15 N.m, drawn 22 N.m",
    )
    assert BRACKET.plate("front").thickness_mm == 6.0


def test_a_name_that_could_steer_a_screen_is_spelled_out() -> None:
    """Found with files of every kind: a tab in a hole's name went into the open items as it was."""
    found = built(holes=(MeasuredHole(plate="front", opening="\t=1", centre_mm=(1.0, 2.0)),))
    (words,) = found.misfits
    assert words.isprintable()
    assert "=1 is noted of plate front, which there is not" in words


def test_a_measured_torque_goes_before_a_stated_preload() -> None:
    stated = BRACKET.with_bolt(BRACKET.bolts[0].but(preload_n=(15e3, 16e3)))
    record = settled_record().but(
        measured=Measured(torques=(MeasuredTorque(bolt="bolt 1", tightening_nm=15.0),))
    )
    found = as_built(stated, record)
    assert found.bracket.bolts[0].preload_n is None
    assert "preload stated in its place no longer counts" in found.differences[0]


@pytest.mark.parametrize("read", [152.4, 0.236])
def test_a_thickness_in_another_unit_is_asked_about_and_not_judged(read: float) -> None:
    """6 typed as inches is 152.4 mm, which would pass anything; 6 mm are 0.236 in."""
    found = built(thicknesses=(MeasuredThickness(plate="front", thickness_mm=read),))
    assert not found.differs
    (words,) = found.misfits
    assert words.startswith(f"plate front is noted as {read:g} mm thick where 6 is drawn: mm for inches")


def test_of_several_thicknesses_of_one_plate_the_thinnest_counts() -> None:
    """A sheet is measured at several places; whatever was read last, its thinnest place decides."""
    for read in ((5.2, 6.0), (6.0, 5.2), (5.2, 5.7, 7.5)):
        found = built(thicknesses=tuple(MeasuredThickness(plate="front", thickness_mm=mm) for mm in read))
        assert found.bracket.plate("front").thickness_mm == 5.2
        assert found.differences == ("plate front is 5.2 mm thick, drawn 6",)
        assert not found.misfits


def test_two_readings_of_one_bolt_or_hole_that_differ_are_settled_by_nobody_here() -> None:
    torques = tuple(MeasuredTorque(bolt="bolt 1", tightening_nm=nm) for nm in (9.0, 22.0))
    holes = tuple(
        MeasuredHole(plate="front", opening="h1", centre_mm=at) for at in ((44.0, 30.0), (40.0, 30.0))
    )
    found = built(torques=torques, holes=holes)
    assert found.bracket is BRACKET
    assert found.misfits == (
        "the place of hole h1 of plate front is noted more than once, each time otherwise: leave the one"
        " that is so",
        "the torque of bolt bolt 1 is noted more than once, each time otherwise: leave the one that is so",
    )
    twice = built(torques=(torques[0], torques[0]))
    assert twice.bracket.bolt("bolt 1").tightening_nm == 9.0
    assert len(twice.differences) == 1
    assert not twice.misfits
