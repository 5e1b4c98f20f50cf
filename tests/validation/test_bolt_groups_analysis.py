"""Published bolt groups through the whole analysis of a bracket.

Shigley, Mechanical Engineering Design, example 8-7 (geometry published, figures from memory, to be verified);
Bhandari, Design of Machine Elements, examples 7.3 and 7.4 (published); Steel Buildings in Europe, part 5,
example 3.4 (published). A thick plate on bolts to anchors, every connection slipped into a pin; the force
comes from the casing. The books take the plate as rigid and the bolts as equal; a plate of 60 mm is nearly
that, and 1 % is left for what it gives.
"""

import numpy as np

from geometry.loads import ExtraCase, Loads, StatedCouple
from solver.evaluation import loaded
from tests.brackets import bolt_group, solved_once
from tests.validation.reference import agrees

TOLERANCE = 0.01
COARSE_MM = 25.0

Places = list[tuple[float, float]]


def shears_kn(
    places: Places,
    force_n: tuple[float, float],
    at_mm: tuple[float, float],
    *,
    taken: str = "all slipped",
    couple_nm: float = 0.0,
    hole_mm: float = 18.0,
    pad_mm: float = 30.0,
    casing_places: Places | None = None,
    stiffer: float = 1.0,
) -> np.ndarray:
    """Shear of every bolt of the group, kN, under a force in its plane, computed by the analysis."""
    extra = ExtraCase(name="load", force_n=(*force_n, 0.0), at_mm=(*at_mm, 0.0), couple_nm=couple_nm)
    loads = Loads(couple=StatedCouple(couple_nm=1.0), pull_n=0, weight_g=0, extra=(extra,))
    bracket = bolt_group(
        places,
        hole_mm=hole_mm,
        pad_mm=pad_mm,
        loads=loads,
        stiffer=stiffer,
        casing_places_mm=casing_places or [(-12.0, 0.0), (12.0, 0.0)],
    )
    whole = solved_once(bracket, COARSE_MM)
    load = loaded(whole.states, whole.cases, 1.0)
    column = next(
        i for i, c in enumerate(load.columns) if c.case.name == "load, as listed" and c.taken == taken
    )
    rows = [load.forces.bolts.index(f"g{i}") for i in range(1, len(places) + 1)]
    return np.asarray(load.forces.shear_n[rows, column] / 1000.0)


def test_shigley_8_7_four_bolts() -> None:
    places: Places = [(75, 60), (75, -60), (-75, -60), (-75, 60)]
    shears = shears_kn(places, (0.0, -16_000.0), (425.0, 0.0))
    source = "Shigley example 8-7 (from memory, to be verified)"
    for shear, published, where in zip(
        shears, (20.97, 20.97, 14.79, 14.79), ("near", "near", "far", "far"), strict=True
    ):
        agrees(shear, published, TOLERANCE, source=source, name=f"through the analysis, {where} pair, kN")


def test_bhandari_7_3_four_bolts() -> None:
    places: Places = [(100, 75), (100, -75), (-100, -75), (-100, 75)]
    shears = shears_kn(places, (0.0, -10_000.0), (500.0, 0.0))
    source = "Bhandari example 7.3 (published)"
    agrees(shears.max(), 12.093, TOLERANCE, source=source, name="through the analysis, largest bolt, kN")
    agrees(shears.min(), 8.139, TOLERANCE, source=source, name="through the analysis, smallest bolt, kN")


def test_bhandari_7_4_three_in_line() -> None:
    # The casing's bolts stand beside the middle one.
    shears = shears_kn(
        [(75, 0), (0, 0), (-75, 0)], (0.0, -5_000.0), (305.0, 0.0), casing_places=[(0.0, 55.0), (0.0, -55.0)]
    )
    source = "Bhandari example 7.4 (published)"
    for shear, published, where in zip(shears, (11.833, 1.667, 8.5), ("near", "middle", "far"), strict=True):
        # A percentage of the group's load: the middle bolt is a small difference of large figures.
        scale = 8.5 if where == "middle" else None
        agrees(
            shear, published, TOLERANCE, source=source, name=f"through the analysis, {where}, kN", scale=scale
        )


def test_fin_plate_ten_bolts() -> None:
    # M16 in the holes of M20: equal bolts share a load alike, whatever their size. Ten bolts close together
    # are as stiff as 60 mm of steel; ten times its modulus is the book's rigid plate.
    places: Places = [(x, 70.0 * row) for x in (-30.0, 30.0) for row in range(-2, 3)]
    shears = shears_kn(
        places,
        (0.0, -350_000.0),
        (80.0, 0.0),
        hole_mm=22.0,
        pad_mm=37.0,
        stiffer=10.0,
        casing_places=[(0.0, 35.0), (0.0, -35.0)],
    )
    source = "Steel Buildings in Europe, part 5, example 3.4 (published)"
    agrees(shears.max(), 56.38, TOLERANCE, source=source, name="through the analysis, largest bolt, kN")


def test_couple_alone_and_what_spin_takes() -> None:
    """F = M r / sum r^2, and stuck footprints carry spin, which lowers the largest force by 1 to 3 %."""
    places: Places = [(75, 60), (75, -60), (-75, -60), (-75, 60)]
    by_hand = 1000e3 / (4 * np.hypot(75, 60)) / 1000.0
    slipped = shears_kn(places, (0.0, 0.0), (0.0, 0.0), couple_nm=1000.0)
    stuck = shears_kn(places, (0.0, 0.0), (0.0, 0.0), couple_nm=1000.0, taken="stuck")
    source = "M r / sum r2 (closed form)"
    for shear in slipped:
        agrees(shear, by_hand, TOLERANCE, source=source, name="pure couple on four bolts, each, kN")
    assert 0.97 < stuck.max() / slipped.max() < 0.995
