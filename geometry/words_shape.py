"""Sentences for findings about the shape of a plate."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from geometry.finding import Severity

SHAPE_WORDS: Final[Mapping[str, tuple[Severity, str]]] = {
    "shape-impossible": ("stop", "{found}; {next_step}"),
    "outline-crosses": (
        "stop",
        "the outline crosses or touches itself near ({x:.1f}, {y:.1f}); move the corners apart there",
    ),
    "outline-no-area": (
        "stop",
        "the outline encloses nothing; give it at least three corners that are not in one line",
    ),
    "opening-crosses": (
        "stop",
        "its edge crosses or touches itself near ({x:.1f}, {y:.1f}); move the corners apart there",
    ),
    "opening-outside": (
        "stop",
        "it lies outside the outline by {by_mm:.1f} mm; move it in or widen the plate",
    ),
    "opening-touches-outline": (
        "stop",
        "only {web_mm:.2f} mm is left to the outline, so it cuts the edge; move it in, or draw it as part of"
        " the outline",
    ),
    "opening-touches-opening": ("stop", "it runs into {other}; move them apart or make one opening of both"),
    "leg-short": (
        "rule",
        "only {straight_mm:.1f} mm of the shorter leg is straight beyond the bend and a press needs"
        " {least_mm:.1f} mm, 2 thicknesses (common practice); make the leg longer or the radius smaller",
    ),
    "bend-tight": (
        "rule",
        "its inside radius is {radius_mm:g} mm; {material} of {thickness_mm:g} mm needs {least_mm:g} mm"
        " ({source}); give it at least that or take a softer sheet",
    ),
    "bend-past-square": (
        "rule",
        "it is turned by {angle_deg:g} deg with an inside radius of {radius_mm:g} mm, and the {least_mm:g} mm"
        " that {material} of {thickness_mm:g} mm needs are known for 90 deg at most; give it twice that"
        " (common practice, no source), or fold a test piece and look for cracks",
    ),
    "bend-radius-unknown": (
        "rule",
        "no least inside radius is known for {material} of {thickness_mm:g} mm; fold a test piece and look"
        " for cracks",
    ),
    "plate-out-of-square": (
        "rule",
        "it stands {angle_deg:.1f} deg out of square to the shaft; turn it square or pack it",
    ),
    "plate-along-shaft": (
        "note",
        "it lies along the shaft ({angle_deg:.0f} deg from square), where it bends under the couple; a plate"
        " square to the shaft holds better",
    ),
    "plate-loose": ("stop", "no bolt joins it to anything; bolt it or remove it"),
    "plate-unheld": (
        "stop",
        "its bolts lead neither to the casing nor to anything that holds it; join it to both or remove it",
    ),
    "plate-one-sided": (
        "doubt",
        "its bolts lead only to {side}, so it carries no couple; join it to {other} or remove it",
    ),
    "plate-too-large": (
        "doubt",
        "it is {size_mm:.0f} mm long, more than a dash has room for; check the unit (mm)",
    ),
    "plate-too-small": ("doubt", "it is {size_mm:.2f} mm long; check the unit (mm)"),
    "thickness-absurd": (
        "doubt",
        "its thickness is {thickness_mm:g} mm; sheet for a bracket has {low:g} to {high:g} mm, check the"
        " unit (mm)",
    ),
    "thickness-unusual": ("note", "{thickness_mm:g} mm is not a usual sheet; near it are {near_mm}"),
    "plates-overlap": (
        "doubt",
        "they run {deep_mm:.1f} mm into each other near X {x:.0f}, Y {y:.0f}, Z {z:.0f}; move one of them",
    ),
    "shaft-blocked": (
        "doubt",
        "at station {at_mm:.0f} mm it stands in the shaft's axis, where no shaft of {across_mm:g} mm passes;"
        " cut a hole for the shaft, or move it",
    ),
    "plate-in-bar": (
        "doubt",
        "it runs {deep_mm:.1f} mm into the dash bar near X {x:.0f}, Y {y:.0f}, Z {z:.0f}; move it, or correct"
        " where the bar stands",
    ),
}
