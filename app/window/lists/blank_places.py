"""Where the blanks are that stand before a verdict, so that one can be led from each to the next. No Qt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from app.window.lists.field import Path
from app.window.lists.other_load_lines import other_load_blank
from app.window.lists.setting import BEARING_PARTS, MOUNT_PARTS, WHEEL_PARTS
from app.window.selection import Kind, Pick
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.loads import LoadCell, MotorTorque, StatedCouple, TorqueMeters

MISSING: Final[dict[str, Path]] = {
    "no-plates": ("plates",),
    "no-casing": ("casing",),
    "no-bosses": ("casing", "bosses"),
    "bolt-bar-missing": ("dash_bar",),
    "no-bolts": ("bolts",),
    "casing-unheld": ("bolts",),
}
"""Parts without which nothing can be analysed, and what of the bracket they are."""
_NO_WORD: Final[dict[str, Path]] = {"couple-no-word": ("loads", "couple", "by")}
"""What somebody must stand for by name, and where the name goes."""

_IN_LISTS: Final[dict[str, Kind]] = {
    "bolts": "bolt",
    "plates": "plate",
    "welds": "weld",
    "materials": "material",
    "anchors": "anchor",
}


@dataclass(frozen=True)
class BlankPlace:
    """One blank: what is missing, in a sentence, and where it is filled."""

    sentence: str
    path: Path


def blank_places(bracket: Bracket, findings: Iterable[Finding]) -> tuple[BlankPlace, ...]:
    """Return where each blank among the findings is filled, in their order."""
    return tuple(
        BlankPlace(sentence(finding), _path(bracket, finding))
        for finding in findings
        if finding.is_blank or finding.code in MISSING or finding.code in _NO_WORD
    )


def pick_of(path: Path) -> Pick | None:
    """Return what is selected when a value of that path is looked at; None where nothing drawn is."""
    match path:
        case (str(group), str(name), *_) if group in _IN_LISTS:
            return Pick(_IN_LISTS[group], name)
        case ("plates" | "casing" | "dash_bar" | "bolts",) | ("casing", "bosses"):
            return None  # there is none of it yet
        case ("dash_bar", *_):
            return Pick("dash bar")
        case ("casing", "bosses", str(name), *_):
            return Pick("boss", name)
        case ("casing", *_):
            return Pick("casing")
        case ("column", "bearings", str(name), *_) if name != "+":
            return Pick("bearing", name)
        case _:
            return None


def couple_reading(bracket: Bracket) -> str:
    """Return the name of the first reading the couple lacks, of its first reading if it lacks none."""
    couple = bracket.loads.couple
    wanted: dict[type, tuple[str, ...]] = {
        StatedCouple: ("couple_nm",),
        TorqueMeters: ("output_nm", "input_nm"),
        LoadCell: ("force_n", "arm_mm"),
        MotorTorque: ("motor_nm", "ratio"),
    }
    names = wanted[type(couple)]
    return next((name for name in names if getattr(couple, name) is None), names[0])


def _path(bracket: Bracket, finding: Finding) -> Path:
    simple: dict[str, Path] = {
        "blank-column": ("column", "held_by"),
        "blank-bearings": ("column", "bearings", "+", BEARING_PARTS[0]),
        "blank-mount": ("column", "mount", "+", MOUNT_PARTS[0]),
        "blank-wheel": ("wheel", "+", WHEEL_PARTS[0]),
        "blank-rake": ("rake_deg",),
    }
    for elsewhere in (MISSING, _NO_WORD):
        if finding.code in elsewhere:
            return elsewhere[finding.code]
    if finding.code in simple:
        return simple[finding.code]
    if finding.code == "blank-other-load":
        return other_load_blank(bracket, str(finding.values["load"]))
    in_bolts = {
        "blank-grade": "grade",
        "blank-preload": "tightening_nm",
        "blank-friction": "face_friction",
    }
    if finding.code in in_bolts:
        return ("bolts", finding.where.removeprefix("bolt "), in_bolts[finding.code])
    if finding.code == "blank-weld-size":
        return ("welds", finding.where.removeprefix("weld "), "throat_mm")
    if finding.code == "blank-material":
        return ("plates", finding.where.removeprefix("plate "), "material")
    if finding.code == "blank-bar-end":
        return ("dash_bar", "ends", int(finding.values["end"]) - 1, "bending_nm_per_deg")
    return ("loads", "couple", couple_reading(bracket))
