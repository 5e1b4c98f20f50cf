"""An inspected file as text for people and as JSON for machines: how the record stands comes first."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from app.cautions import CAUTIONS
from app.cli.page import Page, page_for_stdout
from app.cli.strict_json import strict_json
from app.record.comparison import Comparison, Judgements
from app.record.due import conditions_told
from app.record.letter import PaperSheet
from app.record.open_items import OpenItem, RecordStanding
from app.record.profile import Profile
from app.record.proof import proof_lines, proof_words, untold, what_tells
from app.record.record import HASH_WORDS, Record
from app.record.stiffness import StiffnessLine, stiffness_lines
from app.wording.figures import Units
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import sentence


@dataclass(frozen=True)
class Inspected:
    """One file with its record and everything that was made of them."""

    file: Path
    record_path: Path
    kept: bool
    """Whether the record is a file; else nothing was written."""
    carried: bool
    """Whether it was taken out of the report that carries it."""
    bracket: Bracket
    record: Record
    profile: Profile
    comparison: Comparison
    items: tuple[OpenItem, ...]
    standing: RecordStanding
    judged: Judgements
    record_findings: tuple[Finding, ...]
    letter: PaperSheet
    sheet: PaperSheet


def write_inspected(one: Inspected, units: Units = "mm") -> str:
    """Return the whole text."""
    page = page_for_stdout(units)
    page.line(f"{one.file}: {one.record.title}", style="bold")
    page.line(f"{one.standing.word.upper()}: {one.standing.sentence}", style="bold")
    if one.carried:
        page.line(f"This is the record carried in the report; --new begins another in {one.record_path}.")
    elif not one.kept:
        page.line(f"There is no record yet: --new begins one in {one.record_path}.")
    _open(page, one)
    _compared(page, one.comparison)
    _proved(page, one)
    _written_down(page, one)
    page.heading("Cautions")
    page.bullets((*one.profile.cautions, *CAUTIONS))
    page.blank()
    page.line(f"inputs {one.record.bracket_hash}. {HASH_WORDS}", style="dim")
    return page.text


def json_of(one: Inspected) -> str:
    """Return everything as JSON; photographs are only named."""
    compared = one.comparison
    record = one.record.model_dump(mode="json", exclude={"photographs"})
    data: dict[str, Any] = {
        "file": str(one.file),
        "record_file": str(one.record_path) if one.kept else None,
        "standing": one.standing.word,
        "sentence": one.standing.sentence,
        "exit_code": one.standing.exit_code,
        "verdict": compared.verdict,
        "judged_under": one.profile.name,
        "verdict_line": compared.verdict_line,
        "reasons": list(compared.reasons),
        "claim": compared.claim_state,
        "claim_lines": list(compared.claim_lines),
        "under_builder": compared.under_builder,
        "as_built": {"differences": list(compared.as_built.differences), "verdict_line": compared.built_line},
        "proof": _proof_json(one),
        "stiffness": [_stiffness_json(line) for line in stiffness_lines(one.record, one.bracket)],
        "open_items": [{"about": item.about, "words": item.words, "line": item.line} for item in one.items],
        "loosenings": [
            {
                "words": w.loosening.words,
                "kind": w.loosening.kind,
                "usual": w.loosening.usual_words,
                "rise": w.rise,
                "check": w.check,
            }
            for w in compared.loosenings
        ],
        "unused_bosses": list(compared.unused_bosses),
        "fasteners": list(compared.fasteners),
        "to_look_at": list(compared.to_look_at),
        "findings": [sentence(f) for f in (*one.judged.file_findings, *one.record_findings)],
        "record": record | {"photographs": [p.name for p in one.record.photographs]},
        "cautions": [*one.profile.cautions, *CAUTIONS],
        "hash_shows": HASH_WORDS,
    }
    return strict_json(data)


def _open(page: Page, one: Inspected) -> None:
    page.heading(f"Open items: {len(one.items)}")
    for number, item in enumerate(one.items, 1):
        page.hanging(f"  {number:>2} ", f"{item.about}: {item.words}")
    if not one.items:
        page.line("none", indent=2)


def _compared(page: Page, compared: Comparison) -> None:
    page.heading("Claim and what is computed now")
    page.bullets((*compared.claim_lines, compared.verdict_line, *compared.reasons))
    page.bullets(line for line in (compared.under_builder, compared.built_line) if line)
    page.bullets(compared.as_built.differences)
    for heading, lines in (
        ("Looser than usual, or on somebody's word; heaviest first", [w.words for w in compared.loosenings]),
        (
            "Bosses and bolts",
            [*(f"boss {name} is not used" for name in compared.unused_bosses), *compared.fasteners],
        ),
        ("Cannot be computed: look at", compared.to_look_at),
    ):
        if lines:
            page.heading(heading)
            page.bullets(lines)


def _proved(page: Page, one: Inspected) -> None:
    results = one.judged.under_profile
    lines: list[str] = []
    for proof in one.record.measured.proof:
        lines.append(proof_words(proof, results, one.bracket))
        lines += [tells] if (tells := untold(proof, results, one.bracket)) else []
    lines += [line.words for line in stiffness_lines(one.record, one.bracket)]
    if lines:
        page.heading("Proof in the car")
        page.bullets(lines)


def _proof_json(one: Inspected) -> list[dict[str, Any]]:
    results = one.judged.under_profile
    return [
        {
            "where": proof.where,
            "words": proof_words(proof, results, one.bracket),
            "readings": [
                {
                    "what": line.what,
                    "read_mm": line.value_mm,
                    "low_mm": None if line.band is None else line.band.low_mm,
                    "high_mm": None if line.band is None else line.band.high_mm,
                    "inside": line.inside,
                    "nought": line.is_nought,
                }
                for line in proof_lines(proof, results, one.bracket)
            ],
            "what_tells": what_tells(proof, results, one.bracket),
        }
        for proof in one.record.measured.proof
    ]


def _stiffness_json(line: StiffnessLine) -> dict[str, Any]:
    found = line.found
    return {
        "what": line.what,
        "nm_per_deg": None if found is None else found.nm_per_deg,
        "low_nm_per_deg": None if found is None else found.low,
        "high_nm_per_deg": None if found is None else found.high,
        "beside_donor": line.beside,
        "words": line.words,
    }


def _written_down(page: Page, one: Inspected) -> None:
    record = one.record
    lines = [sentence(f) for f in (*one.judged.file_findings, *one.record_findings)]
    if record.computed is not None:
        then = record.computed
        under = then.judged_under or "limits not named"
        lines.append(f"decided on {then.verdict.upper()} under {under}, version {then.program}")
    if record.conditions:
        lines += [f"condition: {condition}" for condition in conditions_told(record)]
    if record.reason.strip():
        lines.append(f"reason: {record.reason.strip()}")
    if record.remarks.strip():
        lines.append(f"remark: {record.remarks.strip()}")
    if record.photographs:
        lines.append(f"photographs: {', '.join(p.name for p in record.photographs)}")
    if record.certifier or record.date:
        lines.append(f"{record.certifier or 'no name'}, {record.date or 'no date'}")
    if lines:
        page.heading("Written down")
        page.bullets(lines)
