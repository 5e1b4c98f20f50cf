"""What the program says of one bracket, as rows of the kept table."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from importlib.metadata import version
from pathlib import Path
from typing import Any, Final

import numpy as np

from geometry.bracket import Bracket
from geometry.bracket_file import SUFFIX, read_bracket
from geometry.finding import Finding
from geometry.input_hash import NO_INPUT, hash_of
from geometry.placing import place_bolts
from solver.analyse import Judged, analyse_in_turn
from solver.condensed_plate import CondensedPlate
from solver.kept_plates import KeptPlates
from solver.results import Check, Results
from tests.golden.rows import STAGES, Figure, Row, numbered

SAMPLES: Final = Path(__file__).parents[2] / "sample_brackets"
LIBRARIES: Final = ("clarabel", "gmsh", "numpy", "scikit-fem", "scipy", "shapely")
"""What the figures come through; another version of one may move them."""

(INPUTS, FINDINGS, PLACING, FIRST_MESH, FIRST_SOLVE, LAST_MESH, LAST_SOLVE, BANDS, VERDICT) = STAGES
_Told = tuple[str, str, dict[str, Figure]]
"""Stage, thing and figures: a row before it is known of which sample."""


def names() -> list[str]:
    """Return the names of all samples, sorted."""
    return sorted(path.name.removesuffix(SUFFIX) for path in SAMPLES.glob(f"*{SUFFIX}"))


def made_with() -> str:
    """Return the libraries that figures come through, with their versions."""
    return ", ".join(f"{name} {version(name)}" for name in LIBRARIES)


def rows_of(name: str, kept: KeptPlates | None = None) -> list[Row]:
    """Return every row of the sample of that name; `kept` as for `analyse`.

    Raises ValueError if the sample cannot be read, SolverError as `analyse` does.
    """
    bracket = read_bracket(SAMPLES / f"{name}{SUFFIX}").bracket
    if bracket is None:
        raise ValueError(f"the sample {name} cannot be read")
    turns = list(analyse_in_turn(bracket, kept=kept))
    return rows_said(name, bracket, turns)


def rows_said(name: str, bracket: Bracket, turns: list[Judged]) -> list[Row]:
    """Return the rows of a bracket that was judged in pencil and then in ink, or, unsolved, once."""
    last = turns[-1].results
    told = [
        *_inputs(bracket),
        *_findings(last),
        *_placing(bracket),
        *(_mesh_and_solve(turns[0], FIRST_MESH, FIRST_SOLVE) if turns[0].solved else ()),
        *(_mesh_and_solve(turns[-1], LAST_MESH, LAST_SOLVE) if turns[-1].solved else ()),
        *_answers(last),
        *(_band(check, last) for check in last.checks),
        *_verdict(last),
    ]
    return numbered(Row(name, stage, thing, figures) for stage, thing, figures in told)


def _inputs(bracket: Bracket) -> Iterator[_Told]:
    inputs: dict[str, Any] = bracket.model_dump(mode="json", exclude=set(NO_INPUT))
    yield INPUTS, "hash", {"sha256": hash_of(inputs)}
    # What came to the file later and says nothing new is gone from `inputs` by now.
    for part, said in inputs.items():
        digest = hashlib.sha256(json.dumps(said, sort_keys=True).encode()).hexdigest()[:12]
        yield INPUTS, f"part {part}", {"digest": digest}


def _findings(results: Results) -> Iterator[_Told]:
    for finding in results.findings:
        yield FINDINGS, f"{finding.code}, {finding.where}", _values(finding)
    for line in results.around:
        figures: dict[str, Figure] = {"standing": line.standing}
        figures |= {"value": line.value} if line.value is not None else {}
        figures |= {"limit": line.limit} if line.limit is not None else {}
        yield FINDINGS, f"around: {line.group}, {line.name}", figures


def _values(finding: Finding) -> dict[str, Figure]:
    said = {f"value {k}": v if isinstance(v, str) else float(v) for k, v in finding.values.items()}
    return {"severity": finding.severity} | said


def _placing(bracket: Bracket) -> Iterator[_Told]:
    for place in place_bolts(bracket):
        yield (
            PLACING,
            f"bolt {place.bolt}, {place.side}",
            {
                "partner": f"{place.partner} {place.partner_name}".strip(),
                **_axes("at", place.mating_mm, "mm"),
                **_axes("axis", place.axis),
                "gap_mm": float(place.gap_mm),
                "offset_mm": float(place.offset_mm),
                "tilt_deg": float(place.tilt_deg),
                "ring_mm": float(place.mating_outer_mm),
                "clamped_mm": float(place.clamp_length_mm),
            },
        )


def _mesh_and_solve(judged: Judged, meshed: str, solve: str) -> Iterator[_Told]:
    assert judged.solved is not None
    for plate in judged.solved.plates:
        yield meshed, f"plate {plate.plate.name}", _mesh(plate)
        yield (
            solve,
            f"plate {plate.plate.name}",
            {
                "stiffness": float(np.linalg.norm(plate.stiffness)),
                "stiffness_trace": float(np.trace(plate.stiffness)),
                "modes": float(np.linalg.norm(plate.modes)),
                "weight": float(np.linalg.norm(plate.weight_wrench)),
                "mass_kg": float(plate.mass_kg),
            },
        )
    yield meshed, "whole", {"meshes": float(len(judged.results.accuracy.unknowns)), **_unknowns(judged)}
    for check in judged.results.checks:
        demand: dict[str, Figure] = {"demand": float(check.demand), "unit": check.unit}
        # Pencil tells where a change began; where each check is judged stands in ink.
        yield solve, f"check {check.name}", demand if solve == FIRST_SOLVE else _check(check)


def _mesh(plate: CondensedPlate) -> dict[str, Figure]:
    mesh = plate.mesh
    return {
        "elements": float(len(mesh.tets)),
        "unknowns": float(3 * len(mesh.points)),
        # Which node is of which element: whole numbers, so the same on every processor if the mesh is.
        "joined": hashlib.sha256(np.ascontiguousarray(mesh.tets, dtype="<i8").tobytes()).hexdigest()[:12],
        **_axes("middle", mesh.points.mean(axis=0), "mm"),
        "spread_mm": float(np.sqrt(((mesh.points - mesh.points.mean(axis=0)) ** 2).sum(axis=1).mean())),
        "quality": float(mesh.least_quality),
    }


def _unknowns(judged: Judged) -> dict[str, Figure]:
    counts = judged.results.accuracy.unknowns
    return {f"unknowns_{number}": float(count) for number, count in enumerate(counts, 1)}


def _check(check: Check) -> dict[str, Figure]:
    return {
        "demand": float(check.demand),
        "allowable": float(check.allowable),
        "unit": check.unit,
        "used": float(check.used),
        "where": check.where,
        "case": check.case,
    }


def _answers(results: Results) -> Iterator[_Told]:
    if results.casing is not None:
        casing = results.casing
        yield (
            LAST_SOLVE,
            "movement of the casing",
            {
                "turn_deg": float(casing.turn_deg),
                "lean_deg": float(casing.lean_deg),
                "largest_mm": float(casing.movement_mm),
                "lash_deg": float(casing.lash_deg),
            },
        )
    if results.friction_share is not None:
        share = results.friction_share
        figures = {"share": share.share, "stuck": share.stuck_nm_per_deg, "slipped": share.slipped_nm_per_deg}
        yield LAST_SOLVE, "friction share", {name: float(figure) for name, figure in figures.items()}
    if results.friction_fails_nm is not None:
        yield LAST_SOLVE, "friction alone fails", {"couple_nm": float(results.friction_fails_nm)}
    if results.swing is not None:
        yield LAST_SOLVE, "slowest swing", {"hz": float(results.swing.hz), "words": results.swing.words}
    for motion in results.free_motions:
        driven = ", ".join(motion.driven_by)
        yield LAST_SOLVE, f"free motion: {motion.words}", {"driven_by": driven}
    for turn in results.turn_shares:
        yield LAST_SOLVE, f"share of the turn: {turn.name}", {"share": float(turn.share)}
    yield from _connections(results)


def _connections(results: Results) -> Iterator[_Told]:
    for bolt in results.bolts:
        figures: dict[str, Figure] = {
            "state": bolt.state,
            "shear_n": float(bolt.shear_n),
            "tension_n": float(bolt.tension_n),
            "spin_nm": float(bolt.spin_nm),
            "tilt_nm": float(bolt.tilt_nm),
        }
        figures |= {} if bolt.slip_used is None else {"slip_used": float(bolt.slip_used)}
        yield LAST_SOLVE, f"bolt {bolt.name}", figures
    for weld in results.welds:
        forces = _axes("force", weld.force_n, "n") | _axes("moment", weld.moment_nmm, "nmm")
        yield LAST_SOLVE, f"weld {weld.name}", {"used": float(weld.used), "case": weld.case, **forces}
    for lost in results.one_bolt_lost:
        used = {"used": float(lost.worst_used), "band": float(lost.band)}
        figures = used | {"check": lost.worst_check, "moves": lost.free_motion}
        yield LAST_SOLVE, f"without bolt {lost.bolt}", figures


def _band(check: Check, results: Results) -> _Told:
    parts = {part.name: float(part.share) for part in check.parts}
    change = results.accuracy.change.get(check.name)
    changed = {} if change is None else {"change": float(change)}
    return BANDS, f"check {check.name}", {"band": float(check.band), **parts, **changed}


def _verdict(results: Results) -> Iterator[_Told]:
    yield VERDICT, "verdict", {"word": results.verdict}
    for number, reason in enumerate(results.reasons, 1):
        yield VERDICT, f"reason {number}", {"words": reason}
    ends: dict[str, Figure] = {} if results.holds_to_nm is None else {"couple_nm": float(results.holds_to_nm)}
    yield VERDICT, "holds to", {**ends, "ended_by": results.ended_by}
    yield VERDICT, "governs", {"check": "" if results.governs is None else results.governs.name}
    for check in results.checks:
        yield VERDICT, f"check {check.name}", {"upper_end": float(check.used_upper)}


def _axes(name: str, values: Iterable[float], unit: str = "") -> dict[str, Figure]:
    ending = f"_{unit}" if unit else ""
    return {f"{name}_{axis}{ending}": float(value) for axis, value in zip("xyz", values, strict=True)}
