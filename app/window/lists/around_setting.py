"""How a value around the bracket gets into it: groups and parts come into being with what they need."""

from __future__ import annotations

from typing import Final

from app.window.lists.field import Path, put_all, taken_out
from geometry.bracket import Bracket
from geometry.installation import (
    Collapse,
    JointInLine,
    KeptClear,
    Room,
    ShaftLine,
    ShaftPart,
    Wiring,
)
from geometry.part import Part
from geometry.tube_clamp import TubeClamp

GROUPS: Final[dict[str, type[Part]]] = {
    "shaft": ShaftLine,
    "wiring": Wiring,
    "collapse": Collapse,
    "room": Room,
}
PARTS: Final[dict[str, type[Part]]] = {
    "joints": JointInLine,
    "parts": ShaftPart,
    "kept_clear": KeptClear,
    "clamps": TubeClamp,
}
NEEDED: Final[dict[str, tuple[str, ...]]] = {
    "joints": ("name",),
    "parts": ("name", "stations_mm"),
    "kept_clear": ("name", "low_mm", "high_mm"),
    "clamps": ("name", "stations_mm"),
}


def is_around(path: Path) -> bool:
    """Return whether a path leads around the bracket."""
    return path[:1] == ("installation",)


def with_group(bracket: Bracket, group: str) -> Bracket:
    """Return the bracket with that group there, blank if nobody has said anything of it yet."""
    if getattr(bracket.installation, group) is not None:
        return bracket
    return bracket.but(installation=bracket.installation.but(**{group: GROUPS[group]()}))


def put_around(bracket: Bracket, path: Path, value: object) -> Bracket:
    """Return the bracket with a value around it; a part whose name is emptied is taken out.

    Raises what `field.put` does.
    """
    bracket = with_group(bracket, str(path[1]))
    if value is None and path[-1] == "name":
        return taken_out(bracket, path[:-1])
    if value is None and path[-1] == "places_mm":
        value = ()
    made = put_all(bracket, (path,), value)
    return _with_joints(made) if path[-1] == "places_mm" else made


def grown_around(bracket: Bracket, stem: Path, given: dict[str, object]) -> Bracket | None:
    """Return the bracket with a new part of a list around it; None while something it needs is missing."""
    group, parts = str(stem[1]), str(stem[-2])
    if not given.keys() >= set(NEEDED[parts]):
        return None
    bracket = with_group(bracket, group)
    around = bracket.installation
    holder = around if group == parts else getattr(around, group)
    made = (*getattr(holder, parts), PARTS[parts].model_validate(given))
    if group == parts:
        return bracket.but(installation=around.but(**{parts: made}))
    return bracket.but(installation=bracket.installation.but(**{group: holder.but(**{parts: made})}))


def _with_joints(bracket: Bracket) -> Bracket:
    """Return the bracket with as many joints as its measured places leave room for."""
    line = bracket.installation.shaft
    if line is None or not line.places_mm:
        return bracket
    count = max(len(line.places_mm) - 2, 0)
    taken = {joint.name for joint in line.joints}
    new = (JointInLine(name=str(n)) for n in range(1, count + 1) if str(n) not in taken)
    joints = (*line.joints, *new)[:count]
    return bracket.but(installation=bracket.installation.but(shaft=line.but(joints=joints)))
