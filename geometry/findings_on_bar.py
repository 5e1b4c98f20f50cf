"""Findings about a bolt on the dash bar: edges, rounded corners, and a bolt that goes right through."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bar_face import bore_mm, corner_mm, to_edge_mm, to_side_mm
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.fixing import DashBar
from geometry.placing import BoltPlace
from geometry.survey import Survey

SET_OUT_MM: Final = 0.1
"""Nobody sets out a hole on a dash bar more truly (common practice, no source)."""


def on_bar_findings(place: BoltPlace, survey: Survey) -> Iterator[Finding]:
    """Yield what is wrong where a bolt meets the dash bar: holes and rings over its edges, ends in its bore.

    A pad may be wider than its bar.
    """
    bar = survey.bracket.dash_bar
    if bar is None or place.partner != "dash bar" or place.misses:
        return
    if place.beyond_mm > place.bolt_diameter_mm / 2.0:
        return  # told as beyond the bar
    yield from _through(bar, place, survey)
    edge = to_edge_mm(bar, place.mating_mm, place.axis)
    corner, side = corner_mm(bar), to_side_mm(bar, place.mating_mm, place.axis)
    where = f"bolt {place.bolt}"
    if (over := place.hole_radius_mm - edge) > SET_OUT_MM:
        yield found("hole-over-bar", where, by_mm=over, hole=place.hole, bar=bar.name)
    elif survey.bolts[place.bolt].pad_height_mm:
        return
    elif (over := place.mating_outer_mm - edge) > SET_OUT_MM:
        yield found("footprint-over-bar", where, by_mm=over, hole=place.hole, bar=bar.name)
    elif (over := place.mating_outer_mm - (side - corner)) > SET_OUT_MM:
        yield found(
            "footprint-over-corner", where, by_mm=over, hole=place.hole, bar=bar.name, corner_mm=corner
        )


def _through(bar: DashBar, place: BoltPlace, survey: Survey) -> Iterator[Finding]:
    """Tell a bolt too long to end in the bore of a tube: its nut is then on the far side."""
    length, bore = survey.bolts[place.bolt].length_mm, bore_mm(bar, place.axis)
    if length is None or bore is None or length < place.clamp_length_mm + bore:
        return
    yield found(
        "bolt-through-bar",
        f"bolt {place.bolt}",
        length_mm=length,
        clamp_mm=place.clamp_length_mm,
        bore_mm=bore,
        bar=bar.name,
    )
