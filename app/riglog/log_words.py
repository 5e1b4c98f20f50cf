"""The figures of a log in words: one sentence of the main one, rows of all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.riglog.bracket_log import BracketLog
from app.riglog.couple_log import CoupleLog

if TYPE_CHECKING:
    from app.riglog.opened import Judged


def headline(found: Judged) -> str:
    """Return the log's main figure in a sentence."""
    if found.couple is not None:
        peak = found.couple.highest
        by = "load cell" if peak is found.couple.cell_peak else found.couple.source
        turns = f", {found.couple.cycles} cycles" if found.couple.cycles else ""
        return f"Peak couple {peak.couple_nm:.3g} N.m by {by}, line {peak.line}{turns}."
    if found.bracket is not None:
        one = found.bracket
        return f"Stiffness {one.stiffness:.4g} N.m/{one.unit} (standard error {one.stiffness_error:.2g})" + (
            "." if one.dead_band is None else f"; dead band {_band(one)}."
        )
    return "No figure is taken from this log until what is wrong is put right."


def couple_rows(one: CoupleLog) -> list[tuple[str, str, str]]:
    """Return (what, value, unit) of a couple log."""
    rows = [("peak, slow rows" if one.fast_known else "peak", f"{one.peak.couple_nm:.3f}", "N.m")]
    if one.cell_peak is not None and one.source != "load cell":
        rows.append(("peak of force x arm, all rows", f"{one.cell_peak.couple_nm:.3f}", "N.m"))
    if one.fast_peak_nm is not None:
        rows.append(("peak of fast rows, apart", f"{one.fast_peak_nm:.3f}", "N.m"))
    rows.append(("cycles", str(one.cycles), ""))
    if one.fast_known:
        rows.append(("rows judged", f"{100.0 * float(one.slow.mean()):.0f}", "%"))
    if one.agreement is not None:
        both = one.agreement
        rows += [
            ("output - input over force x arm", f"{both.slope:.4f} +- {both.slope_error:.4f}", ""),
            ("residual, mean", f"{both.mean_nm:.3f}", "N.m"),
            ("residual, rms", f"{both.rms_nm:.3f}", "N.m"),
        ]
    if one.inertia is not None:
        rows.append(
            (
                "rotor inertia, from fast rows",
                f"{one.inertia.kg_m2:.4f} +- {one.inertia.error_kg_m2:.4f}",
                "kg.m2",
            )
        )
    return rows


def bracket_rows(one: BracketLog) -> list[tuple[str, str, str, str]]:
    """Return (what, value, standard error, unit) of a bracket log."""
    rows = [("stiffness", f"{one.stiffness:.1f}", f"{one.stiffness_error:.1f}", f"N.m/{one.unit}")]
    if one.dead_band is not None:
        rows.append(("dead band", f"{one.dead_band:.4f}", f"{one.dead_band_error:.4f}", one.unit))
    if one.crossing_nm is not None:
        rows.append(("goes over at", f"{one.crossing_nm:.2f}", "", "N.m"))
    rows += [
        ("scatter about the lines", f"{one.scatter:.4f}", "", one.unit),
        ("rows pushed hard", str(one.hard_rows), "", ""),
    ]
    return rows


def _band(one: BracketLog) -> str:
    if not one.banded:
        return "not told from none"
    over = "" if one.crossing_nm is None else f", crossed at {one.crossing_nm:.2g} N.m"
    return f"{one.dead_band or 0.0:.3g} {one.unit} (standard error {one.dead_band_error:.1g}){over}"
