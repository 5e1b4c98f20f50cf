"""How long a bolt to buy: what it clamps, what it must be screwed in or stand through, up to a length sold.

Lengths sold are those of ISO 4014 and ISO 4017; inch lengths by the eighth and the quarter. All from memory,
to be verified.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from geometry.bolt_lengths import sold_mm
from geometry.bolt_tables import BoltSize, System, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, Bolt
from geometry.nuts import NUT_SOURCES, has_locking_nut, nut_height_mm
from geometry.placing import BoltPlace, place_bolts
from geometry.thread_engagement import ENGAGED_OVER_D, to_buy_mm

_SOURCES: Final[dict[System, str]] = {
    "metric": f"lengths of ISO 4014 and ISO 4017, {NUT_SOURCES['metric']}",
    "inch": f"inch lengths by the eighth and the quarter, {NUT_SOURCES['inch']}",
}
STANDS_OUT_PITCHES: Final = 2.0
"""A bolt stands out of its nut by two threads at least (common practice)."""
_INCH_MM: Final = 25.4
_LONG_MM: Final = 125.0


@dataclass(frozen=True)
class BoltToBuy:
    """One bolt's length to buy."""

    bolt: str
    clamp_mm: float
    beyond_mm: float
    """What it must reach past what it clamps, at least."""
    length_mm: float | None
    """None where no length sold fits, or the file does not say enough."""
    words: str
    """How the length comes about, or why there is none."""


def source_words(bracket: Bracket) -> str:
    """Return where the lengths to buy come from, for the kinds of thread the bracket's bolts have."""
    told = "; ".join(_SOURCES[system] for system in bolt_systems(bracket))
    return f"{told} (from memory, to be verified)"


def bolt_systems(bracket: Bracket) -> tuple[System, ...]:
    """Return the kinds of thread that the bracket's bolts have, metric first; every kind if none is known."""
    systems = {size.system for bolt in bracket.bolts if (size := _known_size(bolt)) is not None}
    return tuple(system for system in _SOURCES if system in systems or not systems)


def _known_size(bolt: Bolt) -> BoltSize | None:
    try:
        return bolt_size(bolt.size)
    except UnknownBoltError:
        return None


def bolts_to_buy(bracket: Bracket) -> dict[str, BoltToBuy]:
    """Return the length to buy of every bolt that can be placed, by its name."""
    found: dict[str, BoltToBuy] = {}
    for place in place_bolts(bracket):
        if place.side != "head":
            continue
        bolt = bracket.bolt(place.bolt)
        if isinstance(bolt.joins, AtBoss) and not (
            bracket.casing and bracket.casing.has_boss(bolt.joins.boss)
        ):
            continue  # of two bolts with one name the placed one is the other
        try:
            size = bolt_size(bolt.size)
        except UnknownBoltError:
            continue
        found[bolt.name] = _with_lock(_with_thread(_to_buy(bracket, bolt, size, place), size), bolt)
    return found


def length_words(length_mm: float, size: BoltSize) -> str:
    """Return a length as it is sold: `M8 x 25`, or `5/16-18 x 1 1/4 in`."""
    if size.system == "metric":
        return f"{size.name} x {length_mm:g}"
    eighths = round(length_mm / _INCH_MM * 8.0)
    whole, rest = divmod(eighths, 8)
    top, bottom = rest, 8
    while top and top % 2 == 0:
        top, bottom = top // 2, bottom // 2
    text = " ".join(part for part in (str(whole) if whole else "", f"{top}/{bottom}" if top else "") if part)
    return f"{size.name} x {text} in"


def _with_lock(buy: BoltToBuy, bolt: Bolt) -> BoltToBuy:
    """Return what to buy, told that a locking washer, which the file gives no thickness, makes it longer."""
    if "washer" not in (bolt.locking or "").casefold():
        return buy
    return replace(buy, words=f"{buy.words}; the locking washer is not counted: add its thickness")


def thread_mm(length_mm: float, size: BoltSize) -> float:
    """Return how much of a bolt is threaded, from its end, where the rest of it is plain shank.

    2 d + 6 mm up to 125 mm of length and 2 d + 12 mm above, ISO 888; 2 d + 1/4 in of inch bolts up to 6 in,
    ASME B18.2.1. Both from memory, to be verified.
    """
    if size.system == "inch":
        return 2.0 * size.diameter_mm + 0.25 * _INCH_MM
    return 2.0 * size.diameter_mm + (6.0 if length_mm <= _LONG_MM else 12.0)


def _with_thread(buy: BoltToBuy, size: BoltSize) -> BoltToBuy:
    """Return what to buy, told how far it must be threaded if one with a shank would not clamp."""
    if buy.length_mm is None:
        return buy
    wanted, usual = buy.length_mm - buy.clamp_mm, thread_mm(buy.length_mm, size)
    if wanted <= usual + 1e-6:
        return buy
    words = (
        f"{buy.words}; thread of {wanted:.1f} mm at least, more than the {usual:.1f} mm of one with a shank,"
        " which would jam before it clamps: threaded to the head"
    )
    return replace(buy, words=words)


def _to_buy(bracket: Bracket, bolt: Bolt, size: BoltSize, place: BoltPlace) -> BoltToBuy:
    clamp = place.clamp_length_mm
    if isinstance(bolt.joins, AtBoss):
        return _in_boss(bracket, bolt, size, clamp)
    if isinstance(bolt.joins, AtAnchor):
        return BoltToBuy(
            bolt.name,
            clamp,
            size.diameter_mm,
            None,
            f"clamps {clamp:.1f} mm, and the anchor's own thickness is not in the file: add that, and a"
            f" nut's {nut_height_mm(size, bolt):.1f} mm or a thread of {size.diameter_mm:g} mm",
        )
    nut = nut_height_mm(size, bolt)
    beyond = nut + STANDS_OUT_PITCHES * size.pitch_mm
    kind = "locking nut" if has_locking_nut(bolt) else "nut"
    words = (
        f"clamps {clamp:.1f} mm, {kind} {nut:.1f} mm, two threads {STANDS_OUT_PITCHES * size.pitch_mm:.1f} mm"
    )
    return BoltToBuy(bolt.name, clamp, beyond, sold_mm(clamp + beyond, size), words)


def _in_boss(bracket: Bracket, bolt: Bolt, size: BoltSize, clamp: float) -> BoltToBuy:
    assert isinstance(bolt.joins, AtBoss)
    assert bracket.casing is not None
    boss = bracket.casing.boss(bolt.joins.boss)
    engaged = ENGAGED_OVER_D[boss.metal] * size.diameter_mm
    wanted = to_buy_mm(boss, size, clamp)
    words = f"clamps {clamp:.1f} mm, engages {engaged:.1f} mm in {boss.metal}"
    if boss.depth_mm is None:
        return BoltToBuy(
            bolt.name, clamp, engaged, wanted, f"{words}; depth of thread unknown: measure it first"
        )
    if wanted is None:
        return BoltToBuy(
            bolt.name, clamp, engaged, None, f"{words}; no length sold fits {boss.depth_mm:g} mm of thread"
        )
    if wanted >= clamp + engaged - 1e-6:
        return BoltToBuy(bolt.name, clamp, engaged, wanted, words)
    return BoltToBuy(
        bolt.name,
        clamp,
        engaged,
        wanted,
        f"clamps {clamp:.1f} mm; {boss.depth_mm:g} mm of thread leave it {wanted - clamp:.1f} mm, less"
        f" than the {engaged:.1f} mm usual in {boss.metal}",
    )
