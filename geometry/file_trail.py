"""Where things are in the data of a bracket file, for a person and for the program."""

from __future__ import annotations

import types
from typing import Any, Final, Union, get_args, get_origin

from pydantic_core import ErrorDetails

from geometry.bracket import Bracket
from geometry.file_text import Trail
from geometry.part import Part

LIST_WORDS: Final = {
    "plates": "plate",
    "bolts": "bolt",
    "welds": "weld",
    "openings": "opening",
    "folds": "fold line",
    "bosses": "boss",
    "anchors": "anchor",
    "bearings": "bearing",
    "shaft_joints": "shaft joint",
    "materials": "material",
    "extra": "load case",
    "variants": "variant",
    "outline": "outline corner",
    "corners": "corner",
    "ends": "end",
    "check_list": "line",
    "photographs": "photograph",
    "conditions": "condition",
    "thicknesses": "thickness",
    "holes": "hole",
    "torques": "torque",
    "play": "play",
    "proof": "proof",
    "joints": "shaft joint",
    "parts": "shaft part",
    "kept_clear": "block kept clear",
}
"""What one entry of a list is called."""

_TAGS: Final = ("kind", "to", "source")


def where_of(data: Any, trail: Trail) -> str:  # noqa: ANN401 - data is anything JSON holds
    """Return in words where a trail leads: names where there are names, else the place counted from one."""
    words: list[str] = []
    here = data
    for i, key in enumerate(trail):
        before = trail[i - 1] if i else ""
        here = _step(here, key)
        if isinstance(key, int):
            word = LIST_WORDS.get(str(before), str(before).replace("_", " "))
            name = here.get("name") if isinstance(here, dict) else None
            if isinstance(here, dict) or before in LIST_WORDS:
                words[-1:] = [
                    f"{word} {name}" if isinstance(name, str) and name.strip() else f"{word} number {key + 1}"
                ]
        else:
            words.append(key)
    return ", ".join(words) or "file"


def trail_of(data: Any, detail: ErrorDetails) -> Trail:  # noqa: ANN401 - data is anything JSON holds
    """Return where a refusal is in the data.

    The model's own trail also holds the names of alternatives, left out here.
    """
    trail: list[str | int] = []
    here = data
    tag_passed = False
    for i, key in enumerate(detail["loc"]):
        last = i == len(detail["loc"]) - 1
        if isinstance(here, dict):
            is_tag = not tag_passed and key in [here.get(tag) for tag in _TAGS] and not last
            if is_tag or (key not in here and not (last and detail["type"] == "missing")):
                tag_passed = tag_passed or is_tag
                continue
        elif not (isinstance(here, list) and isinstance(key, int) and key < len(here)):
            continue
        trail.append(key)
        here = _step(here, key)
        tag_passed = False
    return tuple(trail)


def fields_at(data: Any, trail: Trail, root: type[Part] = Bracket) -> list[str]:  # noqa: ANN401 - any JSON
    """Return the keys that are known where a trail leads."""
    here = root
    held = data
    for key in trail:
        held = _step(held, key)
        if isinstance(key, int):
            continue
        if key not in here.model_fields:
            return []
        kinds = _parts_in(here.model_fields[key].annotation)
        if isinstance(held, dict):
            tags = {held.get(tag) for tag in _TAGS}
            kinds = [k for k in kinds if tags & _tags_of(k)] or kinds
        if not kinds:
            return []
        here = kinds[0]
    return list(here.model_fields)


def _parts_in(annotation: Any) -> list[type[Part]]:  # noqa: ANN401 - annotations have no common type
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return [annotation]
    if get_origin(annotation) in (Union, types.UnionType, tuple) or get_args(annotation):
        return [part for inner in get_args(annotation) for part in _parts_in(inner)]
    return []


def _tags_of(part: type[Part]) -> set[Any]:
    return {part.model_fields[tag].default for tag in _TAGS if tag in part.model_fields}


def from_the_end(trail: Trail) -> tuple[tuple[int, str], ...]:
    """Order trails: later places of a list before earlier ones, what is held before its holder."""
    return (*((-key, "") if isinstance(key, int) else (0, key) for key in trail), (1, ""))


def value_at(data: Any, trail: Trail) -> Any:  # noqa: ANN401 - data is anything JSON holds
    """Return what a trail leads to; None if it leads nowhere."""
    for key in trail:
        data = _step(data, key)
    return data


def _step(here: Any, key: str | int) -> Any:  # noqa: ANN401 - data is anything JSON holds
    if isinstance(here, dict):
        return here.get(key)
    if isinstance(here, list) and isinstance(key, int) and key < len(here):
        return here[key]
    return None
