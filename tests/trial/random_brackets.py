"""Random but sensible brackets: what a careful builder might draw. Invented measures: they check no figure.

Four families, taken in turn: a flat plate, a plate with a folded foot, two straps, two plates bolted
together. Hole sizes follow ISO 273's medium row, edges keep 1.5 diameters or more, every blank is filled.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np

from geometry.bracket import Bracket
from geometry.findings import findings_of
from geometry.fold_map import FoldMap
from geometry.plate import Plate

HOLE_MM: Final = {"M6": 6.6, "M8": 9.0, "M10": 11.0}
TIGHTENING_NM: Final = {"M6": 9.0, "M8": 22.0, "M10": 44.0}
WASHER_MM: Final = {"M6": 12.0, "M8": 16.0, "M10": 20.0}
SHEETS_MM: Final = (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)
FRICTIONS: Final = (0.15, 0.2, 0.3, 0.4, 0.5)
PLACEMENT: Final = {"x_axis": [1, 0, 0], "y_axis": [0, 1, 0], "origin_on": "back"}
_FREE_MM: Final = 3.0
"""Between what two bolts clamp, or what one clamps and an edge, at least."""

Random = np.random.Generator


@dataclass
class _Draft:
    """A bracket while it is drawn."""

    random: Random
    size: str
    """Of every bolt."""
    friction: float
    """Of the clamped faces: bare, or blasted and coated for grip."""
    plates: list[dict[str, Any]] = field(default_factory=list)
    bosses: list[dict[str, Any]] = field(default_factory=list)
    bolts: list[dict[str, Any]] = field(default_factory=list)

    def number(self, low: float, high: float) -> float:
        """Return a number between two, to the tenth as a builder would write it."""
        return round(float(self.random.uniform(low, high)), 1)

    def chance(self, share: float) -> bool:
        """Return whether something happens that does so often."""
        return bool(self.random.random() < share)

    @property
    def clear_mm(self) -> float:
        """Return how far a hole stays from an edge."""
        return round(max(1.6 * HOLE_MM[self.size], WASHER_MM[self.size] / 2.0 + _FREE_MM), 1)

    def hole(self, name: str, at: tuple[float, float]) -> dict[str, Any]:
        """Return a bolt's hole."""
        return {"kind": "hole", "name": name, "centre_mm": list(at), "diameter_mm": HOLE_MM[self.size]}

    def bolt(self, plate: str, hole: str, joins: dict[str, Any]) -> None:
        """Add a bolt through a hole."""
        grade = str(self.random.choice(["8.8", "10.9"]))
        tightening = TIGHTENING_NM[self.size] * (1.05 if grade == "10.9" else 1.0)
        self.bolts.append(
            {
                "name": str(len(self.bolts) + 1),
                "size": self.size,
                "grade": grade,
                "plate": plate,
                "hole": hole,
                "joins": joins,
                "tightening_nm": round(tightening, 0),
                "face_friction": self.friction,
                "locking": "thread lock",
            }
        )

    def boss(self, name: str, at: tuple[float, float], face: float, z: float = 0.0) -> None:
        """Add a boss that looks toward the driver, or away from where z lies below the front."""
        self.bosses.append(
            {
                "name": name,
                "at_mm": [*at, z],
                "direction": [0, 0, -1 if z < 0 else 1],
                "thread": self.size,
                "depth_mm": 22,
                "metal": str(self.random.choice(["cast aluminium", "steel"])),
                "face_diameter_mm": face,
            }
        )

    def bracket(self, title: str, bar: dict[str, Any] | None) -> Bracket:
        """Return the bracket with its casing, column and loads."""
        number = self.number
        anchors = sorted({b["joins"]["anchor"] for b in self.bolts if b["joins"]["to"] == "anchor"})
        column: dict[str, Any] = {"held_by": "nothing"}
        if not self.chance(0.25):
            low = number(3000.0, 15000.0)
            stiffness = [low, low * 2.0]
            column = {
                "held_by": "bearings",
                "bearings": [
                    {"name": "lower", "station_mm": number(-260, -160), "stiffness_n_per_mm": stiffness},
                    {"name": "upper", "station_mm": number(240, 380), "stiffness_n_per_mm": stiffness},
                ],
            }
        return Bracket.model_validate(
            {
                "title": title,
                "plates": self.plates,
                "casing": {
                    "bosses": self.bosses,
                    "envelope": {"low_mm": [-62, -60, -130], "high_mm": [62, 60, 0]},
                    "mass_kg": number(3.0, 7.0),
                    "mass_centre_mm": [number(-10, 10), number(-10, 10), number(-80, -40)],
                },
                "column": column,
                "wheel": {"diameter_mm": 360, "station_mm": number(380, 440)},
                "rake_deg": number(15, 35),
                "bolts": self.bolts,
                "dash_bar": bar,
                "anchors": [{"name": name, "word": "a bulkhead, said for the trial"} for name in anchors],
                "loads": {
                    "couple": {"source": "stated", "couple_nm": number(15, 70), "by": "the trial"},
                    "other": {"lock": {"borne_by": "casing"}},
                },
            }
        )


def random_bracket(random: Random, family: int) -> Bracket:
    """Return a bracket of a family (any whole number; taken in turn) that nothing speaks against.

    Whatever a finding would stop or doubt is drawn again.
    """
    draw = _FAMILIES[family % len(_FAMILIES)]
    while True:
        draft = _Draft(random, str(random.choice(list(HOLE_MM))), float(random.choice(FRICTIONS)))
        bracket = draw(draft)
        if not any(f.bars_verdict for f in findings_of(bracket)):
            return bracket


def _flat(draft: _Draft) -> Bracket:
    """One flat plate square to the shaft, on two to four bosses, bolted to the bar or to anchors."""
    number = draft.number
    row = number(92.0, 120.0)
    holes = _bosses_round_shaft(draft, "plate")
    half, top = _row(draft, "plate", row, holes, number(34.0, 70.0), partner := _partner(draft))
    outline = _outline(draft, holes, half, top)
    draft.plates.append(_plate(draft, "plate", outline, [*holes, *_extras(draft, holes, outline)]))
    thickness = draft.plates[0]["thickness_mm"]
    return draft.bracket("flat plate", _bar((row, thickness + 20.0)) if partner == "dash bar" else None)


def _folded(draft: _Draft) -> Bracket:
    """One plate with its foot folded toward the driver, under the bar."""
    number = draft.number
    holes = _bosses_round_shaft(draft, "plate")
    thickness = float(draft.random.choice(SHEETS_MM[:-1]))
    radius = round(thickness * float(draft.random.uniform(1.0, 2.5)), 1)
    fold_at = number(78.0, 96.0)
    zone = np.pi / 2.0 * (radius + 0.42 * thickness)
    row = round(fold_at + zone / 2.0 + draft.clear_mm + 2.0, 1)
    half, top = _row(draft, "plate", row, holes, number(36.0, 72.0), "dash bar")
    outline = _outline(draft, holes, half, top, straight_from=fold_at - zone)
    plate = _plate(draft, "plate", outline, holes)
    plate["thickness_mm"] = thickness
    width = [at["at_mm"][0] for at in outline]
    plate["folds"] = [
        {
            "name": "foot",
            "from_mm": [min(width), fold_at],
            "to_mm": [max(width), fold_at],
            "angle_deg": 90.0,
            "direction": "up",
            "inside_radius_mm": radius,
        }
    ]
    draft.plates.append(plate)
    place = FoldMap(Plate.model_validate(plate)).to_space(np.array([[0.0, row, 0.0]]))[0]
    return draft.bracket("folded plate", _bar((float(place[1]) + 20.0, float(place[2]))))


def _straps(draft: _Draft) -> Bracket:
    """Two straps side by side, each with two bolts at the bar and one or two at the casing."""
    number, clear = draft.number, draft.clear_mm
    row, partner = number(84.0, 115.0), _partner(draft)
    apart = number(30.0, 48.0)
    thickness = float(draft.random.choice(SHEETS_MM))
    two = draft.chance(0.7)
    for side, name in ((-1.0, "left strap"), (1.0, "right strap")):
        x = side * apart
        half = number(clear + 6.0, 22.0 if clear < 14.0 else clear + 8.0)
        holes = []
        for number_of, y in enumerate(
            (number(-38.0, -24.0), number(8.0, 26.0)) if two else (number(-4, 20),)
        ):
            holes.append(draft.hole(f"boss {number_of}", (x, y)))
            draft.boss(f"{name} {number_of}", (x, y), 2.0 * clear - 2.0)
            draft.bolt(name, f"boss {number_of}", {"to": "boss", "boss": f"{name} {number_of}"})
        for number_of, y in enumerate((row - 11.0 - clear / 2.0, row + 11.0 + clear / 2.0)):
            if partner == "dash bar":
                y = row
                at = (round(x + (number_of - 0.5) * 2.0 * max(half - clear, clear / 1.9), 1), y)
            else:
                at = (x, round(y, 1))
            holes.append(draft.hole(f"top {number_of}", at))
            draft.bolt(name, f"top {number_of}", _joins(partner, f"{name} {number_of}"))
        xs, ys = zip(*(h["centre_mm"] for h in holes), strict=True)
        box = (min(xs) - clear, min(ys) - clear, max(xs) + clear, max(ys) + clear)
        corner = number(0.0, clear - 1.0)
        outline = [
            {"at_mm": list(at), "radius_mm": corner}
            for at in ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
        ]
        plate = _plate(draft, name, outline, holes)
        plate["thickness_mm"] = thickness
        draft.plates.append(plate)
    return draft.bracket("two straps", _bar((row, thickness + 20.0)) if partner == "dash bar" else None)


def _bolted(draft: _Draft) -> Bracket:
    """A casing plate, and on its front a bar plate bolted to it by two to four bolts."""
    number, clear = draft.number, draft.clear_mm
    holes = _bosses_round_shaft(draft, "casing plate")
    join = max(h["centre_mm"][1] for h in holes) + 2.0 * clear + number(0.0, 6.0)
    spread = number(2.0 * clear, 40.0)
    count = int(draft.random.integers(2, 4))
    joins = np.round(np.linspace(-spread, spread, count), 1)
    joining = [draft.hole(f"join {i}", (float(x), round(join, 1))) for i, x in enumerate(joins)]
    lower = [*holes, *joining]
    box = _box(lower, clear)
    thickness = float(draft.random.choice(SHEETS_MM[:-1]))
    plate = _plate(draft, "casing plate", _outline(draft, lower, box[2], box[3]), lower)
    plate["thickness_mm"] = thickness
    row = round(join + 2.0 * clear + number(4.0, 30.0), 1)
    upper = list(joining)
    half, top = _row(draft, "bar plate", row, upper, number(36.0, 60.0), partner := _partner(draft))
    width = max(half, spread + clear)
    outline = [
        {"at_mm": at, "radius_mm": number(0.0, clear - 1.0)}
        for at in (
            [-width, round(join - clear, 1)],
            [width, round(join - clear, 1)],
            [width, top],
            [-width, top],
        )
    ]
    other = _plate(draft, "bar plate", outline, upper)
    other["placement"] = {"origin_mm": [0, 0, thickness], **PLACEMENT}
    draft.plates += [plate, other]
    for i in range(count):
        draft.bolt("bar plate", f"join {i}", {"to": "hole", "plate": "casing plate", "opening": f"join {i}"})
    front = thickness + other["thickness_mm"]
    return draft.bracket("two plates bolted", _bar((row, front + 20.0)) if partner == "dash bar" else None)


_FAMILIES: Final[tuple[Callable[[_Draft], Bracket], ...]] = (_flat, _folded, _straps, _bolted)


def _partner(draft: _Draft) -> str:
    return "dash bar" if draft.chance(0.6) else "anchor"


def _joins(partner: str, name: str) -> dict[str, Any]:
    return {"to": "anchor", "anchor": name} if partner == "anchor" else {"to": "dash bar"}


def _bar(at: tuple[float, float]) -> dict[str, Any]:
    welded = {"kind": "welded", "seen_by": "the trial"}
    return {
        "from_mm": [-600, *at],
        "to_mm": [600, *at],
        "section": {"kind": "rectangular tube", "width_mm": 40, "height_mm": 40, "wall_mm": 3},
        "ends": [welded, welded],
    }


def _bosses_round_shaft(draft: _Draft, plate: str) -> list[dict[str, Any]]:
    """Two to four holes round the shaft, with their bosses and bolts, and the hole for the shaft."""
    count = int(draft.random.integers(2, 5))
    start = float(draft.random.uniform(0.0, 2.0 * np.pi))
    holes = []
    for i in range(count):
        angle = start + 2.0 * np.pi * i / count + float(draft.random.uniform(-0.25, 0.25))
        radius = draft.number(40.0, 58.0)
        at = (round(float(radius * np.cos(angle)), 1), round(float(radius * np.sin(angle)), 1))
        holes.append(draft.hole(f"boss {i}", at))
        draft.boss(f"boss {i}", at, 2.0 * draft.clear_mm - 2.0)
        draft.bolt(plate, f"boss {i}", {"to": "boss", "boss": f"boss {i}"})
    shaft = draft.number(30.0, 46.0)
    holes.append({"kind": "hole", "name": "shaft", "centre_mm": [0.0, 0.0], "diameter_mm": shaft})
    return holes


def _row(
    draft: _Draft, plate: str, row: float, holes: list[dict[str, Any]], half: float, partner: str
) -> tuple[float, float]:
    """Add a row of two to four holes with their bolts; return the half width and the top they ask for."""
    count = int(draft.random.integers(2, 5))
    while count > 2 and 2.0 * half / (count - 1) < 2.2 * draft.clear_mm:
        count -= 1
    for i, x in enumerate(np.linspace(-half, half, count)):
        holes.append(draft.hole(f"top {i}", (round(float(x), 1), row)))
        draft.bolt(plate, f"top {i}", _joins(partner, f"top {i}"))
    return round(half + draft.clear_mm, 1), round(row + draft.clear_mm, 1)


def _box(holes: list[dict[str, Any]], clear: float) -> tuple[float, float, float, float]:
    reach = [max(clear, h["diameter_mm"] / 2.0 + 6.0) for h in holes]
    at = [h["centre_mm"] for h in holes]
    return (
        round(min(p[0] - r for p, r in zip(at, reach, strict=True)), 1),
        round(min(p[1] - r for p, r in zip(at, reach, strict=True)), 1),
        round(max(p[0] + r for p, r in zip(at, reach, strict=True)), 1),
        round(max(p[1] + r for p, r in zip(at, reach, strict=True)), 1),
    )


def _outline(
    draft: _Draft, holes: list[dict[str, Any]], half: float, top: float, straight_from: float | None = None
) -> list[dict[str, Any]]:
    """A plate round its holes: its upper part as wide as the row asks, its lower as wide as the bosses."""
    left, low, right, _ = _box([h for h in holes if not h["name"].startswith("top")], draft.clear_mm)
    knee = draft.number(58.0, 70.0) if straight_from is None else min(straight_from, draft.number(50, 66))
    corner = draft.number(0.0, draft.clear_mm - 1.0)
    wide = max(half, right, -left)
    if draft.chance(0.3):
        left, right, half = -wide, wide, wide
    places = [
        ([left, low], corner),
        ([right, low], corner),
        ([right, min(knee, top - 30.0)], 0.0),
        (
            [half, top if straight_from is None and half == right else max(knee, top - 2.6 * draft.clear_mm)],
            0.0,
        ),
        ([half, top], corner / 2.0),
        ([-half, top], corner / 2.0),
        ([-half, max(knee, top - 2.6 * draft.clear_mm)], 0.0),
        ([left, min(knee, top - 30.0)], 0.0),
    ]
    if straight_from is not None:
        places[3] = ([half, straight_from], 0.0)
        places[6] = ([-half, straight_from], 0.0)
    kept: list[tuple[list[float], float]] = []
    for at, radius in places:
        rounded = [round(value, 1) for value in at]
        if not kept or kept[-1][0] != rounded:
            kept.append((rounded, radius))
    return [{"at_mm": at, "radius_mm": round(radius, 1)} for at, radius in kept]


def _extras(
    draft: _Draft, holes: list[dict[str, Any]], outline: list[dict[str, Any]]
) -> list[dict[str, Any]]:
    """Now and then a hole or a slot that lightens the plate, if it keeps clear of all else."""
    if not draft.chance(0.4):
        return []
    xs = [corner["at_mm"][0] for corner in outline]
    at = (draft.number(min(xs) / 2.0, max(xs) / 2.0), draft.number(62.0, 74.0))
    size = draft.number(8.0, 16.0)
    free = [
        float(np.hypot(h["centre_mm"][0] - at[0], h["centre_mm"][1] - at[1])) - h["diameter_mm"] / 2.0
        for h in holes
    ]
    if min(free) < size / 2.0 + draft.clear_mm + 6.0:
        return []
    if draft.chance(0.5):
        return [{"kind": "hole", "name": "light", "centre_mm": list(at), "diameter_mm": size}]
    slot = {
        "name": "light",
        "centre_mm": list(at),
        "length_mm": 1.7 * size,
        "width_mm": size,
        "angle_deg": 30,
    }
    return [{"kind": "slot", **slot}]


def _plate(
    draft: _Draft, name: str, outline: list[dict[str, Any]], openings: list[dict[str, Any]]
) -> dict[str, Any]:
    return {
        "name": name,
        "material": str(draft.random.choice(["S235", "S275", "S355"])),
        "thickness_mm": float(draft.random.choice(SHEETS_MM)),
        "outline": outline,
        "openings": openings,
        "placement": {"origin_mm": [0, 0, 0], **PLACEMENT},
        "cut_by": "laser",
    }
