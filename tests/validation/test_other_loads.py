"""Steering lock, kerb strike, a unit that runs away or seizes."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from geometry.bracket import Bracket
from geometry.other_loads import KerbStrike, OtherLoads, SteeringLock, UnitFault
from solver.assumptions import assumptions_of
from solver.checking import check_quickly
from solver.load_cases import LoadCase, load_cases
from solver.other_loads import other_loads
from solver.solved import with_inputs
from solver.verdict import verdict_of
from tests.brackets import one_piece, solved_once
from tests.validation.reference import agrees

MOTION = "rotor and spring, J n2 x'' = -k x, integrated step by step (Newton)"
STATICS = "statics (closed form)"
ROTOR = KerbStrike(rotor_kgcm2=1.2, ratio=18.5, shaft_deg_per_s=600, shaft_nm_per_deg=4)


def with_loads(**other: object) -> Bracket:
    bracket = one_piece(mass_kg=0.0)
    return bracket.but(loads=bracket.loads.but(other=OtherLoads.model_validate(other)))


def cases(bracket: Bracket) -> dict[str, LoadCase]:
    return {case.name: case for case in load_cases(bracket) if case.kind == "other"}


def test_a_rotor_stopped_by_the_shafts_twist() -> None:
    inertia, stiffness = 1.2e-4 * 18.5**2, 4 * 180 / np.pi
    speed = np.radians(600)
    quarter = np.pi / 2 / np.sqrt(stiffness / inertia)
    run = solve_ivp(
        lambda _, s: [s[1], -stiffness / inertia * s[0]], (0, 2 * quarter), [0, speed], rtol=1e-9, atol=1e-12,
        max_step=quarter / 50,
    )  # fmt: skip
    peak = stiffness * float(np.max(run.y[0]))
    couple = cases(with_loads(kerb=ROTOR))["kerb strike +"].rest[5] / 1000
    agrees(couple, peak, 1e-3, source=MOTION, name="peak of a kerb strike, N.m")


def test_a_seized_gear_and_a_runaway_motor() -> None:
    found = cases(with_loads(unit=UnitFault(motor_nm=2.5, ratio=18)))
    agrees(found["runaway unit +"].rest[5], 45_000, 1e-9, source=STATICS, name="2.5 N.m x 18, N.mm")
    agrees(found["seized unit -"].rest[5], -105_000, 1e-9, source=STATICS, name="300 N on 350 mm twice, N.mm")
    assert not any(case.per_couple.any() for case in found.values())


@pytest.mark.qualitative
def test_what_is_blank_is_not_counted_and_what_the_column_bears_is_only_told() -> None:
    assert cases(one_piece()) == {}
    (told,) = [w for w in assumptions_of(one_piece(), {})[0] if "Not counted" in w]
    assert "steering lock, kerb strike, runaway unit, seized unit" in told
    lock = SteeringLock(torque_nm=200, borne_by="column")
    assert cases(with_loads(lock=lock)) == {}
    assert (
        "load the shaft and the column's own mount, not the casing"
        in other_loads(with_loads(lock=lock))[0].words
    )
    assert set(cases(with_loads(lock=lock.but(borne_by="casing")))) == {"steering lock +", "steering lock -"}
    # A stated peak goes before the rotor's energy.
    assert cases(with_loads(kerb=ROTOR.but(peak_nm=80)))["kerb strike +"].rest[5] == 80_000
    assert with_loads(lock=lock).input_hash() != one_piece(mass_kg=0.0).input_hash()


@pytest.mark.qualitative
def test_a_steering_lock_decides_the_verdict_of_a_bracket_that_holds_its_couple() -> None:
    bracket = one_piece(couple_nm=10.0)
    whole = solved_once(bracket)
    verdicts = {}
    for torque in (None, 400.0):
        changed = bracket.but(loads=bracket.loads.but(other=OtherLoads(lock=SteeringLock(torque_nm=torque))))
        checks = check_quickly(with_inputs(whole, changed), 10.0).checks
        verdicts[torque] = verdict_of(checks, (), None, (), bracket.limits, solved=True, refined=True)
    assert verdicts[None][0] != "fail"
    word, reasons = verdicts[400.0]
    assert word == "fail"
    assert any(reason.startswith("slip uses") and "steering lock" in reason for reason in reasons)
