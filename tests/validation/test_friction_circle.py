"""Friction of bolt groups by the cone programme, against the plastic limit (closed form)."""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from solver.bolt_group import friction_limit_nmm
from solver.friction import slip_couple_nm
from solver.grip import Grip
from solver.load_cases import NMM_PER_NM, UNIT_LOADS, LoadCase
from tests.brackets import STIFF_BEARINGS, bolt_group, linked, straps
from tests.validation.reference import agrees

SOURCE = "plastic limit n sqrt((V_f R)^2 + T_f^2) (closed form)"
ASIDE = [(-20.0, 200.0), (20.0, 200.0)]
"""Where the casing is bolted on, clear of every group."""
RADIUS_MM = 12.0
"""Friction radius of every grip here."""


@dataclass(frozen=True)
class Group:
    places_mm: list[tuple[float, float]]
    slip_n: list[float]


def couple_alone() -> LoadCase:
    turning = np.zeros(UNIT_LOADS)
    turning[5] = NMM_PER_NM
    return LoadCase("couple", "couple alone", turning, np.zeros(UNIT_LOADS), "couple")


def slip_couple_of(group: Group) -> float:
    """Couple in N.m at which the group's anchors slip; the casing's own bolts hold anything."""
    linkage, plates = linked(bolt_group(group.places_mm, casing_places_mm=ASIDE))
    grips = {f"g{i}": Grip(0.2, slip / 0.2, RADIUS_MM, 1.0) for i, slip in enumerate(group.slip_n, 1)}
    enough = Grip(1.0, 20.0 * sum(group.slip_n), 100.0, 1.0)
    grips |= {"c1": enough, "c2": enough}
    return slip_couple_nm(linkage, plates, couple_alone(), grips)


@pytest.mark.parametrize(("count", "radius"), [(2, 60.0), (3, 36.0), (4, 50.0), (6, 75.0)])
def test_a_circle_of_bolts(count: int, radius: float) -> None:
    angles = 2.0 * np.pi * np.arange(count) / count + 0.3
    places = [(float(radius * np.cos(a)), float(radius * np.sin(a))) for a in angles]
    published = count * np.hypot(1860.0 * radius, 1860.0 * RADIUS_MM) / NMM_PER_NM
    couple = slip_couple_of(Group(places, [1860.0] * count))
    agrees(
        couple, published, 1e-4, source=SOURCE, name=f"couple that {count} bolts on {radius:g} mm hold, N.m"
    )


def test_an_irregular_group() -> None:
    places = [(-90.0, -20.0), (10.0, 75.0), (80.0, 30.0), (40.0, -60.0), (70.0, -35.0)]
    slips = [900.0, 2400.0, 1500.0, 600.0, 3100.0]
    published = friction_limit_nmm(places, slips, [RADIUS_MM * s for s in slips]) / NMM_PER_NM
    source = "least over the point turned about of sum sqrt((V r)^2 + T^2) (closed form)"
    couple = slip_couple_of(Group(places, slips))
    agrees(couple, published, 1e-4, source=source, name="couple that an irregular group holds, N.m")


squares = st.tuples(st.integers(-5, 5), st.integers(-5, 5))
groups = st.integers(2, 7).flatmap(
    lambda n: st.builds(
        lambda at, slips: Group([(30.0 * x, 30.0 * y) for x, y in at], slips),
        st.lists(squares, min_size=n, max_size=n, unique=True),
        st.lists(st.floats(100.0, 5_000.0), min_size=n, max_size=n),
    )
)


@pytest.mark.qualitative
@settings(max_examples=25)
@given(groups)
def test_any_group_by_two_ways(group: Group) -> None:
    by_hand = friction_limit_nmm(group.places_mm, group.slip_n, [RADIUS_MM * s for s in group.slip_n])
    assert slip_couple_of(group) * NMM_PER_NM == pytest.approx(by_hand, rel=2e-4)


def test_a_steady_pull_takes_its_share_of_the_couple() -> None:
    """Two bolts abreast, a force through their middle: each holds sqrt(V^2 - (F/2)^2) square to it."""
    linkage, plates = linked(bolt_group([(-60.0, 0.0), (60.0, 0.0)]))
    grips = {name: Grip(0.2, 10_000.0, 1e-6, 1.0) for name in ("g1", "g2")}
    grips |= {name: Grip(1.0, 1e5, 100.0, 1.0) for name in ("c1", "c2")}
    case = couple_alone()
    pull = np.zeros(UNIT_LOADS)
    pull[0] = 2_400.0
    loaded = LoadCase(case.name, case.words, case.per_couple, pull, case.kind)
    published = 2 * 60.0 * np.sqrt(2_000.0**2 - 1_200.0**2) / NMM_PER_NM
    couple = slip_couple_nm(linkage, plates, loaded, grips)
    agrees(couple, published, 1e-4, source="statics (closed form)", name="couple beside a pull, N.m")


@pytest.mark.qualitative
def test_more_than_friction_holds_alone_leaves_nothing_for_the_couple() -> None:
    linkage, plates = linked(bolt_group([(-60.0, 0.0), (60.0, 0.0)]))
    grips = {name: Grip(0.2, 10_000.0, RADIUS_MM, 1.0) for name in ("g1", "g2")}
    grips |= {name: Grip(1.0, 1e5, 100.0, 1.0) for name in ("c1", "c2")}
    pull = np.zeros(UNIT_LOADS)
    pull[0] = 4_100.0
    case = couple_alone()
    assert slip_couple_nm(linkage, plates, LoadCase("c", "c", case.per_couple, pull, "couple"), grips) == 0.0


def test_straps_in_line_hold_the_couple_by_friction() -> None:
    """Two bearings keep the shaft; the couple turns each strap about a point that gives it the least work.

    Upper bound theorem: for the casing turning by one, a strap that moves sideways by u at its upper bolt and
    turns by w, work is V sqrt(u^2 + (r w)^2) there and V sqrt((u + 110 w + 40)^2 + (r (w - 1))^2) at the
    lower one, 40 mm off the shaft and 110 mm below.
    """
    linkage, plates = linked(straps("in line", column=STIFF_BEARINGS))
    grips = {name: Grip(0.2, 10_000.0, RADIUS_MM, 1.0) for name in ("c1", "c2", "a1", "a2")}

    def work(motion: np.ndarray) -> float:
        u, w = motion
        upper = np.hypot(u, RADIUS_MM * w)
        lower = np.hypot(u + 110.0 * w + 40.0, RADIUS_MM * (w - 1.0))
        return float(0.2 * 10_000.0 * (upper + lower))

    published = 2 * minimize(work, [1.0, -0.3], method="Nelder-Mead", tol=1e-12).fun / NMM_PER_NM
    couple = slip_couple_nm(linkage, plates, couple_alone(), grips)
    source = "least work over the strap's motion (closed form)"
    agrees(couple, published, 1e-4, source=source, name="couple that in-line straps hold by friction, N.m")
