"""What is round the plates: casing, column, loads, limits, installation, the fit."""

from __future__ import annotations

import numpy as np

from tests.sound.draft import Data, Draft, listed


def casing_of(draft: Draft) -> Data:
    """Return the casing with its bosses in its own axes, somewhere along and round the shaft."""
    station, clocking = draft.number(-60.0, 60.0), 0.0
    if draft.chance(0.4):
        clocking = draft.number(-180.0, 180.0)
        draft.tag("clocked casing")
    cos, sin = np.cos(np.radians(-clocking)), np.sin(np.radians(-clocking))
    turn = np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])
    bosses = []
    for boss in draft.bosses:
        at = turn @ (boss["at"] - np.array([0.0, 0.0, station]))
        rest = {key: value for key, value in boss.items() if key not in ("at", "direction")}
        bosses.append(rest | {"at_mm": listed(at), "direction": listed(turn @ boss["direction"])})
    if draft.chance(0.1):
        at = [draft.number(-50, 50), draft.number(-50, 50), 0.0]
        spare = {"name": "spare", "at_mm": at, "thread": "M8", "face_diameter_mm": 20.0, "depth_mm": 16.0}
        bosses.append(spare)
    return {
        "name": "casing" if draft.chance(0.98) else "example casing",
        "station_mm": station,
        "clocking_deg": clocking,
        "bosses": bosses,
        "envelope": {
            "low_mm": [draft.number(-70, -40), draft.number(-70, -40), draft.number(-150, -90)],
            "high_mm": [draft.number(40, 70), draft.number(40, 70), draft.number(0, 20)],
        },
        "mass_kg": draft.number(2.0, 8.0),
        "mass_centre_mm": [draft.number(-15, 15), draft.number(-15, 15), draft.number(-90, 0)],
    }


def column_of(draft: Draft) -> Data:
    """Return what else holds the column."""
    kind = draft.pick(
        ("bearings", "donor mount") if draft.stout else ("nothing", "bearings", "bearings", "donor mount")
    )
    draft.tag(f"column: {kind}")
    low = draft.number(8000.0, 20000.0) if draft.stout else draft.number(500.0, 15000.0)
    if kind == "bearings":
        stations = [draft.number(-260, -120), draft.number(200, 380)][
            : 2 if draft.stout else draft.count(1, 2)
        ]
        bearings = [
            {"name": f"bearing {i}", "station_mm": s, "stiffness_n_per_mm": [low, 2.0 * low]}
            for i, s in enumerate(stations)
        ]
        return {"held_by": kind, "bearings": bearings}
    if kind == "donor mount":
        mount = {"sideways_n_per_mm": [low, 3.0 * low], "along_n_per_mm": [0.5 * low, low]}
        return {"held_by": kind, "mount": {"name": "mount", "station_mm": draft.number(150, 320), **mount}}
    return {"held_by": kind}


def loads_of(draft: Draft) -> Data:
    """Return the couple from one of its sources, and what else loads the bracket."""
    loads: Data = {"couple": _couple(draft), "other": {} if draft.stout else _other(draft)}
    if draft.chance(0.2):
        loads["factor"] = float(draft.pick((1.0, 1.5, 2.5)))
    if draft.chance(0.15):
        loads["couple_uncertainty"] = float(draft.pick((0.0, 0.1, 0.4)))
    if draft.chance(0.15):
        loads["pull_n"] = float(draft.pick((0.0, 150.0, 500.0)))
        loads["weight_g"] = float(draft.pick((0.0, 1.0, 5.0)))
    if draft.chance(0.2):
        draft.tag("load case of one's own")
        loads["extra"] = [
            {
                "name": f"own {i}",
                "couple_nm": draft.number(-30, 30),
                "force_n": [draft.number(-300, 300) for _ in range(3)],
                "at_mm": [draft.number(-80, 80) for _ in range(3)],
            }
            for i in range(draft.count(1, 2))
        ]
    if draft.chance(0.4):
        fatigue: Data = {"full_cycles": int(draft.pick((1, 20_000, 200_000, 5_000_000)))}
        if draft.chance(0.6):
            draft.tag("spectrum")
            fatigue["spectrum"] = [
                {"torque_nm": draft.number(2, 40), "count": int(draft.pick((10, 5000, 900_000)))}
                for _ in range(draft.count(1, 4))
            ]
        loads["fatigue"] = fatigue
    if draft.chance(0.2):
        draft.tag("engine")
        strokes = int(draft.pick((2, 4)))
        loads["engine"] = {"cylinders": draft.count(1, 8), "idle_rpm": 800.0, "strokes": strokes}
    return loads


def _couple(draft: Draft) -> Data:
    source = draft.pick(("stated", "stated", "torque meters", "load cell", "motor"))
    draft.tag(f"couple: {source}")
    most = 25.0 if draft.stout else 80.0
    couple = float(np.round(np.exp(draft.random.uniform(np.log(6.0), np.log(most))), 1))
    way = draft.pick((1.0, -1.0))
    if source == "torque meters":
        inside = draft.number(0.5, 6.0)
        return {"source": source, "output_nm": way * couple + inside, "input_nm": inside}
    if source == "load cell":
        arm = draft.number(60.0, 300.0)
        return {"source": source, "force_n": way * round(couple * 1000.0 / arm, 1), "arm_mm": arm}
    if source == "motor":
        ratio = draft.number(8.0, 25.0)
        efficiency = float(draft.pick((1.0, 0.85, 0.7)))
        motor = max(round(couple / ratio, 2), 0.1)
        back = draft.chance(0.5)
        rest = {"ratio": ratio, "efficiency": efficiency, "back_driving": back}
        return {"source": source, "motor_nm": motor, **rest}
    return {"source": source, "couple_nm": couple, "by": "the trial" if draft.chance(0.95) else ""}


def _other(draft: Draft) -> Data:
    other: Data = {}
    if draft.chance(0.25):
        draft.tag("steering lock")
        torque = draft.number(30, 150)
        other["lock"] = {"torque_nm": torque, "borne_by": draft.pick(("casing", "column"))}
    if draft.chance(0.2):
        draft.tag("kerb strike")
        if draft.chance(0.5):
            other["kerb"] = {"peak_nm": draft.number(20, 90)}
        else:
            other["kerb"] = {
                "rotor_kgcm2": draft.number(0.2, 1.5),
                "ratio": draft.number(8, 20),
                "shaft_deg_per_s": draft.number(60, 300),
                "shaft_nm_per_deg": draft.number(0.5, 4.0) if draft.chance(0.95) else None,
            }
    if draft.chance(0.15):
        draft.tag("unit at fault")
        other["unit"] = {"motor_nm": draft.number(0.5, 3.0), "ratio": draft.number(8, 20)}
    return other


def rest_of(draft: Draft, data: Data) -> None:
    """Add what stands around: wheel, rake, joints, installation, fit, limits, a variant, a note."""
    data["wheel"] = {"diameter_mm": draft.number(280, 400), "station_mm": draft.number(250, 450)}
    data["rake_deg"] = float(draft.pick((0.0, 90.0, -5.0))) if draft.chance(0.15) else draft.number(10, 40)
    if draft.chance(0.3):
        draft.tag("shaft joint")
        data["shaft_joints"] = [
            {
                "name": f"joint {i}",
                "station_mm": draft.number(-300, -100),
                "angle_deg": draft.number(0, 35),
                "plane_deg": draft.number(-180, 180),
            }
            for i in range(draft.count(1, 2))
        ]
    if draft.chance(0.25):
        data["installation"] = _installation(draft)
    if draft.chance(0.25):
        draft.tag("fit")
        data["fit_up"] = {"hole_mm": draft.number(0.0, 0.6), "flat_deg": draft.number(0.0, 1.0)}
    if draft.chance(0.2):
        draft.tag("limits of one's own")
        data["limits"] = {
            "movement_mm": draft.number(0.1, 2.0),
            "turn_deg": draft.number(0.1, 1.0),
            "pull_movement_mm": draft.number(1.0, 8.0),
            "yield_factor": float(draft.pick((1.0, 1.5, 2.0))),
            "friction_share": float(draft.pick((0.2, 0.5, 0.9))),
        }
    if draft.chance(0.1):
        kind, modulus, density, low, high = draft.pick(
            (
                ("steel", 210_000.0, 7850.0, 220.0, 690.0),
                ("stainless", 200_000.0, 7900.0, 200.0, 300.0),
                ("aluminium", 70_000.0, 2700.0, 90.0, 300.0),
            )
        )
        proof = draft.number(low, high)
        own = {
            "name": "own sheet",
            "kind": kind,
            "yield_mpa": proof,
            "tensile_mpa": round(proof * draft.number(1.1, 1.6), 1),
            "elastic_modulus_mpa": modulus,
            "poisson": float(draft.pick((0.28, 0.3, 0.33))),
            "density_kg_m3": density,
            "source": "a test of the trial",
            "least_inside_radius_mm": draft.pick((None, 2.0)),
        }
        draft.tag("material of one's own")
        data["materials"] = [own]
        draft.pick(data["plates"])["material"] = "own sheet"


def _installation(draft: Draft) -> Data:
    found: Data = {}
    if draft.chance(0.5):
        draft.tag("tube clamp")
        at = draft.number(-200, 150)
        found["clamps"] = [
            {
                "name": "clamp",
                "stations_mm": [at, at + draft.number(20, 60)],
                "tube_mm": draft.number(35, 60) if draft.chance(0.9) else None,
                "bolts": draft.count(1, 4) if draft.chance(0.9) else None,
                "preload_n": [3000.0, 6000.0],
            }
        ]
    if draft.chance(0.4):
        draft.tag("shaft line")
        joints = [
            {
                "name": f"line joint {i}",
                "angle_deg": draft.number(0, 40) if draft.chance(0.9) else None,
                "plane_deg": draft.number(-180, 180) if draft.chance(0.9) else None,
                "phase_deg": draft.number(-90, 90) if i and draft.chance(0.9) else None,
                "most_angle_deg": draft.pick((None, 35.0)),
            }
            for i in range(draft.count(1, 3))
        ]
        places: list[list[float]] = []
        if draft.chance(0.5):
            places = [[0.0, 0.0, 400.0], *([draft.number(-40, 40)] * 2 + [150.0 - 200.0 * i] for i in
                      range(len(joints))), [60.0, -120.0, -700.0]]  # fmt: skip
        found["shaft"] = {
            "joints": joints,
            "places_mm": places,
            "sliding_joint": draft.pick((None, "yes", "no")),
        }
    if draft.chance(0.4):
        draft.tag("wiring")
        found["wiring"] = {
            "current_a": draft.pick((None, 30.0, 60.0, 90.0)),
            "feed": {"length_m": draft.pick((None, 1.5, 3.0)), "area_mm2": draft.pick((None, 6.0, 16.0))},
            "back": {"length_m": 1.0, "gauge": draft.pick((None, 8, 4))},
            "insulation_c": draft.pick((None, 90.0, 125.0)),
            "fuse_a": draft.pick((None, 40.0, 80.0)),
        }
    if draft.chance(0.3):
        draft.tag("room")
        at = [draft.number(-300, 300), draft.number(-300, 300), draft.number(-300, 300)]
        found["room"] = {
            "kept_clear": [{"name": "knees", "low_mm": at, "high_mm": [value + 90.0 for value in at]}],
            "tilt_deg": draft.pick((None, [0.0, 0.0], [-5.0, 8.0])),
            "pivot_mm": [0.0, 0.0, -150.0],
            "casing_tilts": draft.pick((None, "yes", "no")),
        }
    if draft.chance(0.3):
        draft.tag("collapse")
        part = {
            "name": "tube",
            "stations_mm": [-300.0, 200.0],
            "moves": draft.pick((None, "slides", "fixed")),
        }
        found["collapse"] = {"parts": [part], "travel_mm": draft.pick((None, 60.0)), "donor_travel_mm": 80.0}
    return found
