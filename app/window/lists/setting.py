"""How a field's new value gets into the bracket, or waits until enough is typed for a new part. No Qt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from app.editing.refused import EditRefused
from app.editing.renames import (
    rename_anchor,
    rename_bolt,
    rename_boss,
    rename_material,
    rename_plate,
    rename_weld,
)
from app.window.lists.around_setting import grown_around, is_around, put_around
from app.window.lists.field import Drafts, Field, Path, put_all, taken_out
from app.window.lists.stays import STAYS, grown_stay, without_stay
from app.window.lists.weld_rows import AT_ENDS
from geometry.bracket import Bracket
from geometry.casing import Bearing, ColumnMount, Wheel
from geometry.fit_up import FitUp
from geometry.loads import Couple, Engine, LoadCell, MotorTorque, StatedCouple, TorqueMeters

SOURCES = ("stated", "torque meters", "load cell", "motor")
BEARING_PARTS = ("station_mm", "stiffness_n_per_mm")
MOUNT_PARTS = ("station_mm", "sideways_n_per_mm", "along_n_per_mm")
WHEEL_PARTS = ("diameter_mm", "station_mm")
_RENAMES: Final[dict[Path, Callable[[Bracket, str, str], Bracket]]] = {
    ("bolts",): rename_bolt,
    ("plates",): rename_plate,
    ("anchors",): rename_anchor,
    ("casing", "bosses"): rename_boss,
    ("materials",): rename_material,
    ("welds",): rename_weld,
}
"""Where names of parts stand, and how what names them follows a new one."""
FIT_LOOKED_AT: Final = "looked at"
ENGINE_PARTS = ("cylinders", "idle_rpm")


@dataclass(frozen=True)
class Setting:
    """What became of a value: the bracket with it, and what waits for more."""

    bracket: Bracket
    drafts: Drafts


def settle(bracket: Bracket, drafts: Drafts, field: Field, value: object) -> Setting:
    """Return the bracket with a field's new value, as far as it can be there yet.

    A bearing, mount or wheel that is not there yet comes into being with the last number it needs. Raises
    what `field.put` does, and EditRefused.
    """
    path = field.path
    chosen = _chosen(bracket, path, value)
    if chosen is not None:
        return Setting(chosen, drafts)
    value = _meant(path, value)
    if len(path) >= 3 and path[-1] == "name" and path[:-2] in _RENAMES:
        return Setting(_RENAMES[path[:-2]](bracket, str(path[-2]), str(value)), drafts)
    if is_around(path) and "+" not in path:
        return Setting(put_around(bracket, path, value), drafts)
    if "+" in path:
        return _drafted(bracket, drafts, path, value)
    if value is None and path[-1] == "station_mm" and path[:2] in (("column", "bearings"), STAYS):
        out = without_stay if path[:2] == STAYS else taken_out
        return Setting(out(bracket, path[:-1]), drafts)
    if value is None and path[:2] == ("loads", "engine"):
        return Setting(bracket.but(loads=bracket.loads.but(engine=None)), drafts)
    try:
        return Setting(put_all(bracket, field.paths, value), drafts)
    except KeyError as gone:
        raise EditRefused(f"{field.spoken}: {gone.args[0]}; look at the list again") from None


def _meant(path: Path, value: object) -> object:
    """Return what a choice of words stands for in the bracket."""
    if path == ("loads", "couple", "back_driving"):
        return value == "back-driving"
    if path[:1] == ("welds",) and path[-1] == "full_at_ends":
        return value == AT_ENDS[True]
    if path == ("loads", "couple", "by"):
        return value or ""
    return value


def other_source(couple: Couple, source: str) -> Couple:
    """Return a couple from another source: nothing read there is known yet.

    Only a statement keeps the figure, because stating it is what makes it one.
    """
    if source == couple.source:
        return couple
    match source:
        case "torque meters":
            return TorqueMeters()
        case "load cell":
            return LoadCell()
        case "motor":
            return MotorTorque()
        case _:
            return StatedCouple(couple_nm=couple.value_nm or None, by="")


def _chosen(bracket: Bracket, path: Path, value: object) -> Bracket | None:
    """Return the bracket with a group exchanged as a whole; None for a path that is no such choice."""
    if path == ("loads", "couple", "source"):
        couple = other_source(bracket.loads.couple, str(value))
        return bracket.but(loads=bracket.loads.but(couple=couple))
    if path == ("fit_up",):
        return bracket.but(fit_up=FitUp() if value == FIT_LOOKED_AT else None)
    return None


def _drafted(bracket: Bracket, drafts: Drafts, path: Path, value: object) -> Setting:
    given = {**drafts.given, path: value}
    if value is None:
        del given[path]
    stem = path[: path.index("+") + 1]
    mine = {str(key[-1]): what for key, what in given.items() if key[: len(stem)] == stem}
    grown = _grown(bracket, stem, mine)
    if grown is None:
        return Setting(bracket, Drafts(given))
    return Setting(grown, Drafts({key: what for key, what in given.items() if key[: len(stem)] != stem}))


def _grown(bracket: Bracket, stem: Path, given: dict[str, object]) -> Bracket | None:
    """Return the bracket with the new part, or None while numbers are missing."""
    if is_around(stem):
        return grown_around(bracket, stem, given)
    if stem == (*STAYS, "+"):
        return grown_stay(bracket, given)
    column = bracket.column
    if stem == ("column", "bearings", "+") and given.keys() >= set(BEARING_PARTS):
        bearing = Bearing.model_validate({"name": _bearing_name(bracket, given), **given})
        return bracket.but(column=column.but(bearings=(*column.bearings, bearing)))
    if stem == ("column", "mount", "+") and given.keys() >= set(MOUNT_PARTS):
        mount = ColumnMount.model_validate({"name": "donor mount", **given})
        return bracket.but(column=column.but(mount=mount))
    if stem == ("wheel", "+") and given.keys() >= set(WHEEL_PARTS):
        return bracket.but(wheel=Wheel.model_validate(given))
    if stem == ("loads", "engine", "+") and given.keys() >= set(ENGINE_PARTS):
        return bracket.but(loads=bracket.loads.but(engine=Engine.model_validate(given)))
    return None


def _bearing_name(bracket: Bracket, given: dict[str, object]) -> str:
    """Return `lower` for a first bearing below the casing, `upper` for one above, else a number."""
    taken = {bearing.name for bearing in bracket.column.bearings}
    station = float(str(given["station_mm"]))
    here = bracket.casing.station_mm if bracket.casing is not None else 0.0
    wanted = "lower" if station < here else "upper"
    if wanted not in taken:
        return wanted
    number = 2
    while f"{wanted} {number}" in taken:
        number += 1
    return f"{wanted} {number}"
