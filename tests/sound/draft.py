"""A bracket while it is drawn at random: its sheets, and what they are joined with.

Invented measures: they check no figure.

Glossary
--------
sheet     a plate as it is drawn, still data
tag       a word for one feature of a bracket, such as `slot`, counted in the table of the trial
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from geometry.bolt_tables import BOLT_GRADES, BoltSize
from geometry.fold_map import FoldMap
from geometry.plate import Plate

Data = dict[str, Any]
Floats = NDArray[np.float64]
_T = TypeVar("_T")


@dataclass
class Draft:
    """A bracket while it is drawn."""

    random: np.random.Generator
    size: BoltSize
    """Of every bolt."""
    stout: bool = False
    """Whether it is drawn so that it may hold: thick, well bolted, lightly loaded."""
    inches: bool = False
    """Whether measures are eighths and sixteenths of an inch."""
    sheets: list[Data] = field(default_factory=list)
    bosses: list[Data] = field(default_factory=list)
    """In space; the casing's own axes come last."""
    anchors: list[Data] = field(default_factory=list)
    bolts: list[Data] = field(default_factory=list)
    welds: list[Data] = field(default_factory=list)
    bar: Data | None = None
    bar_spacer: Data | None = None
    """Of every bolt at the bar."""
    tags: set[str] = field(default_factory=set)

    def chance(self, share: float) -> bool:
        """Return whether something happens that does so often."""
        return bool(self.random.random() < share)

    def number(self, low: float, high: float) -> float:
        """Return a number between two, to the tenth of a millimetre or the sixteenth of an inch."""
        value = float(self.random.uniform(low, high))
        return round(round(value / 1.5875) * 1.5875, 4) if self.inches and high > 8.0 else round(value, 1)

    def count(self, low: int, high: int) -> int:
        """Return a whole number from `low` to `high`, both counted."""
        return int(self.random.integers(low, high + 1))

    def pick(self, items: Sequence[_T]) -> _T:
        """Return one of the items."""
        return items[int(self.random.integers(len(items)))]

    def tag(self, *words: str) -> None:
        """Note features."""
        self.tags.update(words)

    @property
    def hole_mm(self) -> float:
        """Return the diameter of a bolt's hole, of the medium row."""
        return self.size.hole_medium_mm

    @property
    def clear_mm(self) -> float:
        """Return how far a hole stays from an edge."""
        return round(max(1.55 * self.hole_mm, self.size.washer_outer_mm / 2.0 + 2.5), 1)

    def hole(self, name: str, at: tuple[float, float]) -> Data:
        """Return a bolt's opening: nearly always a hole, of the fine, medium or coarse row, else a slot."""
        centre = [round(at[0], 4), round(at[1], 4)]
        if self.chance(0.01):
            self.tag("bolt in a slot")
            width = self.hole_mm
            return {
                "kind": "slot",
                "name": name,
                "centre_mm": centre,
                "length_mm": round(1.4 * width, 2),
                "width_mm": width,
                "angle_deg": float(self.pick((0.0, 90.0, 35.0))),
            }
        rows = (self.hole_mm,) * 6 + (self.size.hole_fine_mm, self.size.hole_coarse_mm)
        return {"kind": "hole", "name": name, "centre_mm": centre, "diameter_mm": self.pick(rows)}

    def bolt(self, sheet: str, hole: str, joins: Data, **given: Any) -> None:  # noqa: ANN401 - data of a file
        """Add a bolt through a hole, with a preload that suits its grade."""
        grades = [g for g in BOLT_GRADES if g.system in ("any", self.size.system)]
        usual = [g for g in grades if g.name in ("8.8", "10.9", "grade 5", "grade 8")]
        grade = self.pick(usual if self.stout or self.chance(0.8) else grades)
        share = float(self.random.uniform(0.5, 0.66))
        preload = share * grade.proof_mpa * self.size.stress_area_mm2
        made: Data = {
            "name": str(len(self.bolts) + 1),
            "size": self.size.name,
            "grade": grade.name,
            "plate": sheet,
            "hole": hole,
            "joins": joins,
            "face_friction": float(self.pick((0.4, 0.5) if self.stout else (0.15, 0.2, 0.3, 0.4, 0.5))),
            "locking": self.pick(("thread lock", "prevailing nut", "lock plate", None, "")),
        }
        if self.chance(0.85):
            made["tightening_nm"] = round(0.18 * preload * self.size.diameter_mm / 1000.0, 1)
        else:
            self.tag("preload measured")
            made["preload_n"] = [round(0.9 * preload, 0), round(1.1 * preload, 0)]
        if self.chance(0.2):
            made["scatter"] = float(self.pick((0.0, 0.1, 0.35)))
            made["thread_friction"] = float(self.pick((0.08, 0.1, 0.16)))
        if self.chance(0.12):
            self.tag("washer of its own")
            inner = self.size.washer_inner_mm
            outer = self.size.washer_outer_mm * float(self.pick((1.0, 1.15)))
            made["washer"] = {"outer_mm": round(outer, 2), "inner_mm": inner, "thickness_mm": 2.0}
        elif self.chance(0.08):
            self.tag("no washer")
            made["washer"] = "none"
        if joins["to"] in ("dash bar", "anchor"):
            made["pad_diameter_mm"] = round(1.9 * self.clear_mm, 1) if self.chance(0.7) else None
        self.bolts.append(made | given)
        self.tag(f"grade {grade.name.removeprefix('grade ')}")


@dataclass(frozen=True)
class HoleInSpace:
    """Where a hole of a sheet stands in space."""

    back: Floats
    front: Floats
    frame: Floats
    """(3, 3) columns: the sheet's x, y and front normal there."""

    def mating(self, side: str) -> tuple[Floats, Floats]:
        """Return the centre of the face on that side, and the unit vector out of it."""
        if side == "front":
            return self.front, self.frame[:, 2]
        return self.back, -self.frame[:, 2]


def in_space(sheet: Data, at: Sequence[float]) -> HoleInSpace:
    """Return a flat place of a sheet in space; ShapeError where the sheet cannot be folded."""
    plate = Plate.model_validate(sheet)
    folded = FoldMap(plate)
    x, y = float(at[0]), float(at[1])
    back, front = folded.to_space(np.array([[x, y, 0.0], [x, y, plate.thickness_mm]]))
    return HoleInSpace(back, front, folded.frame_at(x, y))


def listed(vector: Floats) -> list[float]:
    """Return a place or direction as a file has it, rounded to what can be measured and no further off."""
    return [round(float(value), 9) + 0.0 for value in vector]
