"""What only friction keeps from moving is never a plain pass."""

from __future__ import annotations

from geometry.casing import Bearing, Column
from geometry.fixing import Washer
from solver.analyse import analyse
from tests.brackets import straps


def test_soft_bearings_do_not_hide_that_straps_rack_under_a_pull() -> None:
    """Bearings of 60 N/mm stop slipped straps only after a long way; friction holds till then."""
    soft = tuple(
        Bearing(name=name, station_mm=z, stiffness_n_per_mm=(60.0, 60.0))
        for name, z in (("lower", -200.0), ("upper", 300.0))
    )
    thin = straps(
        "side by side",
        column=Column(held_by="bearings", bearings=soft),
        size="M12",
        grade="10.9",
        tightening_nm=110.0,
        hole_mm=13.0,
        couple_nm=15.0,
        length_mm=80.0,
    )
    assert thin.casing is not None
    washer = Washer(outer_mm=28.0, inner_mm=13.0, thickness_mm=3.0)
    bracket = thin.but(
        plates=tuple(plate.but(thickness_mm=12.0) for plate in thin.plates),
        casing=thin.casing.but(
            mass_kg=5.0,
            bosses=tuple(
                b.but(face_diameter_mm=28.0, metal="steel", tensile_mpa=600.0) for b in thin.casing.bosses
            ),
        ),
        bolts=tuple(
            b.but(washer=washer, pad_diameter_mm=None if b.joins.to == "boss" else 36.0) for b in thin.bolts
        ),
    )
    results = analyse(bracket)
    slipped = next(c for c in results.checks if c.name == "movement with a pull, slipped")
    stuck = next(c for c in results.checks if c.name == "movement with a pull")
    assert not results.free_motions
    assert slipped.demand > 2.0 > stuck.demand
    assert results.verdict == "marginal"
    assert "nothing but friction" in results.reasons[0]
