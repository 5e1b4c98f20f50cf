"""Sentences for findings about welds.

EN 1993-1-8 is quoted from memory, to be verified against the document.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from geometry.finding import Severity

WELD_WORDS: Final[Mapping[str, tuple[Severity, str]]] = {
    "weld-plate-unknown": ("stop", "there is no plate {name}; there is: {known}{hint}"),
    "weld-partner-unknown": ("stop", "there is no {what} {name} to weld to; there is: {known}{hint}"),
    "weld-to-itself": ("stop", "plate {name} is welded to itself; name what its edge stands on"),
    "weld-no-length": ("stop", "it begins and ends at the same place; give both ends"),
    "weld-off-outline": (
        "stop",
        "({x1:g}, {y1:g}) to ({x2:g}, {y2:g}) is not on one straight edge of the outline of {plate}; put both"
        " ends on one, welds along arcs and openings are not reckoned",
    ),
    "weld-across-fold": (
        "stop",
        "it runs into the bend zone of fold {fold}, where cold-formed metal may crack beside a weld"
        " (EN 1993-1-8 4.14); end it on the flat",
    ),
    "weld-near-fold": (
        "rule",
        "it is {off_mm:.1f} mm from the bend zone of fold {fold} of plate {plate}; within five thicknesses of"
        " a fold that sharp ({ratio:.1f} t) nothing thicker than {most_mm:g} mm is welded (EN 1993-1-8 4.14);"
        " move it {least_mm:.0f} mm off",
    ),
    "weld-over-fold": (
        "stop",
        "it runs over fold {fold} of plate {partner}; put it all on one flat part of that plate",
    ),
    "blank-weld-size": ("doubt", "its size is blank; give its throat or its leg"),
    "weld-size-twice": (
        "doubt",
        "a throat of {throat_mm:g} mm and a leg of {leg_mm:g} mm are two sizes (throat x 1.41 is the leg);"
        " give one",
    ),
    "weld-passes-by": (
        "stop",
        "part of it meets nothing of {partner}; end it where {partner} ends, or move the plate",
    ),
    "weld-gap": (
        "doubt",
        "the edge stands {gap_mm:.2f} mm off {partner}, and {most_mm:.2f} mm can be bridged; bring them"
        " together",
    ),
    "weld-runs-in": (
        "doubt",
        "the edge runs {deep_mm:.2f} mm into {partner}; move it back to its face",
    ),
    "weld-steep": (
        "doubt",
        "the sheet leans {tilt_deg:.0f} deg out of square to {partner}; a fillet weld carries between 60 and"
        " 120 deg (EN 1993-1-8 4.3.2.1), so set it upright",
    ),
    "weld-tilted": (
        "rule",
        "the sheet leans {tilt_deg:.0f} deg out of square to {partner}, and its throats are reckoned as of a"
        " square joint; set it upright",
    ),
    "weld-too-short": (
        "doubt",
        "{length_mm:.1f} mm of it count, and a weld shorter than {least_mm:.0f} mm (30 mm, 6 throats) carries"
        " nothing (EN 1993-1-8 4.5.1); make it longer",
    ),
    "weld-thin": (
        "rule",
        "a throat of {throat_mm:.2g} mm is below 3 mm (EN 1993-1-8 4.5.2); make the weld larger, or have it"
        " tried on a piece",
    ),
    "weld-too-large": (
        "rule",
        "a throat of {throat_mm:.2g} mm on sheet of {thickness_mm:g} mm is more than 0.7 of it (common"
        " practice, no source): it warps and burns through; make it {most_mm:.2g} mm, more than the"
        " thickness never counts",
    ),
    "weld-one-sided": (
        "rule",
        "a weld on one side alone is bent about its root, which EN 1993-1-8 4.12 asks to avoid; weld both"
        " sides",
    ),
    "weld-aluminium": (
        "rule",
        "aluminium loses much of its strength beside a weld, by how much hangs on the welder; use steel, or"
        " bolt it",
    ),
    "weld-stainless": (
        "note",
        "stainless steel is reckoned with beta_w 1 (EN 1993-1-4); its weld metal has to match it",
    ),
    "weld-hardening": (
        "rule",
        "{metal} may harden and crack beside a weld; have a welder say how it is heated before and after",
    ),
    "weld-too-strong": (
        "doubt",
        "{metal} yields at {yield_mpa:g} MPa; above {most_mpa:g} MPa {kind} loses strength beside a weld or"
        " cracks there, its weld metal is seldom as strong, and no rule used here covers it; have it judged"
        " by somebody who may, or take a softer metal",
    ),
    "weld-unlike": (
        "doubt",
        "{one} and {other} are not joined by a usual fillet weld; take one metal, or bolt them",
    ),
    "footprint-over-weld": (
        "doubt",
        "what it clamps reaches {by_mm:.1f} mm onto weld {weld} at hole {hole} of plate {plate}, where no"
        " face lies flat; move the hole away or take a smaller washer",
    ),
    "weld-bar-wall": (
        "doubt",
        "it stands on the wall of the dash bar away from its corners, and how that wall of {wall_mm:g} mm"
        " bends is not computed; weld to a foot plate that is bolted to the bar, or move it to a corner",
    ),
    "weld-twice": ("doubt", "weld {other} is on the same part of that edge; keep one of them"),
    "weld-unseen": (
        "rule",
        "nobody is named who welded or inspected it, and it is taken as sound; name the one who did",
    ),
}
