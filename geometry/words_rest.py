"""Sentences for findings about casing, column, dash bar, loads and limits, and for blanks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from geometry.finding import Severity

REST_WORDS: Final[Mapping[str, tuple[Severity, str]]] = {
    "no-plates": ("stop", "there is no plate; draw one"),
    "no-casing": ("stop", "there is no casing; add it with its bosses"),
    "no-bosses": ("stop", "it has no boss to bolt to; measure its bosses and add them"),
    "casing-unheld": ("stop", "no bolts lead from it to the dash bar or an anchor; complete the bracket"),
    "envelope-inside-out": (
        "doubt",
        "its envelope has {axis} from {low:g} to {high:g} mm; give the lower corner first",
    ),
    "mass-centre-outside": (
        "doubt",
        "its mass centre lies {by_mm:.0f} mm outside its envelope, where its weight cannot pull; check both,"
        " and their signs, in the casing's own axes",
    ),
    "boss-outside": (
        "doubt",
        "it lies {by_mm:.0f} mm outside the block that encloses the casing, whose corners' movement is"
        " judged; measure both in the casing's own axes, in mm",
    ),
    "direction-no-length": ("stop", "its direction has no length; say which way its face looks"),
    "boss-face-small": (
        "doubt",
        "its face is {face_mm:g} mm wide, not more than its thread {thread}; measure it",
    ),
    "thread-unknown": ("doubt", "{reason}"),
    "name-doubled": ("stop", "{count} {what} have that name; give each its own, bolts find them by name"),
    "material-unknown": ("stop", "{reason}"),
    "material-thickness": (
        "doubt",
        "the strength of {material} at {thickness_mm:g} mm is not in the table; state it as a material of"
        " your own, with its source",
    ),
    "material-figure-absurd": (
        "doubt",
        "its {what} of {value:g} {unit} is not that of {kind} ({low:g} to {high:g}); check the unit",
    ),
    "tolerance-absurd": (
        "doubt",
        "it may be {tolerance_mm:g} mm thinner than its {thickness_mm:g} mm; check the unit (mm)",
    ),
    "material-in-table": (
        "doubt",
        "the table has a material called {name}, with its own figures; give this one another name",
    ),
    "material-beyond-rules": (
        "doubt",
        "its yield of {yield_mpa:g} MPa is above the {most_mpa:g} MPa up to which rules for sheets and bars"
        " of steel go (EN 1993-1-12): so hard a steel breaks where others stretch; take a milder one",
    ),
    "material-no-source": (
        "doubt",
        "nobody says where its figures come from; write down the standard, the mill's sheet or the test",
    ),
    "material-strengths": (
        "doubt",
        "its yield {yield_mpa:g} MPa is above its tensile strength {tensile_mpa:g}; swap them?",
    ),
    "material-spread": (
        "doubt",
        "its tensile strength {tensile_mpa:g} MPa is {ratio:.2g} times its yield {yield_mpa:g}, more than any"
        " {kind} has; check both",
    ),
    "bar-no-length": ("stop", "it begins and ends at the same place; give both ends where they are"),
    "bar-size-absurd": (
        "doubt",
        "it is {length_mm:.0f} mm long; one that spans a car has {low:g} to {high:g} mm, check the unit (mm)",
    ),
    "bar-wall": (
        "stop",
        "its wall of {wall_mm:g} mm leaves no bore in {across_mm:g} mm; correct one of them",
    ),
    "bar-wall-thin": ("doubt", "its wall is {wall_mm:g} mm; check the unit (mm)"),
    "bar-wall-below-rules": (
        "rule",
        "its wall of {wall_mm:g} mm is below the {least_mm:g} mm that the rules used for walls under bolts"
        " are made for (EN 1993-1-8 7.1.1); take a thicker tube",
    ),
    "bar-loose": ("stop", "its ends ({first}, {second}) leave it free to turn; say what holds them"),
    "bar-up": ("doubt", "its `up` runs along the bar, so the section has no upright; give another direction"),
    "bar-open": (
        "doubt",
        "it is an open section ({section}): its torsion and shear centre are counted, but not how a leg bends"
        " where a plate is bolted on, nor warping and its stress; close it into a tube, or have both judged",
    ),
    "stay-off-bar": (
        "stop",
        "it stands at {station_mm:g} mm on a dash bar {length_mm:.0f} mm long; measure from its first end",
    ),
    "stay-no-direction": ("stop", "its direction has no length; say which way the strut runs"),
    "stay-along-bar": (
        "doubt",
        "it runs almost along the dash bar and stays it against nothing; check its direction",
    ),
    "stay-unseen": (
        "doubt",
        "nobody is named who has seen it; have it looked at and name who did, or leave it out",
    ),
    "bar-end-unseen": (
        "doubt",
        "nobody is named who has seen that end {end} is held as said ({kind}), and all rests on it; have it"
        " looked at and name who did",
    ),
    "anchor-no-word": ("doubt", "nobody says why it is immovable; write down who says so and why"),
    "blank-casing": (
        "doubt",
        "its figures are the example's; put in those of the real one, mass and bosses as measured, and give"
        " it its own name",
    ),
    "blank-column": (
        "doubt",
        "what else holds the column is blank; say nothing, bearings or donor mount: it decides more than the"
        " plate does",
    ),
    "blank-bearings": (
        "doubt",
        "bearings hold it, but none is listed; give each its station and stiffness range",
    ),
    "blank-mount": (
        "doubt",
        "the donor's mount holds it, but is not described; give its station and stiffness ranges",
    ),
    "bearing-in-casing": (
        "doubt",
        "its station of {station_mm:g} mm lies within the casing, whose own bearings hold the shaft to"
        " itself and not to the car; list what else holds the column, or say nothing",
    ),
    "bearing-beyond-wheel": (
        "doubt",
        "its station is {station_mm:g} mm and the wheel's {wheel_mm:g} mm, and no column reaches to or past"
        " the wheel; measure both along the shaft, toward the driver",
    ),
    "bearing-beyond-joint": (
        "doubt",
        "its station is {station_mm:g} mm, and shaft joint {joint} at {joint_mm:g} mm lies between it and the"
        " casing; a joint bends freely, so it does not hold the piece of shaft that the casing is on; list"
        " what does, or measure both along the shaft",
    ),
    "blank-couple": (
        "doubt",
        "the couple is blank ({source}, {missing} not given); measure it or say who states it",
    ),
    "couple-no-word": (
        "doubt",
        "nobody is named who states the couple of {couple_nm:g} N.m, and all rests on it; name who does, or"
        " measure it",
    ),
    "blank-wheel": (
        "doubt",
        "the wheel is blank, so a driver's pull cannot be placed; give its diameter and station",
    ),
    "wheel-below-casing": (
        "doubt",
        "its station is {station_mm:g} mm and the casing reaches up to {top_mm:g} mm, so that a pull there"
        " bends nothing; measure both along the shaft, toward the driver",
    ),
    "wheel-near-casing": (
        "doubt",
        "its station is {station_mm:g} mm and the casing reaches up to {top_mm:g} mm; a wheel stands"
        " {least_mm:g} mm off and more, and a pull so near bends hardly anything; check the unit (mm)",
    ),
    "blank-other-load": (
        "doubt",
        "{load} is half given: {missing} blank; give the rest, or empty what is there",
    ),
    "blank-rake": (
        "doubt",
        "the rake is blank, so gravity has no direction; give the shaft's angle above level",
    ),
    "blank-grade": ("doubt", "its grade is blank; read the marking on the head, such as 8.8"),
    "blank-preload": (
        "doubt",
        "neither its tightening torque nor a preload is known; give the torque it is tightened with",
    ),
    "blank-friction": (
        "doubt",
        "the friction between its faces is blank; 0.15 is usual for bare or painted steel as found",
    ),
    "blank-material": ("doubt", "its material is blank; name the sheet it is cut from, such as S235"),
    "blank-bar-end": (
        "doubt",
        "end {end} is held with a stiffness that is blank; give bending_nm_per_deg, low and high",
    ),
    "fatigue-no-curve": (
        "rule",
        "there is no published curve here for how {metal} bears reversals, so its life is not judged; use"
        " steel, or have its life judged by somebody who may",
    ),
    "fatigue-fewer": (
        "note",
        "{count} full reversals over its life are fewer than the usual {usual}; say why",
    ),
    "fatigue-spectrum-mild": (
        "note",
        "no couple of the spectrum reaches the {couple_nm:g} N.m the bracket is held to; check it",
    ),
    "fatigue-spectrum-hard": (
        "doubt",
        "{most_nm:g} N.m of the spectrum are more than the {couple_nm:g} N.m the bracket is held to, and"
        " neither slip nor strength is judged at them; hold it to the largest couple there is",
    ),
    "couple-cancels": (
        "doubt",
        "the torque meters read almost the same: of {couple_nm:.3g} N.m that are left between them"
        " {more:.0%} may be missing; hold the casing by a load cell instead",
    ),
    "couple-zero": ("doubt", "the couple comes to 0 N.m ({source}); check the readings"),
    "couple-unit": (
        "doubt",
        "a couple of {couple_nm:g} N.m is not that of a steering-assist unit (about {low:g} to"
        " {high:g}){hint_unit}; check the unit (N.m)",
    ),
    "couple-unusual": (
        "note",
        "a couple of {couple_nm:g} N.m is unusual for a steering-assist unit{hint_unit}; check the unit"
        " (N.m)",
    ),
    "factor-low": (
        "doubt",
        "the factor on the couple is {factor:g}, below 1, which makes it smaller; give at least 1",
    ),
    "factor-looser": (
        "note",
        "the factor on the couple is {factor:g} where {usual:g} is usual; say why it may be less",
    ),
    "load-looser": ("note", "{what} is {value:g} where {usual:g} is usual; say why it may be less"),
    "pull-small": (
        "doubt",
        "the driver's pull is {pull_n:g} N, and a hand on the wheel pulls {least_n:g} N and more{hint_unit};"
        " check the unit (N): a bracket that stands under the couple alone may fold under a pull",
    ),
    "back-driving-lossless": (
        "doubt",
        "the unit is driven back, when its losses add to the couple, but its efficiency is {efficiency:g}: no"
        " reduction is without loss; give that of the unit",
    ),
    "weight-small": (
        "doubt",
        "the weight counted is {weight_g:g} g, less than what always hangs there; give at least 1",
    ),
    "limit-low": (
        "doubt",
        "{limit} is {value:g}, below 1, which lets through what does not hold by its own figures; give at"
        " least 1",
    ),
    "limit-looser": ("note", "{limit} is {value:g}, looser than the usual {usual:g}; say why"),
    "mass-absurd": (
        "doubt",
        "its mass is {mass_kg:g} kg; a steering-assist unit has {low:g} to {high:g} kg{hint_unit}; check the"
        " unit (kg)",
    ),
    "stiffness-absurd": (
        "doubt",
        "its stiffness of {value:g} N/mm is outside {low:g} to {high:g}{hint_unit}; check the unit (N/mm)",
    ),
    "stiffness-zero": ("note", "its least stiffness is 0, so it is also analysed as if it held nothing"),
    "place-far": (
        "doubt",
        "it is {distance_mm:.0f} mm from the origin, outside any car; check the unit (mm)",
    ),
    "size-absurd": ("doubt", "{what} is {value:g} {unit}; {low:g} to {high:g} is usual, check the unit"),
    "claim-stale": (
        "note",
        "the stored result ({verdict}, {date}) was computed from other inputs; it is stale, analyse again",
    ),
}
