"""What an analysis took for granted, as sentences; and what it does not compute."""

from __future__ import annotations

from geometry.bar_section import Tube
from geometry.bracket import Bracket
from geometry.fit_up import FitUp
from geometry.fixing import BarEnd, BarStay
from geometry.loads import Limits
from geometry.sheet_tolerance import (
    WALL_SOURCE,
    metal_kind,
    tolerance_mm,
    tolerance_source,
    wall_tolerance_mm,
)
from geometry.stiffness_ranges import all_mixed
from solver.clamped_bolt import ClampedBolt
from solver.loose_inputs import loosened
from solver.other_loads import other_load_words

NOT_COMPUTED = (
    "plasticity: stress is linear, and yield anywhere outside the judged circles is a fail",
    "contact beyond the footprints: plates touch their partners only under bolts and at welds",
    "crash and occupant load",
    "fatigue from vibration; only the couple's own reversals count",
    "weld quality",
    "the casing itself, which is taken as rigid",
    "how far the wall of the dash bar gives under a bolt, openings cut into it, such as for a nut, and dents",
    "paint, powder or a gasket between faces that are clamped: it creeps away and takes preload with it",
    "heads other than a hexagon's: a countersunk or button head is pulled through, and bears, otherwise",
    "threads in anchors and nuts; in bosses the metal is taken as the weakest usual where nobody states it",
    "electronics and software of the unit",
)


def assumptions_of(
    bracket: Bracket, bolts: dict[str, ClampedBolt]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return every assumption in prose, and first of all those looser than the default or unusual."""
    return (*_usual(bracket, bolts),), (*loosened(bracket),)


def _usual(bracket: Bracket, bolts: dict[str, ClampedBolt]) -> list[str]:
    loads, limits = bracket.loads, Limits()
    couple = loads.couple.value_nm
    found = [
        "The casing is rigid and is turned about the shaft by the couple, both ways: + from X toward Y,"
        " - from Y toward X. X is to the driver's right, Z along the shaft toward the driver, Y up and square"
        " to both.",
        f"The couple is {'blank' if couple is None else f'{couple:.4g} N.m'}, {loads.couple.words};"
        f" it is taken times {loads.couple_factor:g}.",
        _column_words(bracket),
        f"A driver pulls with {loads.pull_n:g} N at the wheel, each way across the shaft in turn and, at each"
        " side of its rim, each way along it, and the weight of"
        f" casing and plates counts {loads.weight_g:g} times, each way in turn.",
        "Every plate is linear elastic, as drawn, of its nominal thickness, with least guaranteed yield;"
        f" allowable stress is yield / {bracket.limits.yield_factor:g}.",
        *_tolerance_words(bracket),
        f"The couple may be {loads.couple_may_be_more:.0%} larger than that: it counts where a check has no"
        " factor on the couple, or a smaller one.",
        "Footprints are elastic beds, of half to twice their stiffness; preload closes them in every load"
        " case, and a check tells when it no longer does.",
        "Every load case is solved with all connections stuck and again with all slipped into pins; the worse"
        " governs.",
        *other_load_words(bracket),
        _fit_words(bracket.fit_up),
    ]
    if bracket.welds:
        found.append(
            "Welds hold in every state: sound, as large as given all along, of metal at least as strong as"
            " what they join unless it is said otherwise. Each is taken as rigid parts that carry by"
            " themselves; what welding leaves in the metal counts in fatigue alone."
        )
    if bracket.dash_bar is not None:
        first, other = (
            f"{_end_kind(end)}{f' ({end.seen_by})' if end.seen_by else ' (nobody is named who saw it)'}"
            for end in bracket.dash_bar.ends
        )
        found.append(
            f"The dash bar is a straight beam; one end is {first}, the other {other}; what it ends in does"
            " not move."
        )
        found += [_stay_words(stay) for stay in bracket.dash_bar.stays]
        if isinstance(bracket.dash_bar.section, Tube) and any(
            b.joins.to == "dash bar" for b in bracket.bolts
        ):
            found.append(
                "A bolt to the dash bar clamps the wall that the plate lies on, with its nut inside: one"
                " right through squeezes the tube."
            )
    if any(bolt.pad_height_mm for bolt in bracket.bolts):
        found.append(
            "A pad that a plate stands off on is one piece with the dash bar or anchor; what joins it there"
            " is not judged."
        )
    if not all_mixed(bracket):
        found.append(
            "Of the many stiffnesses given as ranges all are taken at their low ends, all at their high ends,"
            " and each by itself at the other end than all the rest; two against the rest are not computed."
        )
    found += [f"Anchor {a.name} does not move: {a.word}" for a in bracket.anchors]
    found += _preload_words(bolts)
    if bracket.limits == limits:
        found.append("Limits are the program's defaults.")
    return found


def _end_kind(end: BarEnd) -> str:
    """Return how an end is held; a stiffness with its figures, a flange with what it is taken as."""
    if end.kind == "bolted flange":
        return "a bolted flange, taken as pinned and again as welded"
    if end.kind != "stiffness" or end.bending_nm_per_deg is None:
        return end.kind
    low, high = end.bending_nm_per_deg
    return f"held in bending by {low:g}{f' to {high:g}' if high != low else ''} N.m/deg"


def _stay_words(stay: BarStay) -> str:
    low, high = stay.stiffness_n_per_mm
    stiff = f"{low:g} N/mm" if low == high else f"{low:g} to {high:g} N/mm"
    return (
        f"A stay holds the dash bar {stay.station_mm:g} mm from its first end along"
        f" ({', '.join(f'{d:g}' for d in stay.direction)}) with {stiff}, in push and pull alike"
        f" ({stay.seen_by or 'nobody is named who saw it'})."
    )


def _tolerance_words(bracket: Bracket) -> list[str]:
    """Say how much thinner each plate may be, those alike in one sentence."""
    alike: dict[str, list[str]] = {}
    for plate in bracket.plates:
        kind = metal_kind(bracket, plate)
        if kind is not None:
            said = plate.thickness_tolerance_mm is not None
            source = "as the file says" if said else tolerance_source(kind)
            words = f"up to {tolerance_mm(plate, kind):g} mm thinner than drawn, {source}"
            alike.setdefault(words, []).append(plate.name)
    bar = bracket.dash_bar
    if bar is not None and (off := wall_tolerance_mm(bar.section)):
        alike[f"its wall up to {off:g} mm thinner than typed, {WALL_SOURCE}"] = [bar.name]
    return [f"Of {', '.join(names)}: {words}." for words, names in alike.items()]


def _fit_words(fit: FitUp | None) -> str:
    if fit is None:
        return "The pieces are taken to fit without force: nobody gave how far folds and holes may be off."
    return (
        f"When the pieces come together folds are off by up to {fit.fold_deg:g} deg, fold lines out of square"
        f" by {fit.square_deg:g} deg, plates out of flat by {fit.flat_deg:g} deg, holes off by"
        f" {fit.hole_mm:g} mm; bolts are drawn up by hand first, free to slide in their holes, and what then"
        " stays in the plates is not added to what the loads do."
    )


def _preload_words(bolts: dict[str, ClampedBolt]) -> list[str]:
    """Say what every bolt clamps with, those alike in one sentence."""
    alike: dict[str, list[str]] = {}
    for name, bolt in bolts.items():
        if bolt.preload_low_n is None or bolt.preload_high_n is None:
            continue
        friction = "blank" if bolt.friction is None else f"{bolt.friction:g}"
        low, high = (f"{force / 1000:.1f}" for force in (bolt.preload_low_n, bolt.preload_high_n))
        words = (
            f"with {low if low == high else f'{low} to {high}'} kN"
            f" ({bolt.preload_words}); friction of the faces {friction}"
        )
        alike.setdefault(words, []).append(name)
    return [
        f"Bolt {names[0]} clamps {words}." if len(names) == 1 else f"Bolts {', '.join(names)} clamp {words}."
        for words, names in alike.items()
    ]


def _span(low: float, high: float) -> str:
    """Return both ends of a range, once where they are the same."""
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _column_words(bracket: Bracket) -> str:
    column = bracket.column
    if column.held_by is None:
        return "What else holds the column is not said; the figures here take it that nothing does."
    if column.held_by == "nothing":
        return "Nothing but the bracket holds the column: it takes the whole moment of a pull at the wheel."
    if column.held_by == "bearings":
        places = ", ".join(
            f"{b.name} at {b.station_mm:g} mm ({_span(*b.stiffness_n_per_mm)} N/mm)" for b in column.bearings
        )
        return f"The column holds the shaft sideways in bearings: {places or 'none is listed'}."
    return "The donor's column mount holds the shaft sideways and along."
