"""What the proof's readings say of stiffness: the mounting's own, beside the donor's as the reference."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from app.editing.bar_pull import stiffness_words
from app.record.record import DonorHang, Proof, Record
from geometry.bracket import Bracket
from solver.proof_readings import GaugePlace, Hang, ProofError, turn_arm_mm
from solver.proof_stiffness import HungReadings, Measured, compared, measured_stiffness


@dataclass(frozen=True)
class StiffnessLine:
    """One stiffness that was measured, or why it was not."""

    what: str
    found: Measured | None
    beside: str = ""
    """How it stands beside the donor's; empty for the donor's own, and while that is not known."""
    trouble: str = ""

    @property
    def words(self) -> str:
        """Return it in a sentence."""
        if self.found is None:
            return f"{self.what}: {self.trouble}"
        more = f"; {self.beside}" if self.beside else ""
        return f"{self.what}: {stiffness_words(self.found)}{more}"


def stiffness_lines(record: Record, bracket: Bracket) -> tuple[StiffnessLine, ...]:
    """Return the donor's own stiffness first, if it was hung, then that of every card that was read."""
    donor = record.measured.donor
    reference = None if donor is None else _of_donor(donor)
    lines = [] if reference is None else [reference]
    known = None if reference is None else reference.found
    for proof in record.measured.proof:
        line = _of_proof(proof, bracket)
        if line.found is not None and known is not None:
            line = StiffnessLine(line.what, line.found, compared(line.found, known))
        # what is missing of a card is told where the card is; here only beside a reference
        if line.found is not None or known is not None:
            lines.append(line)
    return tuple(lines)


def _of_donor(donor: DonorHang) -> StiffnessLine:
    what = f"the donor's own mounting{f' ({donor.where.strip()})' if donor.where.strip() else ''}"
    named = {
        "mass": donor.mass_kg, "arm": donor.arm_mm, "rake of its shaft": donor.rake_deg,
        "the gauge's distance from the shaft": donor.gauge_arm_mm, "left": donor.left_mm,
        "off after left": donor.after_left_mm, "right": donor.right_mm,
        "off after right": donor.after_right_mm,
    }  # fmt: skip
    if blank := _blank(named):
        return StiffnessLine(what, None, trouble=blank)
    left, after_left, right, after_right = (
        donor.left_mm or 0.0, donor.after_left_mm or 0.0, donor.right_mm or 0.0, donor.after_right_mm or 0.0,
    )  # fmt: skip
    hang = Hang(donor.mass_kg or 0.0, donor.arm_mm or 0.0, 0.0, donor.rake_deg or 0.0)
    return _measured(
        what, HungReadings(left, after_left, right, after_right), hang, donor.gauge_arm_mm or 0.0
    )


def _of_proof(proof: Proof, bracket: Bracket) -> StiffnessLine:
    what = f"this mounting, {proof.where}"
    named = {
        "mass": proof.mass_kg, "arm": proof.arm_mm, "the gauge's place": proof.gauge_at_mm,
        "the way it reads": proof.gauge_along, "left": proof.left_mm, "left again": proof.left_again_mm,
        "zero after left": proof.zero_after_left_mm, "right": proof.right_mm,
        "zero after right": proof.zero_after_right_mm,
    }  # fmt: skip
    if blank := _blank(named):
        return StiffnessLine(what, None, trouble=blank)
    along = proof.gauge_along or (0.0, 0.0, 0.0)
    if not any(along):
        return StiffnessLine(what, None, trouble="the way the gauge reads is blank")
    share, gap = proof.share_mm or 0.0, proof.gap_mm or 0.0
    hang = Hang(proof.mass_kg or 0.0, proof.arm_mm or 0.0, proof.station_mm, bracket.rake_deg or 0.0)
    arm = abs(turn_arm_mm(GaugePlace(proof.gauge_at_mm or (0.0, 0.0, 0.0), along)))
    return _measured(what, HungReadings(share, gap, -share, 0.0), hang, arm)


def _measured(what: str, readings: HungReadings, hang: Hang, arm_mm: float) -> StiffnessLine:
    try:
        return StiffnessLine(what, measured_stiffness(readings, hang.couple_nm, arm_mm))
    except ProofError as error:
        return StiffnessLine(what, None, trouble=str(error))


def _blank(named: Mapping[str, object]) -> str:
    blank = [name for name, value in named.items() if value is None]
    return f"not read whole: {', '.join(blank)} blank" if blank else ""
