"""Readings of the proof in the car against what they should lie between: outside is open, never a pass."""

from __future__ import annotations

from typing import Final

from app.record.record import Expected, Proof, Record

MOST_GAP_SHARE: Final = 0.2
"""Of the couple's share: farther apart the two readings at the left must not lie."""
LEAST_GAP_MM: Final = 0.02
"""What a dial gauge of 0.01 mm cannot tell apart."""


def proof_words(proof: Proof) -> str:
    """Return what a proof says, in a sentence."""
    return (
        f"{proof.where}: {proof.couple_nm:.3g} N.m hung left, right, left; couple's share"
        f" {proof.share_mm:.3f} mm ({_band_words(proof.expected_share)}), sag {proof.sag_mm:.3f} mm"
        f" ({_band_words(proof.expected_sag)})"
    )


def open_proofs(record: Record) -> tuple[str, ...]:
    """Return a sentence for every reading that keeps the record open."""
    found: list[str] = []
    for proof in record.measured.proof:
        for what, value, band in (
            ("couple's share", proof.share_mm, proof.expected_share),
            ("sag", proof.sag_mm, proof.expected_sag),
        ):
            if band is None:
                if what == "sag":
                    continue  # the sag is told; the couple's share is what the bracket is held to
                found.append(f"proof at {proof.where}: no band is given that its {what} should lie in")
            elif not band.low_mm <= value <= band.high_mm:
                found.append(
                    f"proof at {proof.where}: {what} {value:.3f} mm lies outside {_band_words(band)}"
                )
        if proof.gap_mm > max(LEAST_GAP_MM, MOST_GAP_SHARE * proof.share_mm):
            found.append(
                f"proof at {proof.where}: the two readings at the left lie {proof.gap_mm:.3f} mm apart;"
                " something gave way or slipped, hang it again"
            )
    return tuple(found)


def _band_words(band: Expected | None) -> str:
    return "nothing expected" if band is None else f"expected {band.low_mm:.3f} to {band.high_mm:.3f}"
