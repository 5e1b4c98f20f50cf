"""Which column is what, in which unit and with which sign: asked once, kept for logs with the same names.

Glossary
--------
role        what a column holds: time, output, input, couple, force, arm, gauge, angle, speed
"""

from __future__ import annotations

import difflib
import hashlib
import math
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from app.files.data_folder import data_folder, data_place
from app.files.small_file import read_group, write_group
from app.riglog.dialect import Dialect, unit_in
from app.riglog.log_error import LogError

Role = Literal["time", "output", "input", "couple", "force", "arm", "gauge", "angle", "speed"]

UNIT_OF: Final[dict[Role, str]] = {
    "time": "s", "output": "N.m", "input": "N.m", "couple": "N.m", "force": "N", "arm": "mm", "gauge": "mm",
    "angle": "deg", "speed": "deg/s",
}  # fmt: skip
"""What each role is turned into."""
_TIMES_S: Final = {"s": 1.0, "sec": 1.0, "ms": 1e-3, "us": 1e-6, "min": 60.0, "h": 3600.0}
_SPEEDS: Final = {"deg/s": 1.0, "rad/s": 57.29577951308232, "rpm": 6.0, "rev/min": 6.0, "1/min": 6.0}
_MEANT_BY: Final[dict[str, Role]] = {
    "time": "time", "t": "time", "seconds": "time", "elapsed": "time", "output": "output", "out": "output",
    "input": "input", "in": "input", "couple": "couple", "force": "force", "cell": "force", "load": "force",
    "arm": "arm", "gauge": "gauge", "dial": "gauge", "deflection": "gauge", "movement": "gauge",
    "angle": "angle", "turn": "angle", "speed": "speed", "rate": "speed",
}  # fmt: skip
_ALONE: Final = ("t", "in", "out")
"""Words that mean a role only by themselves: `force in N` is no input."""
_FILE: Final = "rig_columns.json"
_MOST_KEPT: Final = 100


class Column(BaseModel):
    """What one role is read from."""

    model_config = ConfigDict(frozen=True, extra="ignore", allow_inf_nan=False)

    name: Annotated[str, Field(max_length=100)] = ""
    """Of the column; empty where the role is one figure for the whole log."""
    figure: float | None = None
    """In the role's own unit, such as an arm in mm."""
    unit: Annotated[str, Field(max_length=20)] = ""
    """As asked or as the log says; empty where nobody said yet."""
    sign: Literal[1, -1] = 1


class Columns(BaseModel):
    """Every role that is known, with its column."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    of: dict[Role, Column] = {}
    gauge_arm_mm: Annotated[float, Field(ge=1.0, le=10_000.0)] | None = None
    """From the shaft axis to the gauge, square to the way it reads."""

    def has(self, *roles: Role) -> bool:
        """Return whether all of these are known."""
        return all(role in self.of for role in roles)

    def questions(self) -> tuple[str, ...]:
        """Return what has to be asked before the log can be used, a sentence each."""
        return tuple(
            f"In which unit is column {column.name!r} ({role})? Say it once: --units {role}={UNIT_OF[role]}"
            for role, column in self.of.items()
            if column.name and not column.unit
        )


def guessed(dialect: Dialect) -> Columns:
    """Return the roles that the columns' own names tell beyond doubt, with the units the log gives."""
    found: dict[Role, list[int]] = {}
    for k, name in enumerate(dialect.names):
        words = re.findall(r"[a-z]+", re.sub(r"[\[(].*", "", name.casefold()))
        roles = {_MEANT_BY[w] for w in words if w in _MEANT_BY and (w not in _ALONE or len(words) == 1)}
        if len(roles) == 1:
            found.setdefault(roles.pop(), []).append(k)
    return Columns(
        of={
            role: Column(name=dialect.names[places[0]], unit=_log_unit(dialect, places[0], role))
            for role, places in found.items()
            if len(places) == 1
        }
    )


def asked(
    base: Columns,
    dialect: Dialect,
    columns: Mapping[str, str],
    units: Mapping[str, str],
    signs: Mapping[str, str],
) -> Columns:
    """Return what was known with what was said laid over it; LogError for a column or role there is none of.

    A role given a figure, such as arm_mm=250, has that figure in every row.
    """
    known = dict(base.of)
    for key, name in columns.items():
        role = _role(key)
        known[role] = _column(dialect, role, name.strip())
    for key, unit in units.items():
        role = _known(key, known, "unit")
        check_unit(role, unit)
        known[role] = known[role].model_copy(update={"unit": unit})
    for key, sign in signs.items():
        role = _known(key, known, "sign")
        if sign.strip() not in ("+", "-", "1", "-1", "+1"):
            raise LogError(f"The sign of {role} is + or -, not {sign!r}: say --signs {role}=-")
        known[role] = known[role].model_copy(update={"sign": -1 if "-" in sign else 1})
    return base.model_copy(update={"of": known})


def with_gauge_arm(columns: Columns, arm_mm: float | None) -> Columns:
    """Return the columns with the gauge's arm, if one is given; LogError for one that cannot be."""
    if arm_mm is None:
        return columns
    if not 1.0 <= arm_mm <= 10_000.0:
        raise LogError(
            f"A gauge {arm_mm:g} mm from the shaft axis is not between 1 and 10000 mm: measure it square to"
            " the way it reads."
        )
    return columns.model_copy(update={"gauge_arm_mm": arm_mm})


def check_unit(role: Role, unit: str) -> None:
    """Raise LogError if the role cannot be measured in that unit."""
    factor_of(role, unit)


def factor_of(role: Role, unit: str) -> float:
    """Return what a figure in that unit is multiplied by; LogError if it does not measure the role."""
    table = _TIMES_S if role == "time" else _SPEEDS if role == "speed" else None
    if table is not None:
        if unit.casefold() in table:
            return table[unit.casefold()]
        raise LogError(f"{unit!r} is no unit of {role} that is read: take one of {', '.join(table)}.")
    if role == "gauge" and unit.casefold() in ("um", "\u00b5m", "\u03bcm"):
        return 1e-3
    if unit == UNIT_OF[role]:
        return 1.0
    from geometry.units import UnitError, convert  # only now: what reads units takes a while to import

    try:
        return convert(1.0, unit, UNIT_OF[role])
    except UnitError as error:
        raise LogError(f"The unit of {role}: {error}.") from error


def fingerprint(dialect: Dialect) -> str:
    """Return what tells logs with the same columns from others."""
    text = "\n".join([*dialect.names, *dialect.units])
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def remembered(dialect: Dialect, folder: Path | None = None) -> Columns | None:
    """Return what was said of a log with the same names; None if nothing was, or it makes no sense now."""
    kept = read_group((folder or data_place()) / _FILE).get(fingerprint(dialect))
    try:
        columns = Columns.model_validate(kept)
    except ValidationError:
        return None
    sound = all(not column.name or column.name in dialect.names for column in columns.of.values())
    return columns if sound and columns.of else None


def remember(dialect: Dialect, columns: Columns, folder: Path | None = None) -> None:
    """Keep what was said for the next log with the same names; FilesError if it cannot be kept."""
    path = (folder or data_folder()) / _FILE
    kept = {key: value for key, value in read_group(path).items() if key != fingerprint(dialect)}
    newest = dict(list(kept.items())[-(_MOST_KEPT - 1) :])
    write_group(path, newest | {fingerprint(dialect): columns.model_dump(mode="json")}, "the rig's columns")


def unit_said_otherwise(dialect: Dialect, role: Role, column: Column) -> str:
    """Return the unit the log itself names where the column is read in one of another size; else empty."""
    if not column.name or not column.unit or column.name not in dialect.names:
        return ""
    own = _log_unit(dialect, dialect.names.index(column.name), role)
    same = not own or math.isclose(factor_of(role, own), factor_of(role, column.unit), rel_tol=1e-6)
    return "" if same else own


def _log_unit(dialect: Dialect, place: int, role: Role) -> str:
    unit = dialect.units[place] or unit_in(dialect.names[place])
    try:
        check_unit(role, unit)
    except LogError:
        return ""
    return unit


def _column(dialect: Dialect, role: Role, name: str) -> Column:
    if name in dialect.names:
        return Column(name=name, unit=_log_unit(dialect, dialect.names.index(name), role))
    folded = [one for one in dialect.names if one.casefold() == name.casefold()]
    if len(folded) == 1:
        return _column(dialect, role, folded[0])
    if role == "arm":
        figure = _figure(name)
        if figure is not None:
            return Column(figure=figure, unit="mm")
    near = difflib.get_close_matches(name, dialect.names, n=1, cutoff=0.5)
    advice = f"did you mean {near[0]!r}? " if near else ""
    raise LogError(f"There is no column {name!r}; {advice}there are: {', '.join(map(repr, dialect.names))}.")


def _figure(text: str) -> float | None:
    try:
        figure = float(text.replace(",", "."))
    except ValueError:
        return None
    if not 1.0 <= figure <= 10_000.0:
        raise LogError(f"An arm of {text} mm is not between 1 and 10000 mm: measure it from the shaft axis.")
    return figure


def _role(key: str) -> Role:
    word = re.sub(r"_(mm|nm|n|s|deg)$", "", key.strip().casefold())
    for role in UNIT_OF:
        if role == word:
            return role
    raise LogError(f"{key!r} is nothing a column can be; there are: {', '.join(UNIT_OF)}.")


def _known(key: str, known: Mapping[Role, Column], what: str) -> Role:
    role = _role(key)
    if role not in known:
        raise LogError(f"A {what} is given for {role}, but no column: say --columns {role}=NAME")
    return role
