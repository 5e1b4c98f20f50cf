"""The record of an inspection as blocks of a report. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from app.paper.tables import Column, Table
from app.record.due import conditions_told
from app.record.record import HASH_WORDS, Measured, Proof, Record
from app.record.stiffness import stiffness_lines
from app.report.blocks import Block, Bullets, Heading, Paragraph, Tabled
from app.report.job import RecordPart
from geometry.bracket import Bracket

_STATES: Final = {"open": "open", "met": "met", "not met": "NOT MET", "not applicable": "not applicable"}


def record_blocks(part: RecordPart, bracket: Bracket) -> Iterator[Block]:
    """Yield the inspection: how it stands, what is open, claim, check-list, measured values, decision."""
    record = part.record
    yield Heading("Record of the inspection", 1)
    yield Paragraph(f"{part.standing.word.upper()}: {part.standing.sentence}", "bold")
    compared = part.comparison
    built = (compared.built_line, *compared.as_built.differences) if compared.built_line else ()
    yield Bullets((*compared.claim_lines, compared.verdict_line, *built))
    yield Heading(f"Open items: {len(part.items)}")
    if part.items:
        yield Bullets(tuple(f"{item.about}: {item.words}" for item in part.items))
    yield Heading("Check-list")
    columns = (Column("group", 38), Column("line", 92), Column("state", 22), Column("remark", 48))
    rows = tuple(
        (i.group, f"{i.words} [{i.clause}]" if i.clause else i.words, _STATES[i.state], i.remark)
        for i in record.check_list
    )
    yield Tabled(Table(columns, rows, size_mm=2.3))
    if measured := _measured(record.measured):
        yield Heading("Measured as built")
        yield Bullets((*measured, *(line.words for line in stiffness_lines(record, bracket))))
    yield from _decided(record)
    yield Paragraph(HASH_WORDS, "small")


def _measured(measured: Measured) -> tuple[str, ...]:
    return (
        *(f"plate {t.plate}: {t.thickness_mm:g} mm thick" for t in measured.thicknesses),
        *(
            f"hole {h.opening} of plate {h.plate}: at ({h.centre_mm[0]:g}, {h.centre_mm[1]:g}) mm"
            for h in measured.holes
        ),
        *(f"bolt {t.bolt}: {t.tightening_nm:g} N.m" for t in measured.torques),
        *(
            f"play at {p.where}: {p.play_mm:g} mm"
            + (f", at most {p.most_mm:g} mm allowed" if p.most_mm is not None else "")
            for p in measured.play
        ),
        *(
            f"proof at {p.where}: {_hung(p)}, left {_read(p.left_mm)}, right {_read(p.right_mm)},"
            f" left again {_read(p.left_again_mm)}, zero {p.zero_mm:g} mm, after left"
            f" {_read(p.zero_after_left_mm)}, after right {_read(p.zero_after_right_mm)}"
            for p in measured.proof
        ),
    )


def _hung(proof: Proof) -> str:
    mass = "a mass not written down" if proof.mass_kg is None else f"{proof.mass_kg:g} kg"
    arm = "an arm not written down" if proof.arm_mm is None else f"{proof.arm_mm:g} mm"
    return f"{mass} hung at {arm}"


def _read(value: float | None) -> str:
    return "not read" if value is None else f"{value:g} mm"


def _decided(record: Record) -> Iterator[Block]:
    told = [f"decision: {record.decision}"]
    if record.conditions:
        told += [f"condition: {condition}" for condition in conditions_told(record)]
    if record.reason.strip():
        told.append(f"reason: {record.reason.strip()}")
    if record.remarks.strip():
        told.append(f"remarks: {record.remarks.strip()}")
    if record.photographs:
        told.append(f"photographs in the record: {', '.join(p.name for p in record.photographs)}")
    told.append(f"{record.certifier.strip() or 'no name'}, {record.date or 'no date'}")
    yield Heading("Decision")
    yield Bullets(tuple(told))
