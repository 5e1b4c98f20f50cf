"""Notes of steering lock, kerb strike and a unit that runs away or seizes; blank, none is counted. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from app.window.lists.field import Field, Kind, Line, Path, Piece
from geometry.bracket import Bracket
from geometry.other_loads import OtherLoads, SteeringLock

_STEM: Path = ("loads", "other")


def other_load_lines(bracket: Bracket) -> Iterator[Line]:
    """Yield a line for each of them."""
    other = bracket.loads.other
    yield _lock(other)
    yield _kerb(other)
    yield Line(
        "unit fault",
        (
            "If the unit runs away or seizes: its motor gives ",
            _field(("unit", "motor_nm"), "most torque of the motor", other.unit.motor_nm, unit="N.m"),
            " at most, times ",
            _field(("unit", "ratio"), "ratio of the unit", other.unit.ratio, "number"),
            ".",
        ),
    )


def other_load_blank(bracket: Bracket, load: str) -> Path:
    """Return where the first blank of a load that is half given is filled."""
    name = "unit" if load == "a unit's fault" else "kerb"
    part = getattr(bracket.loads.other, name)
    keys = [key for key in type(part).model_fields if key != "peak_nm" and getattr(part, key) is None]
    return (*_STEM, name, keys[0])


def _lock(other: OtherLoads) -> Line:
    lock = other.lock
    pieces: list[Piece] = [
        "Steering lock on the column, which bears ",
        _field(("lock", "torque_nm"), "torque of the steering lock", lock.torque_nm, unit="N.m"),
    ]
    if lock.torque_nm is not None:
        choices = get_args(SteeringLock.model_fields["borne_by"].annotation)
        path: Path = (*_STEM, "lock", "borne_by")
        held = Field((path,), "what holds the tube of the lock", lock.borne_by, "choice", choices=choices)
        pieces += [" against a tube that is held by the ", held]
    return Line("lock", (*pieces, "."))


def _kerb(other: OtherLoads) -> Line:
    kerb = other.kerb
    pieces: list[Piece] = [
        "Kerb strike: the unit gives a peak of ",
        _field(("kerb", "peak_nm"), "peak of a kerb strike", kerb.peak_nm, unit="N.m"),
    ]
    if kerb.peak_nm is None:
        pieces += [
            "; or its rotor of ",
            _field(("kerb", "rotor_kgcm2"), "moment of inertia of the rotor", kerb.rotor_kgcm2, "number"),
            " kg.cm2, geared ",
            _field(("kerb", "ratio"), "ratio from motor to shaft", kerb.ratio, "number"),
            " to 1, is stopped from ",
            _field(("kerb", "shaft_deg_per_s"), "speed of the shaft", kerb.shaft_deg_per_s, "number"),
            " deg/s of the shaft by a twist of ",
            _field(
                ("kerb", "shaft_nm_per_deg"),
                "stiffness of the shaft in twist",
                kerb.shaft_nm_per_deg,
                unit="N.m/deg",
            ),
        ]
    return Line("kerb", (*pieces, "."))


def _field(path: Path, spoken: str, value: object, kind: Kind = "quantity", unit: str = "") -> Field:
    return Field(((*_STEM, *path),), spoken, value, kind, unit, may_be_empty=True)
