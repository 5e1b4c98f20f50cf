"""Friction of a ring under even pressure, shifted and turned at once: the ellipse against the ring itself."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from solver.connections import ConnectionForces, slip_used

FRICTION, PRELOAD_N = 0.2, 10_000.0


def limits(inner_mm: float, outer_mm: float) -> np.ndarray:
    """Return (2, n) shift and turn in N and N.mm at which a ring just slips, about one centre after another.

    Every spot of it rubs square to its way from the centre that the ring turns about: summed up over the ring
    (plastic limit, Coulomb friction; closed form under the sum).
    """
    radii = inner_mm / 2.0 + (np.arange(120) + 0.5) / 120 * (outer_mm - inner_mm) / 2.0
    angles = (np.arange(360) + 0.5) / 360 * 2.0 * np.pi
    radius, angle = np.meshgrid(radii, angles)
    x, y = radius * np.cos(angle), radius * np.sin(angle)
    borne = FRICTION * PRELOAD_N * radius / radius.sum()
    found = []
    for off in (*np.linspace(0.0, 2.0 * outer_mm, 120), 1e4):
        far = np.hypot(x - off, y)
        across, up = -y / far * borne, (x - off) / far * borne
        found.append((np.hypot(across.sum(), up.sum()), abs((x * up - y * across).sum())))
    return np.array(found).T


@pytest.mark.parametrize(
    ("inner_mm", "outer_mm"), [(9.0, 16.0), (11.0, 20.0), (6.6, 12.0), (9.0, 30.0), (11.0, 16.0)]
)
def test_no_ring_slips_before_it_is_said_to(inner_mm: float, outer_mm: float) -> None:
    """Within 1 %, of which narrow rings take most; and friction is not given away beyond a tenth."""
    shear, spin = limits(inner_mm, outer_mm)
    arm = (outer_mm**3 - inner_mm**3) / (outer_mm**2 - inner_mm**2) / 3.0
    bolt = SimpleNamespace(friction_radius_mm=arm, friction=FRICTION, preload_low_n=PRELOAD_N, slip_share=1.0)
    none = np.zeros((1, len(shear)))
    forces = ConnectionForces(("1",), shear[None], none, none, spin[None], np.zeros((1, 6, len(shear))))
    used = slip_used(forces, {"1": bolt}, 1.0)  # type: ignore[dict-item]
    assert used.min() >= 0.99
    assert used.max() <= 1.11
    # all the friction there is goes into a shift alone
    assert shear.max() == pytest.approx(FRICTION * PRELOAD_N, rel=1e-3)


def test_what_is_asked_counts_with_its_factor_and_half_the_preload_holds_half() -> None:
    bolt = SimpleNamespace(friction_radius_mm=6.0, friction=FRICTION, preload_low_n=PRELOAD_N, slip_share=1.0)
    half = SimpleNamespace(**{**vars(bolt), "preload_low_n": PRELOAD_N / 2.0})
    one = np.array([[500.0]])
    forces = ConnectionForces(("1",), one, 0.0 * one, 0.0 * one, 4.0 * one, np.zeros((1, 6, 1)))
    plain = slip_used(forces, {"1": bolt}, 1.0)[0, 0]  # type: ignore[dict-item]
    assert slip_used(forces, {"1": bolt}, 1.25)[0, 0] == pytest.approx(1.25 * plain)  # type: ignore[dict-item]
    assert slip_used(forces, {"1": half}, 1.0)[0, 0] == pytest.approx(2.0 * plain)  # type: ignore[dict-item]
