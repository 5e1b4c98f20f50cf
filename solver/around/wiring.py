"""Cable and fuse: voltage lost there and back, what the cable bears, what the fuse lets through."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.installation import Cable, Wiring
from solver.around.cable_tables import (
    BUNDLE_SOURCE,
    COPPER_OHM_MM2_PER_M,
    RATING_SOURCE,
    RESISTANCE_SOURCE,
    gauge_area_mm2,
    rating_a,
    resistance_ohm_per_m,
)
from solver.around.line import AroundGroup, AroundLine, blank

_GROUP: AroundGroup = "cable and fuse"
_PRACTICE: Final = "common practice, no source"
FUSE_OVER_CURRENT: Final = 1.25
"""A fuse is not loaded for long beyond four fifths of what it is marked with (common practice, no source)."""


def wiring_lines(bracket: Bracket) -> Iterator[AroundLine]:
    """Yield everything there is to say of cable and fuse."""
    wiring = bracket.installation.wiring
    if wiring is None:
        yield blank(_GROUP, "cable", "nobody has said anything of cable and fuse")
        return
    yield _drop_line(wiring)
    yield from _rating_lines(wiring)
    yield from _fuse_lines(wiring)
    yield from _words_lines(wiring)
    yield from _donor_lines(wiring)


def area_of(cable: Cable) -> float | None:
    """Return a cable's cross-section in mm2, by its gauge where only that is given; None is a blank."""
    if cable.area_mm2 is not None:
        return cable.area_mm2
    return None if cable.gauge is None else gauge_area_mm2(cable.gauge)


def drop_v(wiring: Wiring, at_c: float) -> float | None:
    """Return the voltage lost there and back with the copper at that temperature; None while blank."""
    lost = 0.0
    for cable in (wiring.feed, wiring.back):
        area = area_of(cable)
        if area is None or cable.length_m is None or wiring.current_a is None:
            return None
        lost += wiring.current_a * cable.length_m * resistance_ohm_per_m(area, at_c)
    return lost


def drop_by_hand_v(wiring: Wiring) -> float | None:
    """Return the same of solid copper at 20 C: I (L/A + L/A) x 0.017241; None: blank."""
    lost = 0.0
    for cable in (wiring.feed, wiring.back):
        area = area_of(cable)
        if area is None or cable.length_m is None or wiring.current_a is None:
            return None
        lost += wiring.current_a * cable.length_m * COPPER_OHM_MM2_PER_M / area
    return lost


def borne_a(wiring: Wiring) -> float | None:
    """Return what the weaker of the two cables bears for good; None while an input is blank."""
    areas = [area_of(wiring.feed), area_of(wiring.back)]
    known = [a for a in areas if a is not None]
    if len(known) < len(areas) or wiring.insulation_c is None or wiring.bundled is None:
        return None
    return rating_a(min(known), wiring.insulation_c, wiring.ambient_c, wiring.bundled)


def _drop_line(wiring: Wiring) -> AroundLine:
    name = "voltage drop"
    hot = drop_v(wiring, wiring.insulation_c if wiring.insulation_c is not None else wiring.ambient_c)
    cold, by_hand = drop_v(wiring, 20.0), drop_by_hand_v(wiring)
    if hot is None or cold is None or by_hand is None:
        return blank(_GROUP, name, f"it hangs on what is blank: {', '.join(_wanting(wiring))}")
    limit = wiring.most_drop * wiring.supply_v
    within = hot <= limit
    return AroundLine(
        _GROUP,
        name,
        "met" if within else "broken",
        f"{hot:.2f} V of {wiring.supply_v:g} V is lost there and back at {wiring.current_a:g} A with the"
        " copper"
        f" hot, {cold:.2f} V at 20 C (by hand, solid copper, {by_hand:.2f} V);"
        f" {limit:.2f} V is allowed" + ("" if within else ": take a thicker cable or a shorter way"),
        f"{RESISTANCE_SOURCE}; limit: {_PRACTICE}",
        hot,
        limit,
        "V",
    )


def _wanting(wiring: Wiring) -> list[str]:
    found = [] if wiring.current_a is not None else ["the unit's current"]
    for cable, word in ((wiring.feed, "feed"), (wiring.back, "return")):
        if cable.length_m is None:
            found.append(f"length of the {word}")
        if area_of(cable) is None:
            found.append(f"cross-section of the {word}")
    return found


def _rating_lines(wiring: Wiring) -> Iterator[AroundLine]:
    name = "what the cable bears"
    borne = borne_a(wiring)
    if borne is None:
        wanting = [w for w in _wanting(wiring) if w.startswith("cross-section")]
        wanting += ["what the insulation bears"] if wiring.insulation_c is None else []
        wanting += ["how many loaded cables run side by side"] if wiring.bundled is None else []
        yield blank(_GROUP, name, f"it hangs on what is blank: {', '.join(wanting)}")
        return
    how = (
        f"{borne:.0f} A for good, insulation for {wiring.insulation_c:g} C in air of {wiring.ambient_c:g} C,"
        f" {wiring.bundled} loaded side by side"
    )
    source = f"{RATING_SOURCE}; {BUNDLE_SOURCE}"
    if wiring.current_a is None:
        yield blank(_GROUP, name, f"{how}; the unit's current is blank")
        return
    within = wiring.current_a <= borne
    yield AroundLine(
        _GROUP,
        name,
        "met" if within else "broken",
        f"{how}; the unit draws {wiring.current_a:g} A"
        + ("" if within else ", which heats it beyond that if it lasts: take a thicker cable"),
        source,
        wiring.current_a,
        borne,
        "A",
    )


def _fuse_lines(wiring: Wiring) -> Iterator[AroundLine]:
    if wiring.fuse_a is None:
        yield blank(_GROUP, "fuse against cable", "the fuse is blank: read what is marked on it")
        return
    borne = borne_a(wiring)
    if borne is None:
        yield blank(
            _GROUP, "fuse against cable", "what the cable bears is open, so nothing can be said of the fuse"
        )
    else:
        protects = wiring.fuse_a <= borne
        yield AroundLine(
            _GROUP,
            "fuse against cable",
            "met" if protects else "fails",
            f"a fuse of {wiring.fuse_a:g} A over a cable that bears {borne:.0f} A"
            + ("" if protects else ": the cable burns before the fuse goes; smaller fuse or thicker cable"),
            f"a fuse protects the cable ({_PRACTICE}); {RATING_SOURCE}",
            wiring.fuse_a,
            borne,
            "A",
        )
    if wiring.current_a is None:
        yield blank(
            _GROUP, "fuse against current", "the unit's current is blank: its maker or the donor has it"
        )
        return
    least = FUSE_OVER_CURRENT * wiring.current_a
    holds = wiring.fuse_a >= least
    yield AroundLine(
        _GROUP,
        "fuse against current",
        "met" if holds else "broken",
        f"a fuse of {wiring.fuse_a:g} A for a current of {wiring.current_a:g} A; {least:.0f} A or more is"
        " usual" + ("" if holds else ", or it goes while the wheel is turned"),
        _PRACTICE,
        least,
        wiring.fuse_a,
        "A",
    )


def _words_lines(wiring: Wiring) -> Iterator[AroundLine]:
    for name, said, wanted in (
        ("kind of fuse", wiring.fuse_kind, "what kind of fuse it is and where it sits"),
        ("earth point", wiring.earth_point, "where the return goes to earth, bare and tight"),
    ):
        if said is None or not said.strip():
            yield blank(_GROUP, name, f"nobody says {wanted}")
        else:
            yield AroundLine(_GROUP, name, "told", said)


def _donor_lines(wiring: Wiring) -> Iterator[AroundLine]:
    areas = [area for cable in (wiring.feed, wiring.back) if (area := area_of(cable)) is not None]
    donor = wiring.donor
    if donor.area_mm2 is not None and areas:
        area = min(areas)  # what comes back has to bear as much
        thinner = area < donor.area_mm2 * (1.0 - 1e-6)
        yield AroundLine(
            _GROUP,
            "cable beside the donor's",
            "broken" if thinner else "met",
            f"{area:.3g} mm2 here, {donor.area_mm2:g} mm2 in the donor"
            + (": it was thicker there, and rules" if thinner else ""),
            "the donor, as read",
            donor.area_mm2,
            area,
            "mm2",
        )
    if donor.fuse_a is not None and wiring.fuse_a is not None:
        larger = wiring.fuse_a > donor.fuse_a
        yield AroundLine(
            _GROUP,
            "fuse beside the donor's",
            "broken" if larger else "met",
            f"{wiring.fuse_a:g} A here, {donor.fuse_a:g} A in the donor"
            + (": it was smaller there, and rules" if larger else ""),
            "the donor, as read",
            wiring.fuse_a,
            donor.fuse_a,
            "A",
        )
