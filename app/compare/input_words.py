"""The inputs of a bracket as words and values, thing by thing, so that two can be held together.

Glossary
--------
thing   a plate, an opening, a fold line, a bolt, a boss, the casing, the dash bar, the column, the loads ...
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any, Final

from geometry.bracket import Bracket
from geometry.installation import Installation
from geometry.part import Part
from geometry.plate import Corner, Plate

Things = dict[str, dict[str, str]]
"""By what a thing is called: its inputs in words, by what each is called."""

_UNITS: Final = {
    "_n_per_mm": "N/mm",
    "_nm_per_deg": "N.m/deg",
    "_kg_m3": "kg/m3",
    "_mm2": "mm2",
    "_mm": "mm",
    "_m": "m",
    "_v": "V",
    "_a": "A",
    "_c": "degrees C",
    "_nm": "N.m",
    "_deg_per_s": "deg/s",
    "_kgcm2": "kg.cm2",
    "_deg": "deg",
    "_mpa": "MPa",
    "_kg": "kg",
    "_n": "N",
    "_g": "times its weight",
}
_WORDS: Final = {
    "held_by": "what else holds the column",
    "centre_mm": "middle",
    "at_mm": "place",
    "throat_mm": "throat",
    "leg_mm": "leg",
    "metal_tensile_mpa": "tensile strength of the weld metal",
    "by": "who states the couple",
    "pull_n": "pull at the wheel",
    "weight_g": "weight of casing and plates",
    "factor": "factor on the couple",
    "couple_uncertainty": "share by which the couple may be larger",
    "thickness_tolerance_mm": "how much thinner it may be",
    "tightening_nm": "tightening torque",
    "prevailing_nm": "prevailing torque of its nut",
    "joins": "partner",
    "outline": "outline",
    "corners": "outline",
    "couple_nm": "couple",
    "from_mm": "beginning",
    "to_mm": "end",
    "x_axis": "its x in space",
    "y_axis": "its y in space",
    "origin_mm": "its origin in space",
    "origin_on": "its origin lies on",
    "still_at_mm": "what stays while it folds",
    "tensile_mpa": "tensile strength",
    "seen_by": "word",
    "extra": "load cases added",
    "lock": "steering lock",
    "kerb": "kerb strike",
    "unit": "unit that seizes or runs away",
    "rotor_kgcm2": "inertia of the rotor",
    "shaft_deg_per_s": "speed of the shaft",
}
_PLAIN: Final = ("couple", "section", "placement", "other")
"""Parts whose inputs are called by their own words alone."""
_OF_PLATE: Final = ("name", "openings", "folds")
_OF_CASING: Final = ("bosses",)
_BLANK: Final = "blank"


def things_of(bracket: Bracket) -> Things:
    """Return every thing of a bracket with its inputs in words; what enters no result is left out."""
    things: Things = {}
    for plate in bracket.plates:
        things |= _of_plate(plate)
    for bolt in bracket.bolts:
        things[_called("bolt", bolt.name)] = dict(_inputs(bolt, ("name",)))
    for weld in bracket.welds:
        things[_called("weld", weld.name)] = dict(_inputs(weld, ("name",)))
    things |= _of_car(bracket)
    things["loads"] = dict(_inputs(bracket.loads, ()))
    things["loads"]["factor on the couple"] = f"{bracket.loads.couple_factor:g}"
    things["limits"] = dict(_inputs(bracket.limits, ()))
    return things


def _of_plate(plate: Plate) -> Things:
    called = _called("plate", plate.name)
    things = {called: dict(_inputs(plate, _OF_PLATE))}
    for opening in plate.openings:
        things[f"{opening.kind} {opening.name} of {called}"] = dict(_inputs(opening, ("name",)))
    for fold in plate.folds:
        things[f"fold {fold.name} of {called}"] = dict(_inputs(fold, ("name",)))
    return things


def _of_car(bracket: Bracket) -> Things:
    """Return what the bracket is fitted to."""
    things: Things = {}
    if bracket.casing is not None:
        things["casing"] = dict(_inputs(bracket.casing, _OF_CASING))
        for boss in bracket.casing.bosses:
            things[_called("boss", boss.name)] = dict(_inputs(boss, ("name",)))
    if bracket.dash_bar is not None:
        things["dash bar"] = dict(_inputs(bracket.dash_bar, ("name",)))
    for anchor in bracket.anchors:
        things[_called("anchor", anchor.name)] = dict(_inputs(anchor, ("name",)))
    for material in bracket.materials:
        things[_called("material", material.name)] = dict(_inputs(material, ("name",)))
    things["column"] = dict(_inputs(bracket.column, ()))
    if bracket.wheel is not None:
        things["wheel"] = dict(_inputs(bracket.wheel, ()))
    things["shaft"] = {"rake": _value(bracket.rake_deg, "deg")}
    for number, joint in enumerate(bracket.shaft_joints, 1):
        things[f"shaft joint {number}"] = dict(_inputs(joint, ()))
    if bracket.fit_up is not None:
        things["fit-up"] = dict(_inputs(bracket.fit_up, ()))
    if bracket.installation != Installation():
        things["around the bracket"] = dict(_inputs(bracket.installation, ()))
    return things


def _called(kind: str, name: str) -> str:
    return name if name.startswith(kind) else f"{kind} {name}"


def _inputs(part: Part, without: Iterable[str], of: str = "") -> Iterator[tuple[str, str]]:
    """Yield what each input is called and its value in words; parts within are taken apart."""
    for key in type(part).model_fields:
        if key in without:
            continue
        value: Any = getattr(part, key)
        words, unit = _words_of(key)
        called = f"{words} of {of}" if of else words
        if isinstance(value, Part) and key != "joins":
            yield from _inputs(value, (), "" if key in _PLAIN else words)
        elif isinstance(value, tuple) and value and isinstance(value[0], Part) and not _is_loop(value):
            for number, inner in enumerate(value, 1):
                name = getattr(inner, "name", "")
                yield from _inputs(inner, ("name",), f"{words.removesuffix('s')} {name or number}")
        else:
            yield called, _value(value, unit)


def _words_of(key: str) -> tuple[str, str]:
    """Return what an input is called, and its unit."""
    for ending, unit in _UNITS.items():
        if key.endswith(ending):
            return _WORDS.get(key, key.removesuffix(ending).replace("_", " ")), unit
    return _WORDS.get(key, key.replace("_", " ")), ""


def _is_loop(value: tuple[Any, ...]) -> bool:
    return isinstance(value[0], Corner)


def _value(value: Any, unit: str) -> str:  # noqa: ANN401 - whatever an input holds
    if value is None:
        return _BLANK
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        return f"{value:g} {unit}".rstrip()
    if isinstance(value, Part):
        return " ".join(str(v) for v in value.model_dump().values())
    if isinstance(value, tuple) and value and _is_loop(value):
        return f"{len(value)} corners ({_fingerprint(value)})"
    if value == ():
        return "none"
    if isinstance(value, tuple):
        return f"({', '.join(_value(v, '') for v in value)}) {unit}".rstrip()
    return re.sub(r"\s+", " ", str(value)).strip()


def _fingerprint(corners: tuple[Any, ...]) -> str:
    """Return the size over all of a loop's corners, which says more to a reader than their list."""
    xs, ys = [c.at_mm[0] for c in corners], [c.at_mm[1] for c in corners]
    return f"{max(xs) - min(xs):g} x {max(ys) - min(ys):g} mm"
