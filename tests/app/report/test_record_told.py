"""What a report tells of an inspection: what the decision rests on, as drawn and as built."""

from __future__ import annotations

from dataclasses import replace

from app.record.comparison import Judgements, compare
from app.record.profile import Profile
from app.record.record import MeasuredThickness
from app.report.blocks import Bullets
from app.report.record_part import record_blocks
from tests.app.record.examples import clear_results, good_proof, locked_bracket, measured, settled_record
from tests.app.report.reports import record_part


def test_what_was_built_otherwise_and_what_was_hung_are_told() -> None:
    bracket = locked_bracket()
    thin = MeasuredThickness(plate="front", thickness_mm=5.2)
    record = settled_record(bracket).but(
        measured=measured(thicknesses=(thin,), proof=(good_proof(arm_mm=None),))
    )
    part = record_part(record, bracket)
    judged = Judgements(under_profile=clear_results(), built=clear_results("marginal"))
    part = replace(part, comparison=compare(bracket, record, Profile(), judged))
    told = " | ".join(
        said
        for block in record_blocks(part, bracket)
        if isinstance(block, Bullets)
        for said in block.sentences
    )
    assert "As built: MARGINAL for 30 N.m" in told
    assert "plate front is 5.2 mm thick, drawn 6" in told
    assert "6.2 kg hung at an arm not written down, left 0.06 mm" in told
    assert "after left 0.01 mm, after right 0 mm" in told
