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


def couple_nm(proof: Proof, bracket: Bracket) -> float:
    """Return the unfactored couple the hung mass makes about the shaft."""
    return _hang(proof, bracket).couple_nm


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
        if proof.apart_mm > max(2.0 * GAUGE_MM, MOST_APART_SHARE * abs(proof.share_mm)):
            found.append(
                f"{where}: the two readings at the left lie {proof.apart_mm:.3f} mm apart;"
                " something gave way or slipped, hang it again"
            )
        hung, wanted = couple_nm(proof, bracket), bracket.loads.couple.value_nm
        if wanted is not None and hung < 0.98 * wanted:
            found.append(f"{where}: {hung:.3g} N.m were hung, less than the couple of {wanted:.3g} N.m")
    return tuple(found)


def _why(line: ProofLine) -> str:
    if line.value_mm is None or line.band is None:
        return ""
    if line.band.high_mm is None:
        return "; nothing but friction stops it, so the reading proves nothing"
    return "; outside its band"


def _foretold(
    proof: Proof, results: Results | None, bracket: Bracket
) -> tuple[Expected, Expected, Expected] | None:
    if results is None or proof.gauge_at_mm is None or proof.gauge_along is None:
        return None
    if not any(proof.gauge_along):
        return None
    try:
        found = expected_readings(
            results, GaugePlace(proof.gauge_at_mm, proof.gauge_along), _hang(proof, bracket)
        )
    except ProofError:
        return None
    return _band(found.couple_share), _band(found.sag), _band(found.gap)


def _hang(proof: Proof, bracket: Bracket) -> Hang:
    return Hang(proof.mass_kg, proof.arm_mm, proof.station_mm, bracket.rake_deg or 0.0)


def _band(found: Foretold) -> Expected:
    return Expected(low_mm=found.low_mm, high_mm=found.high_mm)


def _band_words(band: Expected | None) -> str:
    if band is None:
        return "nothing is expected: say where the gauge stood"
    if band.high_mm is None:
        return f"expected {band.low_mm:.3f} or more"
    return f"expected {band.low_mm:.3f} to {band.high_mm:.3f}"
