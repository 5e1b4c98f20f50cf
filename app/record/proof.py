"""Readings of the proof in the car against what they should lie between: outside is open, never a pass.

The bands are foretold from what is computed now wherever the record says where the gauge stood. Those that
the record brings along are anybody's word: they are told, and the proof stays open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from app.record.record import Expected, Proof, Record
from geometry.bracket import Bracket
from solver.proof_places import NamedPlace, gauge_places, hang_of, worth_gauging
from solver.proof_readings import (
    GAUGE_MM,
    READ_MM,
    ExpectedReadings,
    GaugePlace,
    Hang,
    ProofError,
    expected_readings,
)
from solver.proof_readings import Expected as Foretold
from solver.proof_telling import proposal, telling
from solver.results import Results

LEAST_SHARE_HUNG: Final = 0.98
"""Of the couple that is to be held: masses are weighed on a kitchen scale."""
PROOF_ARM_MM: Final = 500.0
"""Of the lever that cards are made out for."""
_ROUNDING_MM: Final = 1e-9
MOST_APART_SHARE: Final = 0.2
"""Of the couple's share: farther apart the two readings at the left must not lie."""


@dataclass(frozen=True)
class ProofLine:
    """One reading beside its band."""

    what: str
    value_mm: float | None
    """None where it was not read."""
    band: Expected | None
    held_mm: float | None = None
    """Past it bolts have slipped; None where that is not known, or they are computed to slip."""
    held_low_mm: float | None = None
    """Lower than it bolts have slipped, where the gauge reads less as the casing turns."""
    shows: bool = False
    """Whether the mounting has to be seen moving here: then no movement never counts as agreeing."""

    @property
    def inside(self) -> bool:
        """Return whether the reading lies in its band.

        False where there is no reading or no band, nothing moved that should, or a bolt slipped that should
        not.
        """
        if self.is_nought or self.is_past_held:
            return False
        if self.value_mm is None or self.band is None or self.band.high_mm is None:
            return False
        return self.band.low_mm <= self.value_mm <= self.band.high_mm

    @property
    def is_nought(self) -> bool:
        """Return whether it should move and was read no farther than a reading may be off by."""
        return self.shows and self.value_mm is not None and abs(self.value_mm) <= READ_MM + _ROUNDING_MM

    @property
    def is_past_held(self) -> bool:
        """Return whether it lies past what is expected held, with no bolt computed to slip."""
        if self.value_mm is None or self.held_mm is None:
            return False
        return self.value_mm > self.held_mm or (
            self.held_low_mm is not None and self.value_mm < self.held_low_mm
        )

    @property
    def words(self) -> str:
        """Return the reading and its band."""
        read = "not read" if self.value_mm is None else f"{self.value_mm:z.3f} mm"
        return f"{self.what} {read} ({_band_words(self.band, self.held_mm)})"


def proof_lines(proof: Proof, results: Results | None, bracket: Bracket) -> tuple[ProofLine, ...]:
    """Return couple's share, sag and gap at zero, each with the band it should lie in."""
    found = _foretold(proof, results, bracket)
    if found is None:
        return (
            ProofLine("couple's share", proof.share_mm, proof.expected_share, shows=True),
            ProofLine("sag", proof.sag_mm, proof.expected_sag),
            ProofLine("gap at zero", proof.gap_mm, proof.expected_gap),
        )
    share, sag, gap = found.couple_share, found.sag, found.gap
    return (
        ProofLine(
            "couple's share",
            proof.share_mm,
            _band(share),
            _held(share, results),
            _held_low(share, results),
            shows=True,
        ),
        ProofLine("sag", proof.sag_mm, _band(sag)),
        ProofLine("gap at zero", proof.gap_mm, _band(gap), _held(gap, results)),
    )


@dataclass(frozen=True)
class Card:
    """One proof card: where the gauge stands, and what is hung if that is known."""

    place: NamedPlace
    hang: Hang | None


def cards_of(bracket: Bracket, results: Results | None) -> tuple[Card, ...]:
    """Return a card for every place worth gauging; the first alone while nothing is computed."""
    try:
        places = gauge_places(bracket)[:1]
    except ProofError:
        return ()
    try:
        hang = hang_of(bracket, PROOF_ARM_MM)
    except ProofError:
        return tuple(Card(place, None) for place in places)
    if results is not None and results.casing_answers:
        places = worth_gauging(bracket, results, hang)
    return tuple(Card(place, hang) for place in places)


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
            f"{where}: {line.words}{_why(line, proof, results, bracket)}"
            for line in proof_lines(proof, results, bracket)
            if not line.inside
        ]
        others = (_apart(proof), _too_little(proof, bracket), _on_a_word(proof, results, bracket))
        found += [f"{where}: {words}" for words in others if words]
    return tuple(found)


def _apart(proof: Proof) -> str:
    if proof.apart_mm is None:
        return ""
    most = max(2.0 * GAUGE_MM, MOST_APART_SHARE * abs(proof.share_mm or 0.0))
    if proof.apart_mm <= most:
        return ""
    return (
        f"the two readings at the left lie {proof.apart_mm:z.3f} mm apart; something gave way or slipped,"
        " hang it again"
    )


def _on_a_word(proof: Proof, results: Results | None, bracket: Bracket) -> str:
    """Return that nothing computed stands behind the bands, once something is computed that could."""
    if results is None or not results.casing_answers or proof.expected_share is None:
        return ""
    if _hang(proof, bracket) is None or _foretold(proof, results, bracket) is not None:
        return ""
    return (
        "what is expected is the record's own word, not computed: say where the gauge touched and which way"
        " it reads more"
    )


def _too_little(proof: Proof, bracket: Bracket) -> str:
    hung, wanted = couple_nm(proof, bracket), bracket.loads.couple.value_nm
    if hung is None:
        return "the mass or its arm is blank"
    if wanted is not None and hung < LEAST_SHARE_HUNG * wanted:
        return f"{hung:.3g} N.m were hung, less than the couple of {wanted:.3g} N.m"
    return ""


def _why(line: ProofLine, proof: Proof, results: Results | None, bracket: Bracket) -> str:
    if line.is_nought:
        nought = line.value_mm is not None and abs(line.value_mm) < GAUGE_MM - _ROUNDING_MM
        said = (
            "; the gauge read nought: did it touch?" if nought else "; no more than a reading may be off by:"
        )
        if more := what_tells(proof, results, bracket):
            return f"{said} {more[:1].lower() if not nought else more[:1]}{more[1:].rstrip('.')}"
        return said if nought else f"{said} set it further from the shaft, or hang more"
    if line.value_mm is None or line.band is None:
        return ""
    if line.is_past_held and _in_band(line.value_mm, line.band):
        return "; a bolt has slipped that is computed to hold: look why"
    if line.band.high_mm is None:
        return "; nothing but friction stops it, so the reading proves nothing"
    return "; outside its band"


def _in_band(value_mm: float, band: Expected) -> bool:
    return band.low_mm <= value_mm and (band.high_mm is None or value_mm <= band.high_mm)


def what_tells(proof: Proof, results: Results | None, bracket: Bracket) -> str:
    """Return which mass, lever or place of the gauge could tell what this one cannot; empty if it can."""
    hang = _hang(proof, bracket)
    if results is None or hang is None or proof.gauge_at_mm is None or not any(proof.gauge_along or ()):
        return ""
    gauge = GaugePlace(proof.gauge_at_mm, proof.gauge_along or (0.0, 0.0, 0.0))
    try:
        return proposal(bracket, results, gauge, hang)
    except ProofError:
        return ""


def untold(proof: Proof, results: Results | None, bracket: Bracket) -> str:
    """Return what the readings of this hang cannot tell, and what would; empty if they tell all."""
    better = what_tells(proof, results, bracket)
    hang = _hang(proof, bracket)
    if not better or results is None or hang is None or proof.gauge_at_mm is None:
        return ""
    cannot = telling(results, GaugePlace(proof.gauge_at_mm, proof.gauge_along or (0.0, 0.0, 0.0)), hang)
    return f"{proof.where}, hung so: {cannot.words[:1].lower()}{cannot.words[1:]} {better}"


def _foretold(proof: Proof, results: Results | None, bracket: Bracket) -> ExpectedReadings | None:
    """Return what is computed now of this hang and place; None while the record does not say where."""
    hang = _hang(proof, bracket)
    if results is None or hang is None or proof.gauge_at_mm is None or proof.gauge_along is None:
        return None
    if not any(proof.gauge_along):
        return None
    try:
        return expected_readings(results, GaugePlace(proof.gauge_at_mm, proof.gauge_along), hang)
    except ProofError:
        return None


def _held(found: Foretold, results: Results | None) -> float | None:
    """Return the high end while friction holds; None if a bolt is computed to slip, so that it may."""
    if results is None or any(bolt.state == "slipped" for bolt in results.bolts):
        return None
    return found.held_mm


def _held_low(found: Foretold, results: Results | None) -> float | None:
    return None if _held(found, results) is None else found.held_low_mm


def _hang(proof: Proof, bracket: Bracket) -> Hang | None:
    if proof.mass_kg is None or proof.arm_mm is None:
        return None
    return Hang(proof.mass_kg, proof.arm_mm, proof.station_mm, bracket.rake_deg or 0.0)


def _band(found: Foretold) -> Expected:
    return Expected(low_mm=found.low_mm, high_mm=found.high_mm)


def _band_words(band: Expected | None, held_mm: float | None) -> str:
    if band is None:
        return "nothing is expected: say where the gauge stood"
    if held_mm is not None and band.high_mm != held_mm:
        slipped = "further" if band.high_mm is None else f"to {band.high_mm:z.3f} mm"
        return f"expected {band.low_mm:z.3f} to {held_mm:z.3f} mm held, {slipped} slipped"
    if band.high_mm is None:
        return f"expected {band.low_mm:z.3f} mm or more"
    return f"expected {band.low_mm:z.3f} to {band.high_mm:z.3f} mm"
