"""Readings of the proof in the car against what they should lie between: outside is open, never a pass.

The bands are foretold from what is computed now wherever the record says where the gauge stood; only else do
those count that the record brings along.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from app.record.record import Expected, Proof, Record
from geometry.bracket import Bracket
from solver.proof_readings import GAUGE_MM, GaugePlace, Hang, ProofError, expected_readings
from solver.proof_readings import Expected as Foretold
from solver.results import Results

LEAST_SHARE_HUNG: Final = 0.98
"""Of the couple that is to be held: masses are weighed on a kitchen scale."""
MOST_APART_SHARE: Final = 0.2
"""Of the couple's share: farther apart the two readings at the left must not lie."""


@dataclass(frozen=True)
class ProofLine:
    """One reading beside its band."""

    what: str
    value_mm: float | None
    """None where it was not read."""
    band: Expected | None

    @property
    def inside(self) -> bool:
        """Return whether the reading lies in its band; False where there is no reading or no band."""
        if self.value_mm is None or self.band is None or self.band.high_mm is None:
            return False
        return self.band.low_mm <= self.value_mm <= self.band.high_mm

    @property
    def words(self) -> str:
        """Return the reading and its band."""
        read = "not read" if self.value_mm is None else f"{self.value_mm:.3f} mm"
        return f"{self.what} {read} ({_band_words(self.band)})"


def proof_lines(proof: Proof, results: Results | None, bracket: Bracket) -> tuple[ProofLine, ...]:
    """Return couple's share, sag and gap at zero, each with the band it should lie in."""
    share, sag, gap = _foretold(proof, results, bracket) or (
        proof.expected_share, proof.expected_sag, proof.expected_gap,
    )  # fmt: skip
    return (
        ProofLine("couple's share", proof.share_mm, share),
        ProofLine("sag", proof.sag_mm, sag),
        ProofLine("gap at zero", proof.gap_mm, gap),
    )


def couple_nm(proof: Proof, bracket: Bracket) -> float | None:
    """Return the unfactored couple the hung mass makes about the shaft; None if mass or arm is blank."""
    hang = _hang(proof, bracket)
    return None if hang is None else hang.couple_nm


def proof_words(proof: Proof, results: Results | None, bracket: Bracket) -> str:
    """Return what a proof says, in a sentence."""
    hung = couple_nm(proof, bracket)
    hung_words = "mass or arm blank" if hung is None else f"{hung:.3g} N.m hung"
    lines = "; ".join(line.words for line in proof_lines(proof, results, bracket))
    return f"proof, {proof.where}: {hung_words}; {lines}"


def open_proofs(record: Record, results: Results | None, bracket: Bracket) -> tuple[str, ...]:
    """Return a sentence for every reading that keeps the record open."""
    found: list[str] = []
    for proof in record.measured.proof:
        where = f"proof at {proof.where}"
        found += [
            f"{where}: {line.words}{_why(line)}"
            for line in proof_lines(proof, results, bracket)
            if not line.inside
        ]
        found += [f"{where}: {words}" for words in (_apart(proof), _too_little(proof, bracket)) if words]
    return tuple(found)


def _apart(proof: Proof) -> str:
    if proof.apart_mm is None:
        return ""
    most = max(2.0 * GAUGE_MM, MOST_APART_SHARE * abs(proof.share_mm or 0.0))
    if proof.apart_mm <= most:
        return ""
    return (
        f"the two readings at the left lie {proof.apart_mm:.3f} mm apart; something gave way or slipped,"
        " hang it again"
    )


def _too_little(proof: Proof, bracket: Bracket) -> str:
    hung, wanted = couple_nm(proof, bracket), bracket.loads.couple.value_nm
    if hung is None:
        return "the mass or its arm is blank"
    if wanted is not None and hung < LEAST_SHARE_HUNG * wanted:
        return f"{hung:.3g} N.m were hung, less than the couple of {wanted:.3g} N.m"
    return ""


def _why(line: ProofLine) -> str:
    if line.value_mm is None or line.band is None:
        return ""
    if line.band.high_mm is None:
        return "; nothing but friction stops it, so the reading proves nothing"
    return "; outside its band"


def _foretold(
    proof: Proof, results: Results | None, bracket: Bracket
) -> tuple[Expected, Expected, Expected] | None:
    hang = _hang(proof, bracket)
    if results is None or hang is None or proof.gauge_at_mm is None or proof.gauge_along is None:
        return None
    if not any(proof.gauge_along):
        return None
    try:
        found = expected_readings(results, GaugePlace(proof.gauge_at_mm, proof.gauge_along), hang)
    except ProofError:
        return None
    return _band(found.couple_share), _band(found.sag), _band(found.gap)


def _hang(proof: Proof, bracket: Bracket) -> Hang | None:
    if proof.mass_kg is None or proof.arm_mm is None:
        return None
    return Hang(proof.mass_kg, proof.arm_mm, proof.station_mm, bracket.rake_deg or 0.0)


def _band(found: Foretold) -> Expected:
    return Expected(low_mm=found.low_mm, high_mm=found.high_mm)


def _band_words(band: Expected | None) -> str:
    if band is None:
        return "nothing is expected: say where the gauge stood"
    if band.high_mm is None:
        return f"expected {band.low_mm:.3f} or more"
    return f"expected {band.low_mm:.3f} to {band.high_mm:.3f}"
