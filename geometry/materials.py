"""Sheet and boss metals: least guaranteed strength by thickness, stiffness, weight and least inside radius.

A thickness outside the table gives None, never a value carried over from its neighbour.

Glossary
--------
yield           least guaranteed yield stress, or 0.2 % proof stress where the metal has no yield point
inside radius   of a 90 deg fold across the grain, on the inner face
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from geometry.fixing import OwnMaterial

Kind = Literal["steel", "stainless", "aluminium", "cast aluminium", "cast iron"]
Step = tuple[float, float]
"""(up to and including this thickness in mm, value)."""

_MEMORY: Final = "from memory, to be verified"
_PRACTICE: Final = "common practice, no source"

STANDARD_THICKNESSES_MM: Final = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0)
STANDARD_THICKNESSES_SOURCE: Final = f"usual sheet and plate ({_MEMORY})"


class UnknownMaterialError(LookupError):
    """A material that is in neither table; the message suggests the nearest name."""


@dataclass(frozen=True)
class Material:
    """One metal. Its strength depends on thickness, so it is asked for with one."""

    name: str
    kind: Kind
    yield_steps: tuple[Step, ...]
    tensile_steps: tuple[Step, ...]
    radius_steps: tuple[Step, ...]
    """Least inside radius in mm, or as a multiple of the thickness if `radius_is_multiple`."""
    radius_is_multiple: bool
    from_mm: float
    """Least thickness the tables hold for."""
    elastic_modulus_mpa: float
    poisson: float
    density_kg_m3: float
    strength_source: str
    stiffness_source: str
    radius_source: str
    has_fatigue_limit: bool

    def yield_mpa(self, thickness_mm: float) -> float | None:
        """Return the least guaranteed yield in MPa at that thickness; None outside the table."""
        return self._at(self.yield_steps, thickness_mm)

    def tensile_mpa(self, thickness_mm: float) -> float | None:
        """Return the least guaranteed tensile strength in MPa at that thickness; None outside the table."""
        return self._at(self.tensile_steps, thickness_mm)

    def least_inside_radius_mm(self, thickness_mm: float) -> float | None:
        """Return the least inside radius in mm of a 90 deg fold at that thickness; None outside the table."""
        value = self._at(self.radius_steps, thickness_mm)
        if value is None or not self.radius_is_multiple:
            return value
        return value * thickness_mm

    @property
    def shear_modulus_mpa(self) -> float:
        """Return G = E / 2 (1 + nu)."""
        return self.elastic_modulus_mpa / (2.0 * (1.0 + self.poisson))

    @property
    def thickest_mm(self) -> float:
        """Return the greatest thickness with a known strength; infinite for own materials."""
        return min(self.yield_steps[-1][0], self.tensile_steps[-1][0])

    @property
    def sources(self) -> tuple[str, ...]:
        """Return the sources of strength, stiffness and inside radius."""
        return (self.strength_source, self.stiffness_source, self.radius_source)

    def _at(self, steps: tuple[Step, ...], thickness_mm: float) -> float | None:
        if not math.isfinite(thickness_mm) or thickness_mm < self.from_mm or thickness_mm <= 0.0:
            return None
        return next((value for up_to_mm, value in steps if thickness_mm <= up_to_mm), None)


@dataclass(frozen=True)
class BackingMetal:
    """What a plate rests on: a boss of the casing, or the metal of an anchor."""

    name: str
    elastic_modulus_mpa: tuple[float, float]
    """Low and high."""
    poisson: float
    source: str


def material(name: str, own: Iterable[OwnMaterial] = ()) -> Material:
    """Return the material of that name, the bracket's own before the table's.

    Case and spaces do not matter. UnknownMaterialError, suggesting the nearest name, if there is none.
    """
    key = _key(name)
    known = {_key(m.name): m for m in MATERIALS} | {_key(m.name): own_material(m) for m in own}
    if key in known:
        return known[key]
    near = difflib.get_close_matches(key[:40], known, n=1, cutoff=0.4)
    advice = f"did you mean {known[near[0]].name}? " if near else ""
    names = ", ".join(m.name for m in known.values())
    raise UnknownMaterialError(
        f"there is no material {name[:40]!r}; {advice}there are: {names}. "
        "Another one goes into the file's own materials, with the source of its figures"
    )


def in_table(name: str) -> bool:
    """Return whether the table has a material of that name, case and spaces aside."""
    return any(same_material(name, known.name) for known in MATERIALS)


def same_material(one: str, other: str) -> bool:
    """Return whether two names find the same material: case and spaces do not matter."""
    return _key(one) == _key(other)


def own_material(given: OwnMaterial) -> Material:
    """Return a material of the bracket's own, the same at every thickness, with the source it states."""
    radius = given.least_inside_radius_mm
    stated = f"stated in the file: {given.source}"
    return Material(
        name=given.name,
        kind=given.kind,
        yield_steps=((math.inf, given.yield_mpa),),
        tensile_steps=((math.inf, given.tensile_mpa),),
        radius_steps=() if radius is None else ((math.inf, radius),),
        radius_is_multiple=False,
        from_mm=0.0,
        elastic_modulus_mpa=given.elastic_modulus_mpa,
        poisson=given.poisson,
        density_kg_m3=given.density_kg_m3,
        strength_source=stated,
        stiffness_source=stated,
        radius_source="none stated" if radius is None else stated,
        has_fatigue_limit=given.kind == "steel",
    )


def backing_metal(name: str) -> BackingMetal:
    """Return the metal of a boss or an anchor; UnknownMaterialError names those there are."""
    for metal in BACKING_METALS:
        if metal.name == name:
            return metal
    known = ", ".join(m.name for m in BACKING_METALS)
    raise UnknownMaterialError(f"there is no boss or anchor metal {name[:40]!r}; there are: {known}")


def _steel(
    name: str, yields: tuple[Step, ...], tensiles: tuple[Step, ...], radii: tuple[Step, ...], source: str
) -> Material:
    return Material(
        name, "steel", yields, tensiles, radii, False, 0.0, 210_000.0, 0.3, 7850.0,
        source, _STIFFNESS, f"EN 10025-2, cold flanging across the grain ({_MEMORY})", True,
    )  # fmt: skip


def _multiple(
    name: str,
    kind: Kind,
    strength: tuple[tuple[Step, ...], tuple[Step, ...]],
    radii: tuple[Step, ...],
    stiffness: tuple[float, float, float],
    from_mm: float,
    strength_source: str,
    radius_source: str,
) -> Material:
    return Material(
        name, kind, *strength, radii, True, from_mm, *stiffness,
        strength_source, _STIFFNESS, radius_source, kind == "steel",
    )  # fmt: skip


_STIFFNESS: Final = f"EN 1993-1-1, EN 1993-1-4, EN 1999-1-1 ({_MEMORY})"
_EN_10025: Final = "EN 10025-2"
_EN_485: Final = "EN 485-2"
_KSI: Final = 6.894757
_THIN: Final = 2.999999
"""EN 10025-2 changes tensile strength at 3 mm, which itself belongs to the upper row."""

_S235_RADII: Final = (
    (1.5, 1.6), (2.5, 2.5), (3.0, 3.0), (4.0, 5.0), (5.0, 6.0), (6.0, 8.0), (7.0, 10.0), (8.0, 12.0),
    (10.0, 16.0), (12.0, 20.0),
)  # fmt: skip
_S275_RADII: Final = (
    (1.5, 2.0), (2.5, 3.0), (3.0, 4.0), (4.0, 5.0), (5.0, 8.0), (6.0, 10.0), (7.0, 12.0), (8.0, 16.0),
    (10.0, 20.0), (12.0, 25.0),
)  # fmt: skip
_S355_RADII: Final = (
    (1.5, 2.5), (2.5, 4.0), (3.0, 5.0), (4.0, 6.0), (5.0, 8.0), (6.0, 10.0), (7.0, 12.0), (8.0, 16.0),
    (10.0, 20.0), (12.0, 25.0),
)  # fmt: skip

MATERIALS: Final[tuple[Material, ...]] = (
    _steel("S235", ((16, 235), (40, 225)), ((40, 360),), _S235_RADII, _EN_10025),
    _steel("S275", ((16, 275), (40, 265)), ((_THIN, 430), (40, 410)), _S275_RADII, _EN_10025),
    _steel("S355", ((16, 355), (40, 345)), ((_THIN, 510), (40, 470)), _S355_RADII, _EN_10025),
    _multiple(
        "A36", "steel", (((40, 250),), ((40, 400),)), ((19, 1.5),), (210_000, 0.3, 7850), 0.0,
        "ASTM A36", f"ASTM A6 appendix X4 ({_MEMORY})",
    ),
    _multiple(
        "4130 normalised", "steel",
        (((0.187 * 25.4, 75 * _KSI), (12.7, 70 * _KSI)), ((0.187 * 25.4, 95 * _KSI), (12.7, 90 * _KSI))),
        ((6.35, 3.0),), (210_000, 0.3, 7850), 0.0,
        "sheet in the normalised condition, step at 0.187 in; the table stops at 1/2 in", _PRACTICE,
    ),
    _multiple(
        "1.4301", "stainless", (((75, 210),), ((75, 520),)), ((3, 1.0), (12, 2.0)), (200_000, 0.3, 7900), 0.0,
        f"EN 10088-2 ({_MEMORY})", _PRACTICE,
    ),
    _multiple(
        "5083-H111", "aluminium", (((6.3, 125), (50, 115)), ((6.3, 275), (50, 270))),
        ((0.5, 0.5), (3, 1.0), (6.3, 1.5), (12.5, 2.5)), (70_000, 0.33, 2660), 0.2,
        f"{_EN_485}; above 6.3 mm {_MEMORY}", f"{_EN_485}; below 1.5 mm and above 6 mm {_MEMORY}",
    ),
    _multiple(
        "5052-H32", "aluminium", (((12.5, 130),), ((12.5, 210),)),
        ((1.5, 1.0), (6, 1.5), (12.5, 2.5)), (70_000, 0.33, 2680), 0.2,
        f"{_EN_485}; its thickness limits {_MEMORY}", f"{_EN_485}; above 6 mm {_MEMORY}",
    ),
    _multiple(
        "6061-T6", "aluminium", (((12.5, 240),), ((12.5, 290),)),
        ((1.5, 2.5), (3, 3.5), (6, 4.0), (12.5, 5.0)), (70_000, 0.33, 2700), 0.4,
        f"{_EN_485} ({_MEMORY})", f"{_EN_485} ({_MEMORY})",
    ),
)  # fmt: skip

BACKING_METALS: Final[tuple[BackingMetal, ...]] = (
    BackingMetal("cast aluminium", (70_000.0, 75_000.0), 0.33, f"usual casting alloys ({_MEMORY})"),
    BackingMetal("steel", (210_000.0, 210_000.0), 0.3, _STIFFNESS),
    BackingMetal("cast iron", (100_000.0, 140_000.0), 0.26, f"grey iron ({_MEMORY})"),
)


def _key(name: str) -> str:
    return "".join(name.casefold().replace("normalized", "normalised").split())
