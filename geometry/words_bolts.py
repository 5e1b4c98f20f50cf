"""Sentences for findings about bolts, holes, washers and spacers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from geometry.finding import Severity

BOLT_WORDS: Final[Mapping[str, tuple[Severity, str]]] = {
    "no-bolts": ("stop", "there is no bolt; join the plates to the casing and to what holds them"),
    "bolt-plate-missing": (
        "stop",
        "it names plate {name}, which is not there{hint}; the plates are: {known}",
    ),
    "bolt-hole-missing": (
        "stop",
        "it names hole {name}, which plate {plate} does not have{hint}; its openings are: {known}",
    ),
    "bolt-boss-missing": (
        "stop",
        "it names boss {name}, which the casing does not have{hint}; its bosses are: {known}",
    ),
    "bolt-anchor-missing": (
        "stop",
        "it names anchor {name}, which is not there{hint}; the anchors are: {known}",
    ),
    "bolt-bar-missing": (
        "stop",
        "it goes to the dash bar, but there is none; add the dash bar or join it to something else",
    ),
    "bolt-in-cut-out": (
        "stop",
        "{hole} is a cut-out, and nothing there fits round a bolt; give plate {plate} a hole",
    ),
    "bolt-in-slot": (
        "stop",
        "{hole} is a slot; along it nothing but friction holds the bolt, and it is not analysed: make it a"
        " round hole of {diameter_mm:g} mm",
    ),
    "bolt-joins-own-plate": ("stop", "it joins plate {plate} to itself; name a hole of another plate"),
    "bolt-size-unknown": ("stop", "{reason}"),
    "grade-unknown": ("doubt", "{reason}"),
    "grade-mismatch": ("doubt", "{reason}"),
    "grade-beyond-rules": (
        "rule",
        "class {grade} is outside EN 1993-1-8, which ends at 10.9 (from memory, to be verified): it is"
        " brittle, most of all plated or where it bends; take 10.9",
    ),
    "thread-differs": (
        "doubt",
        "it is {size} and boss {boss} is tapped {thread}; take a bolt of that thread or correct it",
    ),
    "boss-depth-blank": (
        "doubt",
        "its depth of thread is blank, so nobody knows what bolt {bolt} engages; measure it",
    ),
    "bolt-bottoms": (
        "doubt",
        "{length_mm:g} mm long and clamping {clamp_mm:.1f} mm, it stands on the end of the {depth_mm:g} mm of"
        " thread in boss {boss} before it clamps; take a shorter bolt",
    ),
    "bolt-engages-little": (
        "rule",
        "it engages {engaged_mm:.1f} mm of thread in boss {boss}, less than the {usual_mm:.1f} mm usual in"
        " {metal} (common practice); take a longer bolt, or a boss with more thread",
    ),
    "boss-shallow": (
        "rule",
        "its {depth_mm:g} mm of thread are less than the {usual_mm:.1f} mm that bolt {bolt} usually engages"
        " in {metal} (common practice); tap it deeper, or take a boss with more thread",
    ),
    "hole-used-twice": ("stop", "bolts {bolts} all go through it; give each a hole of its own"),
    "boss-used-twice": ("stop", "bolts {bolts} all go into it; one boss takes one bolt"),
    "bolts-coincide": (
        "stop",
        "it stands at the same place as bolt {other} ({apart_mm:.1f} mm apart); move or remove one",
    ),
    "boss-unused": ("note", "nothing is bolted to it; use as many bosses as there are (common practice)"),
    "anchor-unused": ("note", "nothing is bolted to it; bolt to it or remove it"),
    "bolts-in-line": (
        "doubt",
        "all {count} bolts stand in one line, about which everything can turn; set at least one well away"
        " from it",
    ),
    "hole-too-small": (
        "doubt",
        "its {hole_mm:g} mm is less than the bolt's {bolt_mm:g} mm; ISO 273 for {size}: {series}",
    ),
    "hole-tight": ("note", "its {hole_mm:g} mm is closer than the fine series; ISO 273 for {size}: {series}"),
    "hole-loose": (
        "rule",
        "its {hole_mm:g} mm is wider than the coarse series; ISO 273 for {size}: {series}",
    ),
    "washer-too-small": (
        "stop",
        "what lies under the head or nut is {outer_mm:g} mm wide and falls into the {hole_mm:g} mm hole;"
        " take a wider washer",
    ),
    "washer-impossible": (
        "stop",
        "its washer is {outer_mm:g} mm outside and {inner_mm:g} mm inside; correct it",
    ),
    "washer-hole-small": (
        "doubt",
        "its washer's hole is {inner_mm:g} mm and the bolt {bolt_mm:g} mm; correct one",
    ),
    "washer-too-thin": (
        "doubt",
        "its washer is {outer_mm:g} mm wide and {washer_mm:g} mm thick; with sheet of {thickness_mm:g} mm a"
        " head {head_mm:g} mm wide presses only the middle of that; take a thicker one, or give the width"
        " that is pressed",
    ),
    "contact-too-small": (
        "stop",
        "{partner} is {outer_mm:g} mm wide where the plate rests on it, which the {hole_mm:g} mm hole leaves"
        " nothing of; check the face and the hole",
    ),
    "contact-too-wide": (
        "doubt",
        "{partner} is {outer_mm:g} mm wide where the plate rests on it, but through sheet of {thickness_mm:g}"
        " mm what lies under the head or nut, {washer_mm:g} mm wide, presses only the middle of that; take a"
        " wider washer, or give the width that is pressed",
    ),
    "ring-too-narrow": (
        "stop",
        "what it clamps {rests} is a ring from {inner_mm:g} to {outer_mm:g} mm, too narrow to press on; take"
        " a wider washer or face, or a smaller hole",
    ),
    "spacer-impossible": (
        "stop",
        "its spacer is {outer_mm:g} mm outside and {inner_mm:g} mm inside; correct it",
    ),
    "spacer-hole-small": (
        "doubt",
        "its spacer's bore is {inner_mm:g} mm and the bolt {bolt_mm:g} mm; widen it",
    ),
    "spacer-crushed": (
        "doubt",
        "its spacer of {material}, {outer_mm:g} mm outside and {inner_mm:g} mm inside, yields at"
        " {borne_kn:.1f} kN and the bolt draws about {drawn_kn:.1f} kN through it; take a thicker or stronger"
        " one",
    ),
    "spacer-bore-wide": (
        "doubt",
        "its spacer's bore is {bore_mm:g} mm and what lies under the head or nut {washer_mm:g} mm wide, so"
        " the plate dishes into the bore as it is tightened; take a spacer with a closer bore or a wider"
        " washer",
    ),
    "spacer-through-hole": (
        "stop",
        "its spacer is {outer_mm:g} mm outside and slips through the {hole_mm:g} mm hole; take a thicker one"
        " or a washer",
    ),
    "spacer-over-face": (
        "stop",
        "its spacer and hole leave {bore_mm:g} mm open and {partner} is {face_mm:g} mm wide where the spacer"
        " stands on it, so nothing is left to stand on; take a narrower spacer or a wider face",
    ),
    "spacer-unneeded": (
        "doubt",
        "it has a spacer {spacer_mm:g} mm long but the faces are {gap_mm:.2f} mm apart; correct the spacer"
        " or the places",
    ),
    "spacer-length": (
        "doubt",
        "its spacer is {spacer_mm:g} mm long and the gap {gap_mm:.2f} mm, {by_mm:.2f} mm too {way}; make"
        " them the same",
    ),
    "gap-unfilled": (
        "doubt",
        "{gap_mm:.2f} mm is open between the plate and {partner}; fill it with a spacer of that length or"
        " move the plate",
    ),
    "pad-height-blank": (
        "doubt",
        "it rests on a pad, {gap_mm:.2f} mm are open between the plate and {partner}, and the height of the"
        " pad is blank; measure it and give its pad_height_mm",
    ),
    "pad-height": (
        "doubt",
        "its pad is {pad_mm:g} mm high and {gap_mm:.2f} mm are open between the plate and {partner}; make"
        " them the same",
    ),
    "pad-slender": (
        "doubt",
        "its pad is {pad_mm:g} mm high and {across_mm:g} mm wide, and a pad taller than wide is not as stiff"
        " as what it stands on, as is taken here; make it wider, or use a spacer",
    ),
    "bar-no-face": (
        "stop",
        "the {section} has no metal on the side where the plate meets the dash bar; turn its `up`, or put the"
        " plate on a leg's outside",
    ),
    "bolt-too-short": (
        "doubt",
        "{length_mm:g} mm long and clamping {clamp_mm:.1f} mm, it leaves less than the {nut_mm:.1f} mm that a"
        " nut at {partner} takes; take a longer bolt",
    ),
    "bolt-through-bar": (
        "doubt",
        "{length_mm:g} mm do not end in the bore of {bar}, {bore_mm:g} mm past the {clamp_mm:.1f} mm it"
        " clamps; right through, it squeezes the tube's walls together, which is not computed;"
        " take one whose nut is inside, or a solid bar",
    ),
    "round-bar-no-pad": (
        "rule",
        "the plate lies flat on a round bar, which touches along a line only; weld on a pad or saddle and"
        " give its pad_diameter_mm",
    ),
    "faces-overlap": (
        "doubt",
        "the plate and {partner} run {by_mm:.2f} mm into each other; move one of them",
    ),
    "bolt-offset": (
        "doubt",
        "{partner} is {offset_mm:.2f} mm out of line with hole {hole}, and the bolt has {clearance_mm:.2f}"
        " mm to give; move one of them",
    ),
    "bolt-tilt": (
        "doubt",
        "the face of {partner} is tilted {tilt_deg:.1f} deg against the plate at hole {hole}; turn one or"
        " pack it",
    ),
    "boss-faces-away": (
        "doubt",
        "boss {boss} is turned {tilt_deg:.0f} deg from facing plate {plate}; correct its direction or the"
        " plate's place",
    ),
    "bolt-misses-bar": (
        "stop",
        "its line passes the dash bar {offset_mm:.0f} mm from its middle; move the hole over the bar or the"
        " bar under it",
    ),
    "bolt-beyond-bar": (
        "stop",
        "it is {beyond_mm:.0f} mm beyond the end of the dash bar; move it or lengthen the bar",
    ),
    "hole-over-bar": (
        "doubt",
        "its hole {hole} reaches {by_mm:.1f} mm over the edge of {bar}, where no metal is; move it in, or"
        " take a wider or longer bar",
    ),
    "footprint-over-bar": (
        "rule",
        "what it clamps reaches {by_mm:.1f} mm over the edge of {bar} at hole {hole}; move the hole in, take"
        " a smaller washer, or weld on a pad and give its pad_height_mm",
    ),
    "footprint-over-corner": (
        "rule",
        "what it clamps reaches {by_mm:.1f} mm over the rounded corner of {bar} at hole {hole}, which is"
        " round for {corner_mm:g} mm and more (EN 10219-2); move the hole in, or take a smaller washer",
    ),
    "footprint-over-edge": (
        "rule",
        "what it clamps reaches {by_mm:.1f} mm over the edge of plate {plate} at hole {hole}; move the hole"
        " in or take a smaller washer",
    ),
    "footprint-over-opening": (
        "rule",
        "what it clamps reaches {by_mm:.1f} mm into {opening} of plate {plate}; move them apart",
    ),
    "footprint-over-bend": (
        "doubt",
        "what it clamps reaches {by_mm:.1f} mm into the bend of fold line {fold} of plate {plate}, where no"
        " face lies flat; move hole {hole} away",
    ),
    "footprint-over-footprint": (
        "doubt",
        "what it clamps overlaps what bolt {other} clamps by {by_mm:.1f} mm on plate {plate}; move them"
        " apart or take smaller washers",
    ),
    "edge-distance": (
        "rule",
        "hole {hole} is {edge_mm:.1f} mm from the edge of plate {plate} (its middle) and needs"
        " {least_mm:.1f} mm, 1.2 hole diameters (EN 1993-1-8 table 3.3); move it in",
    ),
    "edge-to-opening": (
        "rule",
        "the middle of hole {hole} is {edge_mm:.1f} mm from {opening} of plate {plate} and needs"
        " {least_mm:.1f} mm, 1.2 hole diameters (EN 1993-1-8 table 3.3); move them apart",
    ),
    "pitch": (
        "rule",
        "hole {hole} is {apart_mm:.1f} mm from {other} of plate {plate} and needs {least_mm:.1f} mm, 2.4"
        " hole diameters (EN 1993-1-8 table 3.3, p2); move them apart",
    ),
    "tightening-absurd": (
        "doubt",
        "{torque_nm:g} N.m would stress {size} to about {stress_mpa:.0f} MPa, too {way} for any"
        " grade{hint_unit}; check the unit (N.m)",
    ),
    "preload-absurd": (
        "doubt",
        "a preload of {preload_n:.0f} N would stress {size} to {stress_mpa:.0f} MPa, above any grade; check"
        " the unit (N)",
    ),
    "scatter-too-sure": (
        "doubt",
        "its preload is said to be off by {said} % at most, and no torque draws a bolt so truly:"
        " {least_percent:g} % is the least (VDI 2230 table A8, from memory); take 25 % for a torque wrench",
    ),
    "preload-too-sure": (
        "doubt",
        "its preload is said to lie between {low_n:.0f} and {high_n:.0f} N, and the truest way to tighten a"
        " bolt leaves its high end at {ratio:g} times its low one (VDI 2230 table A8, from memory); give the"
        " range, or the torque instead",
    ),
    "friction-absurd": (
        "doubt",
        "a {what} of {value:g} is outside {low:g} to {high:g}; measure it or take the usual figure",
    ),
}
