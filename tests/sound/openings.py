"""Openings without a bolt: holes, slots and cut-outs of any loop, now and then where there is no room."""

from __future__ import annotations

import math

from tests.sound.draft import Data, Draft


def free_openings(draft: Draft, bolted: list[Data], half: float, length: float) -> list[Data]:
    """Return none to three openings in the first panel of a strip."""
    if not draft.chance(0.35):
        return []
    found: list[Data] = []
    for _ in range(draft.pick((1, 1, 2))):
        found += clear_of(draft, [*bolted, *found], half, length)
    return found


def clear_of(draft: Draft, others: list[Data], half: float, length: float) -> list[Data]:
    """Return one opening, if a place clear of the others is found; now and then without looking."""
    for _ in range(12):
        size = draft.number(3.0, max(4.0, min(14.0, half)))
        at = (
            round(float(draft.random.uniform(-half, half)), 1),
            round(float(draft.random.uniform(0.0, length)), 1),
        )
        reach = size * 0.9
        inside = abs(at[0]) < half - reach - 3.0 and reach + 3.0 < at[1] < length - reach - 3.0
        free = all(_apart(at, other) > reach + _reach(other) + 4.0 for other in others)
        if (inside and free) or draft.chance(0.01):
            return [_opening(draft, f"free {len(others)}", at, size)]
    return []


def _apart(at: tuple[float, float], other: Data) -> float:
    if other["kind"] == "cut-out":
        xs, ys = zip(*(c["at_mm"] for c in other["corners"]), strict=True)
        return math.dist(at, (sum(xs) / len(xs), sum(ys) / len(ys)))
    return math.dist(at, other["centre_mm"])


def _reach(other: Data) -> float:
    if other["kind"] == "hole":
        return max(float(other["diameter_mm"]), 12.0)
    if other["kind"] == "slot":
        return max(float(other["length_mm"]), 12.0)
    xs, ys = zip(*(c["at_mm"] for c in other["corners"]), strict=True)
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _opening(draft: Draft, name: str, at: tuple[float, float], size: float) -> Data:
    kind = draft.pick(("hole", "slot", "rectangle", "triangle", "lens", "gate", "angle", "star"))
    draft.tag("hole without a bolt" if kind == "hole" else "slot" if kind == "slot" else f"cut-out, {kind}")
    x, y = at
    if kind == "hole":
        return {"kind": "hole", "name": name, "centre_mm": [x, y], "diameter_mm": size}
    if kind == "slot":
        angle = float(draft.pick((0.0, 45.0, 90.0, -20.0)))
        slot = {"centre_mm": [x, y], "length_mm": 1.7 * size, "width_mm": size * 0.8, "angle_deg": angle}
        return {"kind": "slot", "name": name, **slot}
    return {"kind": "cut-out", "name": name, "corners": _loop(draft, kind, x, y, size * 0.75)}


def _loop(draft: Draft, kind: str, x: float, y: float, s: float) -> list[Data]:
    radius = 0.0 if draft.chance(0.35) else round(0.25 * s, 2)
    draft.tag("sharp inside corner" if radius == 0.0 else "inside radius")
    if kind == "lens":
        return [
            {"at_mm": [x - s, y], "arc_via_mm": [x, y - 0.7 * s]},
            {"at_mm": [x + s, y], "arc_via_mm": [x, y + 0.7 * s]},
        ]
    if kind == "gate":
        return [
            {"at_mm": [x - s, y - s], "radius_mm": radius},
            {"at_mm": [x + s, y - s], "radius_mm": radius},
            {"at_mm": [x + s, y], "arc_via_mm": [x, y + s]},
            {"at_mm": [x - s, y]},
        ]
    if kind == "angle":
        places = [(-s, -s), (s, -s), (s, -0.2 * s), (-0.2 * s, -0.2 * s), (-0.2 * s, s), (-s, s)]
        radius = min(radius, 0.2 * s)
    elif kind == "triangle":
        places = [(-s, -0.6 * s), (s, -0.6 * s), (0.2 * s, s)]
    elif kind == "star":
        places = [
            ((1.0 if i % 2 else 0.55) * s * math.cos(0.4 * i * math.pi / 1.0 / 2.0),
             (1.0 if i % 2 else 0.55) * s * math.sin(0.4 * i * math.pi / 1.0 / 2.0))
            for i in range(10)
        ]  # fmt: skip
        radius = 0.0
    else:
        places = [(-s, -0.6 * s), (s, -0.6 * s), (s, 0.6 * s), (-s, 0.6 * s)]
    return [{"at_mm": [round(x + a, 3), round(y + b, 3)], "radius_mm": radius} for a, b in places]
