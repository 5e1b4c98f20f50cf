"""Bolt sizes and grades, each column with its source.

Glossary
--------
stress area     A_s, the area a bolt's thread pulls with
d2, d3          pitch and root diameter of the thread
dw              diameter of the face the head rests on
proof           stress under proof load, which the bolt bears without setting
alpha_v         share of its tensile strength a bolt carries in shear through the thread (EN 1993-1-8)
"""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from typing import Final, Literal

System = Literal["metric", "inch"]

_INCH_MM: Final = 25.4
_MEMORY: Final = "from memory, to be verified"

COLUMN_SOURCES: Final[dict[str, str]] = {
    "metric pitch": "ISO 261 and ISO 262",
    "metric stress area": "ISO 898-1:2013: pi/4 (d - 0.9382 P)^2",
    "metric d2, d3": "ISO 724 and ISO 68-1: d - 0.6495 P, d - 1.2269 P",
    "metric holes": "ISO 273",
    "metric washers": "ISO 7089",
    "metric dw": "VDI 2230 (2001 basis)",
    "metric heads": f"ISO 4014 ({_MEMORY})",
    "inch threads per inch": f"ASME B1.1 ({_MEMORY})",
    "inch stress area": "SAE J429: 0.7854 (d - 0.9743/n)^2 in2",
    "inch holes": f"ASME B18.2.8 close, normal, loose ({_MEMORY})",
    "inch washers": f"ASME B18.21.1 type A, narrow ({_MEMORY})",
    "inch heads": f"ASME B18.2.1 ({_MEMORY}); dw taken as 0.95 of the width across flats",
    "metric grades": "ISO 898-1:2013",
    "stainless grades": f"ISO 3506-1 ({_MEMORY})",
    "inch grade 5": "SAE J429",
    "inch grade 8": f"SAE J429 ({_MEMORY})",
    "alpha_v": "EN 1993-1-8 table 3.4; the lower of its two values for grades outside it",
}


class UnknownBoltError(LookupError):
    """A bolt size or grade that is in no table; the message suggests the nearest name."""


@dataclass(frozen=True)
class BoltSize:
    """One thread size, with the holes, washer and hexagon head that go with it."""

    name: str
    system: System
    diameter_mm: float
    pitch_mm: float
    hole_fine_mm: float
    hole_medium_mm: float
    hole_coarse_mm: float
    washer_inner_mm: float
    washer_outer_mm: float
    washer_thickness_mm: float
    head_across_flats_mm: float
    head_face_mm: float
    """dw."""
    head_height_mm: float

    @property
    def stress_area_mm2(self) -> float:
        """Return A_s: pi/4 (d - 0.9382 P)^2, or SAE J429's own formula for an inch thread."""
        share = 0.9382 if self.system == "metric" else 0.9743
        return math.pi / 4.0 * (self.diameter_mm - share * self.pitch_mm) ** 2

    @property
    def pitch_diameter_mm(self) -> float:
        """Return d2 = d - 0.6495 P."""
        return self.diameter_mm - 0.64952 * self.pitch_mm

    @property
    def root_diameter_mm(self) -> float:
        """Return d3 = d - 1.2269 P."""
        return self.diameter_mm - 1.22687 * self.pitch_mm

    @property
    def stress_diameter_mm(self) -> float:
        """Return ds = (d2 + d3) / 2, the diameter VDI 2230 computes the thread with."""
        return (self.pitch_diameter_mm + self.root_diameter_mm) / 2.0

    @property
    def head_mean_mm(self) -> float:
        """Return d_m, the mean of the head's widths across points and flats.

        1.05 times the width across flats: ISO 4014 allows points of 1.099 times the flats and more.
        """
        return 1.05 * self.head_across_flats_mm

    @property
    def sources(self) -> dict[str, str]:
        """Return the source of each column of this size's row."""
        prefix = f"{self.system} "
        return {
            column.removeprefix(prefix): source
            for column, source in COLUMN_SOURCES.items()
            if column.startswith(prefix) and "grade" not in column
        }


@dataclass(frozen=True)
class BoltGrade:
    """One strength grade of bolts."""

    name: str
    system: System | Literal["any"]
    tensile_mpa: float
    """Least tensile strength the bolt's own standard guarantees."""
    yield_mpa: float
    """Least 0.2 % proof stress Rp0.2; the proof stress, which is lower, where the source gives no other."""
    proof_mpa: float
    alpha_v: float
    design_tensile_mpa: float
    """f_ub as EN 1993-1-8 table 3.1 rounds it, or the tensile strength for grades outside that table."""
    in_joint_rules: bool
    """Whether EN 1993-1-8 covers the grade."""
    norm: str
    source: str


def bolt_size(name: str) -> BoltSize:
    """Return the size of that name, such as M8, M8x1 or 5/16-18; UnknownBoltError suggests the nearest."""
    key = _size_key(name)
    if key in _SIZES_BY_KEY:
        return _SIZES_BY_KEY[key]
    near = _nearest_sizes(key)
    raise UnknownBoltError(_unknown("bolt size", name, key, _SIZE_NAMES, near))


def bolt_grade(name: str) -> BoltGrade:
    """Return the grade of that name, such as 8.8, grade 5 or A2-70; UnknownBoltError suggests the nearest."""
    key = _grade_key(name)
    if key in _GRADES_BY_KEY:
        return _GRADES_BY_KEY[key]
    raise UnknownBoltError(_unknown("bolt grade", name, key, _GRADE_NAMES))


def grade_mismatch(size: BoltSize, grade: BoltGrade) -> str:
    """Return a sentence if bolts of that size are not made to that grade's standard; empty if they are."""
    if grade.system in ("any", size.system):
        return ""
    other = "8.8 or 10.9" if size.system == "metric" else "grade 5 or grade 8"
    article = "a" if size.system == "metric" else "an"
    return (
        f"{size.name} is {article} {size.system} size, {grade.name} ({grade.norm}) is for {grade.system} "
        f"bolts: read the marking on the head; {other} would fit"
    )


def _metric(
    name: str,
    diameter: float,
    pitch: float,
    holes: tuple[float, float, float],
    washer: tuple[float, float, float],
    head: tuple[float, float, float],
) -> BoltSize:
    return BoltSize(name, "metric", diameter, pitch, *holes, *washer, *head)


def _inch(
    name: str,
    threads_per_inch: int,
    diameter: float,
    holes: tuple[float, float, float],
    washer: tuple[float, float, float],
    head: tuple[float, float],
) -> BoltSize:
    flats, height = head
    rest = (diameter, 1.0 / threads_per_inch, *holes, *washer, flats, 0.95 * flats, height)
    return BoltSize(name, "inch", *(value * _INCH_MM for value in rest))


# diameter: (holes fine, medium, coarse), (washer d1, d2, h), (across flats, dw, head height)
_METRIC_ROWS: Final = {
    5: ((5.3, 5.5, 5.8), (5.3, 10.0, 1.0), (8.0, 6.88, 3.5)),
    6: ((6.4, 6.6, 7.0), (6.4, 12.0, 1.6), (10.0, 8.88, 4.0)),
    8: ((8.4, 9.0, 10.0), (8.4, 16.0, 1.6), (13.0, 11.63, 5.3)),
    10: ((10.5, 11.0, 12.0), (10.5, 20.0, 2.0), (16.0, 14.63, 6.4)),
    12: ((13.0, 13.5, 14.5), (13.0, 24.0, 2.5), (18.0, 16.63, 7.5)),
    14: ((15.0, 15.5, 16.5), (15.0, 28.0, 2.5), (21.0, 19.64, 8.8)),
    16: ((17.0, 17.5, 18.5), (17.0, 30.0, 3.0), (24.0, 22.49, 10.0)),
}
_COARSE_PITCH: Final = {5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0}
_FINE_PITCH: Final = {8: 1.0, 10: 1.25, 12: 1.25, 14: 1.5, 16: 1.5}

# name: diameter, holes close, normal, loose, (washer d1, d2, h), (across flats, head height)
_INCH_ROWS: Final = {
    "1/4": (0.25, (0.266, 0.281, 0.297), (0.281, 0.625, 0.065), (0.4375, 0.156)),
    "5/16": (0.3125, (0.328, 0.344, 0.359), (0.344, 0.688, 0.065), (0.5, 0.203)),
    "3/8": (0.375, (0.391, 0.406, 0.422), (0.406, 0.812, 0.065), (0.5625, 0.234)),
    "7/16": (0.4375, (0.453, 0.469, 0.484), (0.469, 0.922, 0.065), (0.625, 0.281)),
    "1/2": (0.5, (0.531, 0.562, 0.609), (0.531, 1.062, 0.095), (0.75, 0.312)),
}
_COARSE_THREADS: Final = {"1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14, "1/2": 13}
_FINE_THREADS: Final = {"1/4": 28, "5/16": 24, "3/8": 24, "7/16": 20, "1/2": 20}

BOLT_SIZES: Final[tuple[BoltSize, ...]] = (
    *(_metric(f"M{d}", d, _COARSE_PITCH[d], *row) for d, row in _METRIC_ROWS.items()),
    *(_metric(f"M{d}x{p:g}", d, p, *_METRIC_ROWS[d]) for d, p in _FINE_PITCH.items()),
    *(_inch(f"{name}-{n}", n, *_INCH_ROWS[name]) for name, n in _COARSE_THREADS.items()),
    *(_inch(f"{name}-{n}", n, *_INCH_ROWS[name]) for name, n in _FINE_THREADS.items()),
)
"""Metric coarse, metric fine, inch coarse, inch fine; each by rising diameter."""

_KSI: Final = 6.894757
_ISO: Final = "ISO 898-1:2013"
_SAE: Final = "SAE J429"
STAINLESS_NORM: Final = "ISO 3506-1"

BOLT_GRADES: Final[tuple[BoltGrade, ...]] = (
    BoltGrade("4.6", "metric", 400, 240, 225, 0.6, 400, True, _ISO, f"{_ISO} ({_MEMORY})"),
    BoltGrade("5.6", "metric", 500, 300, 280, 0.6, 500, True, _ISO, f"{_ISO} ({_MEMORY})"),
    BoltGrade("8.8", "metric", 800, 640, 580, 0.6, 800, True, _ISO, f"{_ISO}, up to M16"),
    BoltGrade("10.9", "metric", 1040, 940, 830, 0.5, 1000, True, _ISO, _ISO),
    BoltGrade("12.9", "metric", 1220, 1100, 970, 0.5, 1200, False, _ISO, _ISO),
    BoltGrade(
        "A2-70", "any", 700, 450, 450, 0.5, 700, False, STAINLESS_NORM,
        f"{STAINLESS_NORM} ({_MEMORY}); it gives no proof stress, Rp0.2 stands for it",
    ),
    BoltGrade(
        "grade 5", "inch", 120 * _KSI, 85 * _KSI, 85 * _KSI, 0.5, 120 * _KSI, False, _SAE,
        f"{_SAE}, 1/4 to 1 in; its proof stress stands for yield",
    ),
    BoltGrade(
        "grade 8", "inch", 150 * _KSI, 120 * _KSI, 120 * _KSI, 0.5, 150 * _KSI, False, _SAE,
        f"{_SAE} ({_MEMORY}); its proof stress stands for yield",
    ),
)  # fmt: skip

FACE_FRICTION: Final[dict[str, tuple[str, float]]] = {
    "A": ("blasted bare, loose rust removed, no pits", 0.5),
    "B": ("blasted, sprayed with aluminium or zinc or zinc silicate paint", 0.4),
    "C": ("cleaned by wire brush or flame, loose rust removed", 0.3),
    "D": ("as rolled", 0.2),
}
"""Friction of clamped faces by class: how they were treated, and the slip factor."""
FACE_FRICTION_SOURCE: Final = f"EN 1090-2:2008 table 18; how the faces are treated: {_MEMORY}"


def _size_key(name: str) -> str:
    key = (
        re.sub(r"[\s\"\u2033]+", "", name.casefold())
        .replace("\u00d7", "x")
        .replace("*", "x")
        .replace(",", ".")
    )
    if series := re.fullmatch(r"(unc|unf)?(\d+/\d+)(-\d+)?(unc|unf)?", key):
        return _inch_key(series[2], series[3] or "", {series[1], series[4]} - {None})
    if re.fullmatch(r"m\d+x[\d.]+", key):
        diameter, pitch = key.split("x")
        with_pitch = pitch.rstrip("0").rstrip(".") if "." in pitch else pitch
        coarse = _COARSE_PITCH.get(int(diameter[1:]))
        return diameter if coarse is not None and with_pitch == f"{coarse:g}" else f"{diameter}x{with_pitch}"
    return key


def _inch_key(diameter: str, threads: str, series: set[str]) -> str:
    """Return the key of an inch size, its threads as its series has them where they are not said.

    A size whose threads are not those of the series it names is none: it keeps the series in its key.
    """
    if len(series) > 1:
        return f"{diameter}{threads}uncunf"
    known = {"unc": _COARSE_THREADS, "unf": _FINE_THREADS}
    for name in series:
        usual = known[name].get(diameter)
        if usual is None or threads not in ("", f"-{usual}"):
            return f"{diameter}{threads}{name}"
        return f"{diameter}-{usual}"
    return diameter + threads


def _grade_key(name: str) -> str:
    key = re.sub(r"[\s_]+", "", name.casefold()).replace(",", ".")
    return re.sub(r"^sae(j429)?(grade|gr\.?)?", "grade", key).removeprefix("class")


def _nearest_sizes(key: str) -> tuple[str, ...] | None:
    """Return the sizes of a diameter; where the table leaves it out, the coarse ones next below and above.

    None of a diameter beyond the table's ends; None if no diameter can be read.
    """
    match = re.match(r"m([\d.]{1,6})(?![\d.])|(\d{1,3})/(\d{1,3})(?!\d)", key)
    if match is None:
        return None
    try:
        diameter_mm = float(match[1] or _INCH_MM * int(match[2]) / int(match[3]))
    except (ValueError, ZeroDivisionError):
        return ()
    system = "metric" if key.startswith("m") else "inch"
    sizes = sorted((s for s in BOLT_SIZES if s.system == system), key=lambda s: (s.diameter_mm, -s.pitch_mm))
    same = tuple(s.name for s in sizes if abs(s.diameter_mm - diameter_mm) < 1e-6)
    below = [s.diameter_mm for s in sizes if s.diameter_mm < diameter_mm]
    above = [s.diameter_mm for s in sizes if s.diameter_mm > diameter_mm]
    if same or not (below and above):
        return same
    coarse = {s.diameter_mm: s.name for s in reversed(sizes)}
    return coarse[below[-1]], coarse[above[0]]


_ALIKE: Final = 0.6
"""Share of its letters that a name must have in common with one that is advised: no other size will do."""


def _unknown(
    word: str, name: str, key: str, known: dict[str, str], near: tuple[str, ...] | None = None
) -> str:
    shown = name if len(name) <= 40 else name[:40] + "..."
    spelled = difflib.get_close_matches(key[:40], known, n=1, cutoff=_ALIKE)
    likely = tuple(known[one] for one in spelled) if near is None else near
    advice = f"did you mean {' or '.join(likely)}? " if likely else ""
    return f"there is no {word} {shown!r} in the table; {advice}the table has: {', '.join(known.values())}"


_SIZES_BY_KEY: Final = {_size_key(size.name): size for size in BOLT_SIZES}
_SIZE_NAMES: Final = {key: size.name for key, size in _SIZES_BY_KEY.items()}
_GRADES_BY_KEY: Final = {_grade_key(grade.name): grade for grade in BOLT_GRADES}
_GRADE_NAMES: Final = {key: grade.name for key, grade in _GRADES_BY_KEY.items()}
