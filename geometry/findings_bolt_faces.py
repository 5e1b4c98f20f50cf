"""Findings about where bolts meet their partner: whether hole and partner line up, and what fills the gap."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bar_face import has_face
from geometry.bar_section import Round
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.fixing import Bolt
from geometry.nuts import nut_height_mm
from geometry.placing import BoltPlace
from geometry.survey import Survey

GAP_MM: Final = 0.3
"""What paint and flatness take up between two faces (common practice, no source)."""
TILT_DEG: Final = 0.5
"""What a washer and a face give (common practice, no source)."""


def bolt_face_findings(survey: Survey) -> Iterator[Finding]:
    """Yield what is wrong where a bolt meets its partner: offset, tilt, length, gap, pad."""
    for place in survey.heads:
        yield from _meeting(survey, place)


def _meeting(survey: Survey, place: BoltPlace) -> Iterator[Finding]:
    bolt = survey.bolts[place.bolt]
    where = f"bolt {place.bolt}"
    partner = place.partner_name if place.partner == "dash bar" else f"{place.partner} {place.partner_name}"
    if place.misses:
        yield found("bolt-misses-bar", where, offset_mm=place.offset_mm)
        return
    if place.beyond_mm > place.bolt_diameter_mm / 2.0:
        yield found("bolt-beyond-bar", where, beyond_mm=place.beyond_mm)
    if place.partner == "boss" and place.tilt_deg > 90.0:
        yield found(
            "boss-faces-away", where, boss=place.partner_name, plate=place.plate, tilt_deg=place.tilt_deg
        )
    elif place.tilt_deg > TILT_DEG:
        yield found("bolt-tilt", where, partner=partner, tilt_deg=place.tilt_deg, hole=place.hole)
    clearance = place.hole_radius_mm - place.bolt_diameter_mm / 2.0
    if place.partner == "hole":
        nut = next((p for p in survey.places if p.bolt == place.bolt and p.side == "nut"), None)
        clearance += 0.0 if nut is None else nut.hole_radius_mm - place.bolt_diameter_mm / 2.0
    if place.offset_mm > max(clearance, 0.0) + 0.01:
        yield found(
            "bolt-offset",
            where,
            partner=partner,
            offset_mm=place.offset_mm,
            hole=place.hole,
            clearance_mm=max(clearance, 0.0),
        )
    yield from _length(survey, where, partner, place, bolt)
    yield from _gap(survey, where, partner, place, bolt)


def _length(survey: Survey, where: str, partner: str, place: BoltPlace, bolt: Bolt) -> Iterator[Finding]:
    """Tell a bolt that ends before it has gone through its nut; what a boss takes of it is told elsewhere."""
    size = survey.sizes.get(bolt.size)
    if place.partner == "boss" or bolt.length_mm is None or size is None:
        return
    nut = nut_height_mm(size, bolt)
    if bolt.length_mm >= place.clamp_length_mm + nut:
        return
    yield found(
        "bolt-too-short",
        where,
        length_mm=bolt.length_mm,
        clamp_mm=place.clamp_length_mm,
        partner=partner,
        nut_mm=nut,
    )


def _gap(survey: Survey, where: str, partner: str, place: BoltPlace, bolt: Bolt) -> Iterator[Finding]:
    at_pad = place.partner in ("dash bar", "anchor")
    pad_mm = (bolt.pad_height_mm or 0.0) if at_pad else 0.0
    if bolt.spacer is not None:
        over = bolt.spacer.length_mm + pad_mm - place.gap_mm
        if place.gap_mm < GAP_MM:
            yield found("spacer-unneeded", where, spacer_mm=bolt.spacer.length_mm, gap_mm=place.gap_mm)
        elif abs(over) > GAP_MM:
            yield found(
                "spacer-length",
                where,
                spacer_mm=bolt.spacer.length_mm,
                gap_mm=place.gap_mm,
                by_mm=abs(over),
                way="long" if over > 0.0 else "short",
            )
        return
    if place.gap_mm < -GAP_MM:
        yield found("faces-overlap", where, partner=partner, by_mm=-place.gap_mm)
        return
    bar = survey.bracket.dash_bar
    if place.partner == "dash bar" and bar is not None and not has_face(bar, -place.axis):
        yield found("bar-no-face", where, section=bar.section.kind)
    has_pad = at_pad and (bolt.pad_diameter_mm is not None or pad_mm > 0.0)
    if has_pad and (pad_mm > 0.0 or place.gap_mm > GAP_MM):
        yield from _pad(where, partner, place, pad_mm)
        return
    if place.gap_mm > GAP_MM:
        yield found("gap-unfilled", where, gap_mm=place.gap_mm, partner=partner)
    elif place.partner == "dash bar" and bar is not None and isinstance(bar.section, Round) and not has_pad:
        yield found("round-bar-no-pad", where, partner=partner)


def _pad(where: str, partner: str, place: BoltPlace, pad_mm: float) -> Iterator[Finding]:
    """Tell a pad, 0 mm high while that is blank, that does not fill what is open, or is no pad any more."""
    across = 2.0 * place.mating_outer_mm
    if not pad_mm > 0.0:
        yield found("pad-height-blank", where, gap_mm=place.gap_mm, partner=partner)
    elif abs(pad_mm - place.gap_mm) > GAP_MM:
        yield found("pad-height", where, pad_mm=pad_mm, gap_mm=place.gap_mm, partner=partner)
    elif pad_mm > across:
        yield found("pad-slender", where, pad_mm=pad_mm, across_mm=across)
