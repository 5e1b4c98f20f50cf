import itertools
import math

import pytest

from geometry.fixing import OwnMaterial
from geometry.materials import (
    BACKING_METALS,
    MATERIALS,
    STANDARD_THICKNESSES_MM,
    UnknownMaterialError,
    backing_metal,
    material,
)

OWN = OwnMaterial(
    name="deck plate",
    kind="steel",
    yield_mpa=300,
    tensile_mpa=450,
    elastic_modulus_mpa=205_000,
    poisson=0.29,
    density_kg_m3=7850,
    source="mill certificate",
)


def test_spellings() -> None:
    assert material("s355").name == "S355"
    assert material("4130 Normalized").name == "4130 normalised"


def test_unknown_suggests_the_nearest() -> None:
    with pytest.raises(UnknownMaterialError, match="did you mean S235"):
        material("S234")
    with pytest.raises(LookupError, match="own materials"):
        material("")


def test_outside_the_table_is_none_and_never_carried_over() -> None:
    steel = material("S235")
    assert steel.yield_mpa(40.1) is None
    assert steel.tensile_mpa(40.1) is None
    assert steel.least_inside_radius_mm(12.1) is None
    for value in (0.0, -1.0, math.nan, math.inf):
        assert steel.yield_mpa(value) is None
    assert material("5083-H111").yield_mpa(0.1) is None
    assert steel.thickest_mm == 40


@pytest.mark.parametrize("metal", MATERIALS, ids=lambda metal: metal.name)
def test_each_row_is_in_order(metal) -> None:  # noqa: ANN001
    for thickness_mm in STANDARD_THICKNESSES_MM:
        low, high = metal.yield_mpa(thickness_mm), metal.tensile_mpa(thickness_mm)
        assert low is not None
        assert high is not None
        assert low < high
    for steps in (metal.yield_steps, metal.tensile_steps, metal.radius_steps):
        assert all(a[0] < b[0] for a, b in itertools.pairwise(steps))
    for steps in (metal.yield_steps, metal.tensile_steps):
        assert all(a[1] >= b[1] for a, b in itertools.pairwise(steps)), "thicker is never stronger"
    assert all(metal.sources)
    assert metal.shear_modulus_mpa == pytest.approx(metal.elastic_modulus_mpa / (2 + 2 * metal.poisson))


def test_only_ferritic_steels_have_a_fatigue_limit() -> None:
    assert {m.kind for m in MATERIALS if m.has_fatigue_limit} == {"steel"}


def test_own_material() -> None:
    own = material("Deck Plate", [OWN])
    assert own.yield_mpa(3) == 300
    assert own.tensile_mpa(80) == 450
    assert own.least_inside_radius_mm(3) is None
    assert "mill certificate" in own.strength_source
    assert own.elastic_modulus_mpa == 205_000


def test_own_material_comes_before_the_table() -> None:
    assert material("S235", [OWN.but(name="S235")]).yield_mpa(3) == 300


def test_own_inside_radius() -> None:
    assert material("deck plate", [OWN.but(least_inside_radius_mm=4.0)]).least_inside_radius_mm(3) == 4.0


def test_backing_metals() -> None:
    low, high = backing_metal("cast aluminium").elastic_modulus_mpa
    assert (low, high) == (70_000, 75_000)
    assert all(m.elastic_modulus_mpa[0] <= m.elastic_modulus_mpa[1] for m in BACKING_METALS)
    with pytest.raises(UnknownMaterialError, match="cast iron"):
        backing_metal("wood")
