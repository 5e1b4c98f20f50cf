"""Checks of bolts and connections: slip, opening, shear, tension, both, bearing, pull-through, preload."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from geometry.materials import material
from solver.bar_walls import SOURCE as WALL_SOURCE
from solver.bar_walls import share_left
from solver.clamped_bolt import ClampedBolt
from solver.connections import opening_demand_n, slip_demand_n, tension_n
from solver.evaluation import Loaded
from solver.head_pressure import SOURCE as HEAD_SOURCE
from solver.joint_rules import (
    FACE_SHARE,
    GAMMA_M2,
    combined_used,
    grade_note,
    shear_allowable_n,
    tension_allowable_n,
)
from solver.largest import alike_to_largest, place_of_largest
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.thread_rules import SOURCE as THREAD_SOURCE

_TABLE = "EN 1993-1-8 table 3.4"


@dataclass(frozen=True)
class Rule:
    """One rule for every connection in every column: demand and allowable, both (connections, columns)."""

    name: str
    unit: str
    source: str
    amounts: Callable[[Solved, Loaded], tuple[Floats, Floats]]
    kind: Literal["strength", "share"] = "strength"
    past_it_fails: bool = True
    """Whether a share fails where the low end of the preload's scatter is past it as well."""


def bolt_rules() -> tuple[Rule, ...]:
    """Return every rule that connections are held to, in the order they are printed."""
    return (
        Rule("slip", "N", "EN 1993-1-8 3.9 with a torque-tightened preload's low end, one face", _slip),
        Rule("opening", "N", "closed form: even pressure on a ring, kernel e = (ro2 + ri2) / 4 ro", _opening),
        Rule("bolt shear", "N", _TABLE, _shear),
        Rule("bolt tension", "N", f"{_TABLE}; demand N + M / ro", _tension),
        Rule("bolt shear and tension", "", _TABLE, _both),
        Rule("bearing", "N", f"{_TABLE}, any direction", _bearing),
        Rule("pull-through", "N", f"{_TABLE}, mean of head widths", _pull_through),
        Rule("wall bending", "N", WALL_SOURCE, _wall),
        Rule(
            "bolt preload",
            "N",
            "preload's high end and its share of the pull against 0.2 % proof",
            _preload,
            "share",
        ),
        Rule("thread stripping", "N", f"{THREAD_SOURCE}, gamma_M2 1.25; demand N + M / ro", _thread),
        Rule("thread under preload", "N", f"{THREAD_SOURCE}, without a factor", _tight_thread, "share"),
        Rule("pressure under head", "N", HEAD_SOURCE, _head_pressure, "share", past_it_fails=False),
    )


def bolt_checks(solved: Solved, load: Loaded) -> list[Check]:
    """Return the worst connection and column of every rule; rules whose inputs are blank are left out.

    A preload that may be too high is marginal; one that is so at the low end of its scatter as well, a fail.
    """
    found = []
    for rule in bolt_rules():
        demand, allowable = rule.amounts(solved, load)
        if demand.size == 0:
            continue
        used, kind = _used(demand, allowable), rule.kind
        if np.all(np.isnan(used)):
            continue
        if kind == "share" and rule.past_it_fails:
            sure = _rows(solved, load, _surely_n) > allowable
            if sure.any():
                used, kind = np.where(sure, used, np.nan), "strength"
        row, column = _worst(used, demand)
        name = load.forces.bolts[row]
        bolt = solved.bolts[name]
        notes = [
            "" if np.isfinite(used[row, column]) else "nothing is left to hold it",
            *_notes(rule, kind, bolt),
        ]
        found.append(
            Check(
                rule.name,
                float(demand[row, column]),
                float(max(allowable[row, column], 0.0)),
                rule.unit,
                0.0,
                rule.source,
                f"bolt {name}",
                load.columns[column].words,
                note="; ".join(n for n in notes if n),
                kind=kind,
            )
        )
    return found


def _notes(rule: Rule, kind: str, bolt: ClampedBolt) -> list[str]:
    """Return what is told beside a check of one bolt."""
    notes = []
    if rule.name == "bearing":
        notes += [f"in {bolt.bearing_plate}", bolt.bearing_rule]
    if rule.name == "pull-through":
        notes += [f"through {bolt.pulled_through}"] if bolt.pulled_through != bolt.bolt.plate else []
        notes.append(bolt.pull_through_rule)
    if "shear" in rule.name and bolt.packing_share < 1.0:
        notes.append(
            f"beta_p {bolt.packing_share:.2g} through its spacer (EN 1993-1-8 3.6.1(12), from memory)"
        )
    if rule.name == "slip" and bolt.slip_share < 1.0:
        notes.append(f"k_s {bolt.slip_share:g} for a hole wider than usual (EN 1993-1-8 table 3.6)")
    if rule.name.startswith("thread"):
        notes.append(bolt.thread_words)
    notes.append(_past_it(rule, kind, bolt))
    if rule.source.startswith(_TABLE) and bolt.grade is not None:
        notes.append(grade_note(bolt.grade))
    return notes


def _past_it(rule: Rule, kind: str, bolt: ClampedBolt) -> str:
    """Return what happens past 100 % of a rule whose breaking is marginal; empty for any other."""
    if kind != rule.kind:
        return "at the low end of its scatter as well: it does not bear being tightened so"
    if rule.kind != "share":
        return ""
    ends = {
        "thread under preload": "past 100 % the thread may strip while it is tightened",
        "pressure under head": f"past 100 % {bolt.pressed_on} creeps away under what presses on it, and no"
        f" more clamps than it bears: take a wider {bolt.pressed_wider}",
    }
    usual = "past 100 % the bolt may yield while it is tightened, at the high end of its scatter"
    return ends.get(rule.name, usual)


def slip_is_asked(solved: Solved, load: Loaded) -> np.ndarray:
    """Return the (connections, columns) places where a connection is taken as stuck and so must not slip."""
    stuck = np.array([c.taken == "stuck" for c in load.columns])
    pins = np.array([name in solved.slipped for name in load.forces.bolts])
    return np.asarray(stuck[None, :] & ~pins[:, None])


def _used(demand: Floats, allowable: Floats) -> Floats:
    with np.errstate(divide="ignore", invalid="ignore"):
        used = np.where(allowable > 0.0, demand / allowable, np.where(demand > 0.0, np.inf, 0.0))
    return np.where(np.isnan(demand) | np.isnan(allowable), np.nan, used)


def _worst(used: Floats, demand: Floats) -> tuple[int, int]:
    """Return the connection and column that use most; of several that do alike, what most is asked of."""
    most = alike_to_largest(np.where(np.isnan(used), -np.inf, used))
    return place_of_largest(np.where(most, demand, -np.inf))


def _rows(solved: Solved, load: Loaded, value: Callable[[ClampedBolt], float]) -> Floats:
    """Return one figure a bolt, for every column."""
    figures = np.array([value(solved.bolts[name]) for name in load.forces.bolts], dtype=float)
    return np.broadcast_to(figures[:, None], load.forces.shear_n.shape)


def _slip(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    asked, holds = slip_demand_n(load.forces, solved.bolts, solved.bracket.limits.slip_factor)
    return np.where(slip_is_asked(solved, load), asked, np.nan), holds


def _opening(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    low = _rows(solved, load, lambda b: np.nan if b.preload_low_n is None else b.preload_low_n)
    return opening_demand_n(load.forces, solved.bolts), low


def _shear(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    return load.forces.shear_n, _rows(solved, load, _shear_allowable)


def _tension(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    return tension_n(load.forces, solved.bolts), _rows(solved, load, _tension_allowable)


def _both(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    shear = load.forces.shear_n / _rows(solved, load, _shear_allowable)
    tension = tension_n(load.forces, solved.bolts) / _rows(solved, load, _tension_allowable)
    return combined_used(shear, tension), np.ones_like(shear)


def _bearing(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    return load.forces.shear_n, _rows(solved, load, lambda b: b.bearing_n)


def _pull_through(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    return tension_n(load.forces, solved.bolts), _rows(solved, load, lambda b: b.pulled_through_n)


def _wall(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    """What bends the wall of a hollow dash bar, and what that bears beside all that the bar carries."""
    bar, model, names = solved.bracket.dash_bar, load.structure.bar, load.forces.bolts
    borne = _rows(solved, load, lambda b: b.wall_n if math.isfinite(b.wall_n) else math.nan)
    if bar is None or not np.isfinite(borne).any():
        return borne, borne
    pull = load.forces.pull_n
    near = np.array([[other == name or other in solved.bolts[name].wall_beside for other in names]
                     for name in names], dtype=float)  # fmt: skip
    # Those that pull the wall the same way add up; what pushes beside takes nothing off.
    square = np.maximum(near @ np.maximum(pull, 0.0), near @ np.maximum(-pull, 0.0))
    radii = _rows(solved, load, lambda b: b.ring_outer_mm)
    strength = material(bar.material, solved.bracket.materials).yield_mpa(bar.section.wall_mm)
    if model is not None and strength is not None:
        borne = borne * share_left(bar, load.bar_stress_mpa.max(axis=0, initial=0.0), strength)
    return square + load.forces.tilt_nmm / radii, borne / solved.bracket.limits.yield_factor


def _preload(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    """Highest preload: while tightened, or once settled with its share of the pull, whichever is more."""
    high = _rows(solved, load, lambda b: np.nan if b.preload_high_n is None else b.preload_high_n)
    settled = high - _rows(solved, load, lambda b: b.settling_n)
    strength = _rows(
        solved, load, lambda b: np.nan if b.grade is None else b.grade.yield_mpa * b.size.stress_area_mm2
    )
    return np.maximum(high, settled + (1.0 - FACE_SHARE) * tension_n(load.forces, solved.bolts)), strength


def _thread(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    borne = _rows(solved, load, lambda b: _thread_n(b) / GAMMA_M2)
    return tension_n(load.forces, solved.bolts), borne


def _tight_thread(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    return _preload(solved, load)[0], _rows(solved, load, _thread_n)


def _head_pressure(solved: Solved, load: Loaded) -> tuple[Floats, Floats]:
    borne = _rows(solved, load, lambda b: b.pressed_n if math.isfinite(b.pressed_n) else math.nan)
    return _preload(solved, load)[0], borne


def _thread_n(bolt: ClampedBolt) -> float:
    return float("nan") if bolt.thread is None else bolt.thread.least_n


def _surely_n(bolt: ClampedBolt) -> float:
    return float("nan") if bolt.surely_n is None else bolt.surely_n


def _shear_allowable(bolt: ClampedBolt) -> float:
    if bolt.grade is None:
        return float("nan")
    whole = shear_allowable_n(bolt.grade.alpha_v, bolt.grade.design_tensile_mpa, bolt.size.stress_area_mm2)
    return bolt.packing_share * whole


def _tension_allowable(bolt: ClampedBolt) -> float:
    if bolt.grade is None:
        return float("nan")
    return tension_allowable_n(bolt.grade.design_tensile_mpa, bolt.size.stress_area_mm2)
