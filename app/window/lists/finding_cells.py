"""At which cell each finding about a figure is said: where the figure was typed. No Qt."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from app.window.lists.blank_places import couple_reading
from app.window.lists.field import Path
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.part import Place

_FRICTION: Final = {"face friction": "face_friction", "thread friction": "thread_friction"}
_MATERIAL: Final = {
    "yield": "yield_mpa",
    "tensile strength": "tensile_mpa",
    "elastic modulus": "elastic_modulus_mpa",
    "density": "density_kg_m3",
}


def cell_remarks(bracket: Bracket, findings: Iterable[Finding]) -> dict[Path, str]:
    """Return what is said at cells, by the path of their value; the first finding of each cell is said."""
    remarks: dict[Path, str] = {}
    for finding in findings:
        place = _PLACES.get(finding.code)
        path = None if place is None else place(bracket, finding)
        if path is not None:
            remarks.setdefault(path, sentence(finding).removeprefix(f"{finding.where}: "))
    return remarks


def _couple(bracket: Bracket, finding: Finding) -> Path:
    return ("loads", "couple", couple_reading(bracket))


def _size(bracket: Bracket, finding: Finding) -> Path | None:
    what = str(finding.values.get("what", ""))
    if finding.where == "loads":
        return (
            "loads",
            {"the driver's pull": "pull_n", "the weight counted": "weight_g"}.get(what, "factor"),
        )
    if finding.where == "wheel":
        return ("wheel", "diameter_mm")
    if finding.where.startswith("boss "):
        name = "depth_mm" if "depth" in what else "face_diameter_mm"
        return ("casing", "bosses", finding.where.removeprefix("boss "), name)
    if finding.where.startswith("bolt "):
        return ("bolts", finding.where.removeprefix("bolt "), "length_mm")
    return ("dash_bar", "section")


def _far(bracket: Bracket, finding: Finding) -> Path | None:
    kind, _, name = finding.where.partition(" ")
    if finding.where in ("casing", "wheel"):
        return (finding.where, "station_mm")
    if kind == "bearing":
        return ("column", "bearings", name, "station_mm")
    if finding.where.startswith("column mount"):
        return ("column", "mount", "station_mm")
    return _farthest(bracket, finding.where, kind, name)


def _farthest(bracket: Bracket, where: str, kind: str, name: str) -> Path | None:
    """Return the one of the three numbers of a place that takes it so far away."""
    stem: Path
    if kind == "boss" and bracket.casing is not None:
        stem, place = ("casing", "bosses", name, "at_mm"), bracket.casing.boss(name).at_mm
    elif where == "casing, mass centre" and bracket.casing is not None:
        stem, place = ("casing", "mass_centre_mm"), bracket.casing.mass_centre_mm
    elif where == "casing, envelope" and bracket.casing is not None:
        stem, place = ("casing", "envelope", "high_mm"), bracket.casing.envelope.high_mm
    elif kind == "anchor" and (at := next((a.at_mm for a in bracket.anchors if a.name == name), None)):
        stem, place = ("anchors", name, "at_mm"), at
    elif bracket.dash_bar is not None and where == bracket.dash_bar.name:
        ends = {"from_mm": bracket.dash_bar.from_mm, "to_mm": bracket.dash_bar.to_mm}
        end = max(ends, key=lambda one: _reach(ends[one]))
        stem, place = ("dash_bar", end), ends[end]
    else:
        return None
    return (*stem, max(range(3), key=lambda axis: abs(place[axis])))


def _reach(place: Place) -> float:
    return max(abs(value) for value in place)


def _stiffness(bracket: Bracket, finding: Finding) -> Path:
    if finding.where.startswith("bearing "):
        return ("column", "bearings", finding.where.removeprefix("bearing "), "stiffness_n_per_mm")
    name = "along_n_per_mm" if finding.where.endswith("along") else "sideways_n_per_mm"
    return ("column", "mount", name)


def _of_bolt(name: str) -> Callable[[Bracket, Finding], Path]:
    return lambda _, finding: ("bolts", finding.where.removeprefix("bolt "), name)


def _weld_size(bracket: Bracket, finding: Finding) -> Path | None:
    name = finding.where.removeprefix("weld ")
    weld = next((w for w in bracket.welds if w.name == name), None)
    if weld is None:
        return None
    return ("welds", name, "leg_mm" if weld.throat_mm is None else "throat_mm")


def _weld_sides(bracket: Bracket, finding: Finding) -> Path:
    return ("welds", finding.where.removeprefix("weld "), "sides")


def _friction(bracket: Bracket, finding: Finding) -> Path:
    return ("bolts", finding.where.removeprefix("bolt "), _FRICTION[str(finding.values["what"])])


def _thickness(bracket: Bracket, finding: Finding) -> Path:
    return ("plates", finding.where.removeprefix("plate "), "thickness_mm")


def _material(bracket: Bracket, finding: Finding) -> Path:
    name = _MATERIAL.get(str(finding.values.get("what", "yield")), "yield_mpa")
    return ("materials", finding.where.removeprefix("material "), name)


_PLACES: Final[dict[str, Callable[[Bracket, Finding], Path | None]]] = {
    "couple-unit": _couple,
    "couple-unusual": _couple,
    "couple-zero": _couple,
    "couple-cancels": _couple,
    "mass-absurd": lambda *_: ("casing", "mass_kg"),
    "size-absurd": _size,
    "place-far": _far,
    "stiffness-absurd": _stiffness,
    "tightening-absurd": _of_bolt("tightening_nm"),
    "preload-absurd": _of_bolt("preload_n"),
    "friction-absurd": _friction,
    "thickness-absurd": _thickness,
    "bar-wall-thin": lambda *_: ("dash_bar", "section"),
    "pad-height": _of_bolt("pad_height_mm"),
    "pad-height-blank": _of_bolt("pad_height_mm"),
    "pad-slender": _of_bolt("pad_diameter_mm"),
    "bar-end-unseen": lambda _, finding: ("dash_bar", "ends", int(finding.values["end"]) - 1, "seen_by"),
    "bar-size-absurd": lambda *_: ("dash_bar", "to_mm", 0),
    "material-figure-absurd": _material,
    "material-strengths": _material,
    "weld-thin": _weld_size,
    "weld-too-large": _weld_size,
    "weld-size-twice": _weld_size,
    "weld-one-sided": _weld_sides,
    "weld-unseen": lambda _, finding: ("welds", finding.where.removeprefix("weld "), "seen_by"),
}
