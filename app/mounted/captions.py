"""What a picture of the mounted bracket shows, in words."""

from __future__ import annotations

from typing import Final

from app.wording.figures import Units, in_units
from solver.results import CaseResult, FreeMotion, Results

TIMES: Final = "\u00d7"
_STATES: Final = {"stuck": "bolts stuck", "all slipped": "all bolts slipped", "sliding": "sliding"}


def mounted_words(
    results: Results,
    factor: float,
    case: CaseResult | None,
    *,
    forces: bool,
    pencil: bool,
    stress: bool = True,
    units: Units = "mm",
) -> str:
    """Return lines that say how far the movement is drawn, in which load case, and what the map shows."""
    how = "at rest" if factor == 0.0 else "true scale" if factor == 1.0 else f"moved {TIMES}{factor:g}"
    lines = [f"as mounted, {how}{_so_far(pencil)}"]
    if case is not None and (factor != 0.0 or forces):
        arrows = "; forces of the bolts on the plates" if forces else ""
        lines.append(f"{case.name}, {_STATES[case.state]}{arrows}")
    elif factor != 0.0 and results.plates:
        lines.append("each plate in its own worst case")
    per_mpa, unit = in_units(1.0, "MPa", units)
    limits = sorted({round(field.allowable_mpa * per_mpa, 1) for field in results.plates})
    if limits and stress:
        allowable = " and ".join(f"{limit:g}" for limit in limits)
        lines.append(f"worst stress of all cases in {unit}; allowable {allowable}")
    return "\n".join(lines)


def free_motion_words(motion: FreeMotion, *, pencil: bool) -> str:
    """Return a free motion's words and what drives it."""
    driven = f"driven by {len(motion.driven_by)} load cases" if motion.driven_by else "no load case drives it"
    return f"free motion{_so_far(pencil)}\n{motion.words}\n{driven}"


def _so_far(pencil: bool) -> str:
    return ", so far" if pencil else ""
