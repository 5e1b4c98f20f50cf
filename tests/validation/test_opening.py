"""A clamped ring opens when its force leaves the kernel e = (ro^2 + ri^2) / 4 ro (closed form).

M8, footprint 16/9: e 2.63 mm, 18.6 kN opens at 49 N.m; here through the bolts and checks of an analysis.
"""

import numpy as np
import pytest

from geometry.bolt_tables import bolt_size
from geometry.placing import place_bolts
from solver.clamped_bolt import ClampedBolt, clamped_bolts
from solver.connections import ConnectionForces, opening_demand_n, tension_n
from solver.tightening import settling_loss_n
from tests.brackets import bolt_group
from tests.validation.reference import agrees

SOURCE = "linear pressure on a ring (closed form)"


@pytest.fixture(scope="module")
def ring() -> dict[str, ClampedBolt]:
    """M8 in a hole of 9 under a pad of 16, 18.6 kN left once it has settled."""
    bracket = bolt_group([(-60, 0), (60, 0)], size="M8", hole_mm=9.0, pad_mm=16.0)
    places = place_bolts(bracket)
    stated = 18_600 + settling_loss_n(bolt_size("M8"), places[0].clamp_length_mm, 2)
    bolts = [b.but(preload_n=(stated, 25_000)) if b.name.startswith("g") else b for b in bracket.bolts]
    bracket = bracket.but(bolts=tuple(bolts))
    return clamped_bolts(bracket, places)


def carrying(pull_n: float, tilt_nmm: float) -> ConnectionForces:
    column = np.array([[1.0]])
    return ConnectionForces(
        ("g1",), 0.0 * column, pull_n * column, tilt_nmm * column, 0.0 * column, np.zeros((1, 6, 1))
    )


def test_kernel_and_the_tilt_that_opens(ring: dict[str, ClampedBolt]) -> None:
    bolt = ring["g1"]
    agrees(bolt.opening_arm_mm, 2.63, 0.002, source=SOURCE, name="e of an M8 footprint 16/9 in a bracket, mm")
    used = opening_demand_n(carrying(0.0, 49_000.0), ring)[0, 0] / (bolt.preload_low_n or 0.0)
    agrees(used, 1.0, 0.002, source=SOURCE, name="opening of 18.6 kN at 49 N.m, used")


def test_a_pull_opens_by_itself_and_with_a_tilt(ring: dict[str, ClampedBolt]) -> None:
    arm = (8.0**2 + 4.5**2) / (4 * 8.0)
    for pull, tilt in ((18_600.0, 0.0), (9_300.0, 9_300.0 * arm), (-5_000.0, 23_600.0 * arm)):
        used = opening_demand_n(carrying(pull, tilt), ring)[0, 0] / 18_600.0
        name = f"opening at {pull:g} N and {tilt / 1000:.3g} N.m, used"
        agrees(used, 1.0, 1e-9, source=SOURCE, name=name)


def test_bolt_demand_pries_about_the_edge(ring: dict[str, ClampedBolt]) -> None:
    demand = tension_n(carrying(2_000.0, 24_000.0), ring)[0, 0]
    agrees(demand, 2_000 + 24_000 / 8.0, 1e-9, source="N + M / ro (closed form)", name="tension demand, N")


@pytest.mark.qualitative
def test_pressed_together_asks_nothing(ring: dict[str, ClampedBolt]) -> None:
    assert opening_demand_n(carrying(-1_000.0, 0.0), ring)[0, 0] == 0.0
    assert tension_n(carrying(-1_000.0, 0.0), ring)[0, 0] == 0.0
