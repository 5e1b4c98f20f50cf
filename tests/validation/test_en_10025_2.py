"""EN 10025-2: structural steels. Strengths published, cold-flanging radii from memory, to be verified."""

import pytest

from geometry.materials import material
from tests.validation.reference import agrees

SOURCE = "EN 10025-2 (published)"
MEMORY = "EN 10025-2 (from memory, to be verified)"
YIELD_MPA = {"S235": (235, 225), "S275": (275, 265), "S355": (355, 345)}
TENSILE_MPA = {"S235": (360, 360), "S275": (430, 410), "S355": (510, 470)}
RADIUS_MM = {"S235": {3: 3, 5: 6, 6: 8, 8: 12}, "S355": {3: 5, 5: 8, 6: 10, 8: 16}}


@pytest.mark.parametrize("name", YIELD_MPA)
@pytest.mark.parametrize(("thickness_mm", "row"), [(2, 0), (16, 0), (16.1, 1), (40, 1)])
def test_yield(name: str, thickness_mm: float, row: int) -> None:
    computed = material(name).yield_mpa(thickness_mm)
    assert computed is not None
    agrees(computed, YIELD_MPA[name][row], 0.0, source=SOURCE, name=f"yield {name} {thickness_mm} mm, MPa")


@pytest.mark.parametrize("name", TENSILE_MPA)
@pytest.mark.parametrize(("thickness_mm", "row"), [(2.9, 0), (3, 1), (12, 1)])
def test_tensile(name: str, thickness_mm: float, row: int) -> None:
    computed = material(name).tensile_mpa(thickness_mm)
    assert computed is not None
    agrees(
        computed, TENSILE_MPA[name][row], 0.0, source=SOURCE, name=f"tensile {name} {thickness_mm} mm, MPa"
    )


@pytest.mark.parametrize("name", RADIUS_MM)
def test_least_inside_radius(name: str) -> None:
    for thickness_mm, radius_mm in RADIUS_MM[name].items():
        computed = material(name).least_inside_radius_mm(thickness_mm)
        assert computed is not None
        agrees(computed, radius_mm, 0.0, source=MEMORY, name=f"least radius {name} {thickness_mm} mm, mm")
