"""A measured couple put into a bracket, with where it comes from."""

from __future__ import annotations

from app.riglog.couple_log import CoupleLog
from app.riglog.log_error import LogError
from geometry.bracket import Bracket
from geometry.loads import LoadCell, TorqueMeters

_LONGEST_NOTE = 2000
_LEAST_ARM_MM = 0.001


def with_measured_couple(bracket: Bracket, log: CoupleLog) -> Bracket:
    """Return the bracket with the log's highest couple as its couple, and the log named in its note.

    LogError where the log gives a couple without the readings it was made of.
    """
    couple = measured_couple(log)
    note = f"Couple read from {log.log.table.name or 'a rig log'}, line {log.highest.line}."
    kept = bracket.note if note in bracket.note else f"{bracket.note} {note}".strip()
    return bracket.but(
        loads=bracket.loads.but(couple=couple), note=kept if len(kept) <= _LONGEST_NOTE else bracket.note
    )


def measured_couple(log: CoupleLog) -> TorqueMeters | LoadCell:
    """Return the highest couple as a bracket's; the larger one where meters and load cell both read it."""
    peak = log.highest
    by_cell = log.source == "load cell" or (log.cell_peak is not None and peak is log.cell_peak)
    if by_cell and peak.force_n is not None and peak.arm_mm is not None:
        if not peak.arm_mm > _LEAST_ARM_MM:
            raise LogError(
                f"The arm read with the highest couple, line {peak.line}, is {peak.arm_mm:g} mm: an arm is"
                " above 0; turn the force's sign instead, --signs force=-"
            )
        return LoadCell(force_n=round(peak.force_n, 3), arm_mm=round(peak.arm_mm, 3))
    if peak.output_nm is not None and peak.input_nm is not None:
        return TorqueMeters(output_nm=round(peak.output_nm, 4), input_nm=round(peak.input_nm, 4))
    raise LogError(
        "The log gives a couple ready made and not the readings it comes from, so its source cannot be"
        " recorded: log output and input, or force and arm."
    )


def measured_sentence(before: Bracket, after: Bracket) -> str:
    """Return what became of a bracket's couple, in a sentence."""
    old, new = before.loads.couple, after.loads.couple
    was = "blank" if old.value_nm is None else f"{old.value_nm:.3g} N.m, {old.words}"
    factor = f"{before.loads.couple_factor:g} to {after.loads.couple_factor:g}"
    return (
        f"The bracket's couple goes from {was}, to {new.value_nm or 0.0:.3g} N.m, {new.words}; the factor on"
        f" it from {factor}."
    )
