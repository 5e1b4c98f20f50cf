"""A judged file as JSON for machines: keys in a fixed order, no number that is not finite."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from app.cautions import CAUTIONS
from app.cli.strict_json import strict_json
from app.report.reasons import reasons
from app.wording.figures import Units, in_units
from app.wording.verdict_words import driving_words
from geometry.finding_words import sentence
from solver.version import VERSION

if TYPE_CHECKING:
    from app.report.judged_file import JudgedFile
    from geometry.finding import Finding
    from solver.around.line import AroundLine
    from solver.results import CaseResult, Check, Results


def json_text(judged: list[JudgedFile], units: Units = "mm") -> str:
    """Return one object for one file, a list for several. Keys carry their unit; `checks` state theirs."""
    objects = [_object(j, units) for j in judged]
    return strict_json(objects[0] if len(objects) == 1 else objects)


def _object(judged: JudgedFile, units: Units) -> dict[str, Any]:
    r = judged.results
    head: dict[str, Any] = {
        "file": judged.file,
        "title": judged.bracket.title if judged.bracket is not None else "",
        "verdict": judged.verdict,
        "reasons": list(reasons(judged)),
        "exit_code": judged.exit_code,
        "limits_from": judged.limits.source if judged.limits is not None else "file",
    }
    body = _empty_body() if r is None else _body(r, units)
    version = r.version if r is not None else VERSION
    digest = r.hash if r is not None else judged.bracket.input_hash() if judged.bracket is not None else None
    return (
        head
        | body
        | {
            "findings": [_finding(f) for f in judged.findings],
            "cautions": list(CAUTIONS),
            "hash": digest,
            "version": version,
        }
    )


def _body(r: Results, units: Units) -> dict[str, Any]:
    casing, share = r.casing, r.friction_share
    return {
        "couple_nm": r.couple_nm,
        "couple_factor": r.couple_factor,
        "couple_source": r.couple_source,
        "holds_to_nm": r.holds_to_nm,
        "ended_by": r.ended_by,
        "friction_fails_nm": r.friction_fails_nm,
        "governs": _governs(r),
        "checks": [_check(c, units) for c in r.checks],
        "casing": None
        if casing is None
        else {
            "turn_deg": casing.turn_deg,
            "lean_deg": casing.lean_deg,
            "movement_mm": casing.movement_mm,
            "lash_deg": casing.lash_deg,
        },
        "turn_shares": [{"part": part.name, "share": part.share} for part in r.turn_shares],
        "friction_share": None if share is None else share.share,
        "stiffness": None
        if share is None
        else {"stuck_nm_per_deg": share.stuck_nm_per_deg, "slipped_nm_per_deg": share.slipped_nm_per_deg},
        "swing": None if r.swing is None else {"hz": r.swing.hz, "words": r.swing.words},
        "free_motions": [
            {"words": m.words, "driven_by": list(m.driven_by), "moves_casing": m.moves_casing}
            for m in r.free_motions
        ],
        "bolts": [
            {
                "name": b.name,
                "state": b.state,
                "shear_n": b.shear_n,
                "tension_n": b.tension_n,
                "spin_nm": b.spin_nm,
                "tilt_nm": b.tilt_nm,
                "slip_used": b.slip_used,
                "case": b.case,
            }
            for b in r.bolts
        ],
        "welds": [
            {
                "name": w.name,
                "plate": w.plate,
                "partner": w.partner,
                "throat_mm": w.throat_mm,
                "counted_mm": w.counted_mm,
                "along_n": float(w.force_n[0]),
                "out_of_edge_n": float(w.force_n[1]),
                "across_sheet_n": float(w.force_n[2]),
                "about_weld_nm": float(w.moment_nmm[0]) / 1000.0,
                "in_sheet_nm": float(w.moment_nmm[2]) / 1000.0,
                "twist_nm": float(w.moment_nmm[1]) / 1000.0,
                "used": w.used,
                "part": w.segment,
                "parts": w.segments,
                "case": w.case,
            }
            for w in r.welds
        ],
        "one_bolt_lost": [
            {
                "bolt": lost.bolt,
                "worst_check": lost.worst_check,
                "worst_used": lost.worst_used,
                "band": lost.band,
                "free_motion": lost.free_motion,
            }
            for lost in r.one_bolt_lost
        ],
        "cases": [_case(c) for c in r.cases],
        "accuracy": {
            "refined": r.accuracy.refined,
            "unknowns": list(r.accuracy.unknowns),
            "ratio": r.accuracy.ratio,
            "change": dict(r.accuracy.change),
            "words": r.accuracy.words,
            "footprints": r.accuracy.footprints,
        },
        "flagged": list(r.flagged),
        "assumptions": list(r.assumptions),
        "not_computed": list(r.not_computed),
        "around": [around_object(line) for line in r.around],
        "seconds": dict(r.seconds),
    }


def _empty_body() -> dict[str, Any]:
    return {
        "couple_nm": None,
        "couple_factor": None,
        "couple_source": "",
        "holds_to_nm": None,
        "ended_by": "",
        "friction_fails_nm": None,
        "governs": None,
        "checks": [],
        "casing": None,
        "turn_shares": [],
        "friction_share": None,
        "stiffness": None,
        "swing": None,
        "free_motions": [],
        "bolts": [],
        "welds": [],
        "one_bolt_lost": [],
        "cases": [],
        "accuracy": None,
        "flagged": [],
        "assumptions": [],
        "not_computed": [],
        "around": [],
        "seconds": {},
    }


def _check(check: Check, units: Units) -> dict[str, Any]:
    demand, unit = in_units(check.demand, check.unit, units)
    allowable, _ = in_units(check.allowable, check.unit, units)
    by_hand = None if check.by_hand is None else in_units(check.by_hand, check.unit, units)[0]
    return {
        "name": check.name,
        "used": check.used,
        "demand": demand,
        "allowable": allowable,
        "unit": unit,
        "band": check.band,
        "band_parts": {part.name: part.share for part in check.parts},
        "source": check.source,
        "where": check.where,
        "by_hand": by_hand,
        "by_hand_words": check.by_hand_words,
        "case": check.case,
        "kind": check.kind,
        "note": check.note,
    }


def around_object(line: AroundLine) -> dict[str, Any]:
    """Return one line around the bracket as an object."""
    return {
        "group": line.group,
        "name": line.name,
        "standing": line.standing,
        "words": line.words,
        "source": line.source,
        "value": line.value,
        "limit": line.limit,
        "unit": line.unit,
    }


def _case(case: CaseResult) -> dict[str, Any]:
    return {
        "name": case.name,
        "words": case.words,
        "state": case.state,
        "turn_deg": case.turn_deg,
        "lean_deg": case.lean_deg,
        "movement_mm": case.movement_mm,
        "unbalance": case.unbalance,
        "sheets": [
            {
                "bolt": sheet.bolt,
                "force_n": [float(x) for x in sheet.force_n],
                "moment_nmm": [float(x) for x in sheet.moment_nmm],
                "at_mm": [float(x) for x in sheet.at_mm],
            }
            for sheet in case.sheets
        ],
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "severity": finding.severity,
        "where": finding.where,
        "sentence": sentence(finding),
        "values": dict(finding.values),
    }


def _governs(r: Results) -> str | None:
    """Return the name of the check that governs, or `free motion` where a load case drives one."""
    if driving_words(r):
        return "free motion"
    return None if r.governs is None else r.governs.name
