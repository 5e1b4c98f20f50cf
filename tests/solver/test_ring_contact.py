import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.ring_contact import (
    Ring,
    RingError,
    bolt_tension_n,
    friction_torque_nmm,
    opening,
    opening_tilt_nmm,
)

rings = st.builds(lambda inner, breadth: Ring(inner + breadth, inner), st.floats(0, 20), st.floats(0.5, 30))


@given(rings)
def test_kernel_is_where_the_edge_pressure_vanishes(ring: Ring) -> None:
    """F/A = F e ro / I."""
    second_moment = math.pi / 64 * (ring.outer_mm**4 - ring.inner_mm**4)
    assert ring.kernel_mm == pytest.approx(second_moment / (ring.area_mm2 * ring.outer_mm / 2))


@given(rings, st.floats(0, 1e4), st.floats(1, 1e5))
def test_opens_exactly_at_the_opening_tilt(ring: Ring, pull: float, preload: float) -> None:
    tilt = opening_tilt_nmm(ring, preload, pull)
    if pull < preload:
        assert opening(ring, pull, tilt, preload).used == pytest.approx(1.0)
    else:
        assert tilt == 0.0


@given(rings)
def test_friction_radius_lies_in_the_ring(ring: Ring) -> None:
    assert ring.inner_mm / 2 < ring.friction_radius_mm < ring.outer_mm / 2
    radii = np.linspace(ring.inner_mm / 2, ring.outer_mm / 2, 2001)
    middle = (radii[1:] + radii[:-1]) / 2
    assert ring.friction_radius_mm == pytest.approx((middle**2).sum() / middle.sum(), rel=1e-4)


def test_without_preload_any_load_opens_it() -> None:
    ring = Ring(16, 9)
    assert opening(ring, 1, 0, 0).used == math.inf
    assert opening(ring, 0, 0, 0).used == 0.0
    assert opening(ring, -100, 0, 0).used == 0.0


def test_bolt_tension_and_friction() -> None:
    ring = Ring(16, 9)
    assert bolt_tension_n(ring, 100, -800) == pytest.approx(200)
    assert bolt_tension_n(ring, -100, 800) == pytest.approx(100)
    assert friction_torque_nmm(ring, 0.2, 1000) == pytest.approx(200 * ring.friction_radius_mm)
    assert friction_torque_nmm(ring, 0.2, -5) == 0.0


@pytest.mark.parametrize(("outer", "inner"), [(9, 9), (8, 9), (math.nan, 3), (math.inf, 3), (9, -1)])
def test_no_ring(outer: float, inner: float) -> None:
    with pytest.raises(RingError, match="wider washer"):
        Ring(outer, inner)


def test_no_number() -> None:
    with pytest.raises(RingError):
        opening(Ring(16, 9), math.nan, 0, 1)
    with pytest.raises(RingError):
        opening(Ring(16, 9), 0, math.inf, 1)
