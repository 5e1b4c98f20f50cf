"""The rows of the bolts, alike ones in one row. No Qt."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache

from app.paper.bolts_to_buy import BoltToBuy, bolts_to_buy, length_words
from app.window.lists.field import Field, Line, Piece
from app.window.lists.off_default import off_default
from app.window.lists.rows import Row, item_numbers
from app.window.selection import Pick
from app.wording.figures import figure, percent
from app.wording.plate_name import plate_called
from app.wording.washer_words import standard_sizes
from geometry.bolt_tables import BOLT_GRADES, BOLT_SIZES, UnknownBoltError, bolt_grade, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import (
    USUAL_FACE_FRICTION,
    USUAL_THREAD_FRICTION,
    WRENCH_SCATTER,
    AtAnchor,
    AtBoss,
    AtHole,
    Bolt,
    Washer,
)
from geometry.flat_segments import ShapeError
from geometry.nuts import most_prevailing_nm, prevailing_nm
from geometry.plate import Hole
from solver.results import BoltResult
from solver.tightening import tighten

LOCKINGS = (
    "medium thread lock",
    "prevailing nut",
    "locking nut",
    "wedge-locking washer",
    "lock wire",
)
_WASHERS = ("standard", "none")
_Alike = tuple[object, ...]
States = Sequence[BoltResult] | None
"""What an analysis or a quick answer says of each bolt; None where there is none."""


def bolt_rows(bracket: Bracket, opened: Collection[str], states: States) -> Iterator[Row]:
    """Yield a row for each kind of bolt, and below an opened one a row for each bolt of it."""
    alike: dict[_Alike, list[Bolt]] = {}
    for bolt in bracket.bolts:
        alike.setdefault(_kind(bolt), []).append(bolt)
    for bolts in alike.values():
        key = f"bolts {bolts[0].name}"
        if len(bolts) == 1:
            yield _row(bracket, bolts, f"bolt {bolts[0].name}", states)
            continue
        yield _row(bracket, bolts, key, states, opened=key in opened)
        if key in opened:
            for bolt in bolts:
                yield _row(bracket, [bolt], f"bolt {bolt.name}", states, member=True)


def _kind(bolt: Bolt) -> _Alike:
    same = bolt.model_dump(exclude={"name", "hole", "plate", "joins"}, mode="json")
    return (bolt.joins.to, repr(same))


def _row(
    bracket: Bracket,
    bolts: list[Bolt],
    key: str,
    states: States,
    *,
    opened: bool | None = None,
    member: bool = False,
) -> Row:
    first = bolts[0]
    item = item_numbers([bolt.name for bolt in bolts])
    return Row(
        key=key,
        item=item,
        off=len(bolts),
        part=f"bolt to {_partner(first, bolts)}",
        cells=(
            (_field(bolts, "size", "size", kind="size", choices=tuple(s.name for s in BOLT_SIZES)),),
            (
                _field(
                    bolts,
                    "grade",
                    "grade",
                    kind="grade",
                    choices=tuple(g.name for g in BOLT_GRADES),
                    blank=first.grade is None,
                ),
            ),
            (_tightening(bolts),),
            (_states(bolts, states),),
        ),
        pick=Pick("bolt", first.name),
        covers=tuple(Pick("bolt", bolt.name) for bolt in bolts),
        rest=Line(key, tuple(_rest(bracket, bolts, item))),
        opened=opened,
        member=member,
        balloon=True,
    )


def _field(bolts: list[Bolt], name: str, words: str, **given: object) -> Field:
    return Field(
        tuple(("bolts", bolt.name, name) for bolt in bolts),
        f"{words} of {_names(bolts)}",
        getattr(bolts[0], name),
        **given,  # type: ignore[arg-type]
    )


def _names(bolts: list[Bolt]) -> str:
    word = "bolt" if len(bolts) == 1 else "bolts"
    return f"{word} {item_numbers([bolt.name for bolt in bolts])}"


def _partner(bolt: Bolt, bolts: list[Bolt]) -> str:
    match bolt.joins:
        case AtBoss():
            return f"boss {bolt.joins.boss}" if len(bolts) == 1 else "casing"
        case AtAnchor():
            return f"anchor {bolt.joins.anchor}" if len(bolts) == 1 else "anchors"
        case AtHole():
            return plate_called(bolt.joins.plate) if len({_joined(b) for b in bolts}) == 1 else "plates"
        case _:
            return "dash bar"


def _joined(bolt: Bolt) -> str:
    return bolt.joins.plate if isinstance(bolt.joins, AtHole) else ""


def _tightening(bolts: list[Bolt]) -> Field:
    """Return the preload where it is stated, else the tightening torque."""
    first = bolts[0]
    if first.preload_n is not None:
        return _field(bolts, "preload_n", "preload", kind="range", unit="N", may_be_empty=True)
    return _field(
        bolts,
        "tightening_nm",
        "tightening torque",
        unit="N.m",
        blank=first.tightening_nm is None,
        may_be_empty=True,
    )


def _states(bolts: list[Bolt], states: States) -> str:
    """Return the states that the analysis gave, each once; a group tells how many are in which."""
    names = {bolt.name for bolt in bolts}
    known = [answer.state for answer in states or () if answer.name in names]
    if len(set(known)) <= 1:
        return known[0] if known else ""
    counts = {state: known.count(state) for state in ("out", "slipped", "stuck")}
    return ", ".join(f"{count} {state}" for state, count in counts.items() if count)


def _rest(bracket: Bracket, bolts: list[Bolt], item: str) -> Iterator[Piece]:
    first = bolts[0]
    yield f"{_names(bolts).capitalize()}: "
    if len(bolts) == 1:
        yield "name "
        yield _field(bolts, "name", "name", kind="words")
        yield "; "
    yield "washer "
    yield _field(bolts, "washer", "washer", kind="washer", choices=_WASHERS)
    yield _washer_words(first)
    yield "; spacer "
    yield _field(bolts, "spacer", "spacer", kind="spacer", may_be_empty=True, instead="none")
    hole = _hole(bracket, bolts)
    if hole is not None:
        yield "; hole "
        yield hole
        yield _fit_words(first, hole)
    yield "; friction of faces "
    yield _face_friction(bolts)
    yield ", of thread "
    usual, looser = off_default(first.thread_friction, USUAL_THREAD_FRICTION, higher_is_looser=None)
    yield _field(bolts, "thread_friction", "thread friction", kind="number", usual=usual, looser=looser)
    yield "; preload within "
    usual, looser = off_default(first.scatter, WRENCH_SCATTER, higher_is_looser=False, share=True)
    yield _field(bolts, "scatter", "preload scatter", kind="share", usual=usual, looser=looser)
    yield from _preload(bracket, bolts)
    yield "; locked by "
    yield _field(
        bolts, "locking", "locking", kind="words", choices=LOCKINGS, may_be_empty=True, instead="nothing said"
    )
    most = most_prevailing_nm(first)
    if most > 0.0 or first.prevailing_nm is not None:
        yield ", whose nut turns on with "
        yield _field(
            bolts,
            "prevailing_nm",
            "prevailing torque",
            unit="N.m",
            may_be_empty=True,
            instead=f"{most:g} N.m at most",
        )
        yield " of its torque"
    yield "; length to buy "
    yield _field(bolts, "length_mm", "length to buy", unit="mm", may_be_empty=True)
    yield _to_buy(bracket, bolts)
    if first.joins.to in ("dash bar", "anchor"):
        yield "; rests on a pad of "
        yield _field(
            bolts,
            "pad_diameter_mm",
            "pad diameter",
            unit="mm",
            may_be_empty=True,
            instead="the washer's size",
        )
        yield " across, its height "
        yield _field(bolts, "pad_height_mm", "pad height", unit="mm", may_be_empty=True, instead="not said")
    yield "."


def _to_buy(bracket: Bracket, bolts: list[Bolt]) -> str:
    """Return which length sold fits, and how that comes about; of unlike ones each bolt's own."""
    bought = _bought(bracket)
    told: dict[str, list[str]] = {}
    for bolt in bolts:
        one = bought.get(bolt.name)
        if one is not None:
            size = bolt_size(bolt.size)
            length = "no length" if one.length_mm is None else length_words(one.length_mm, size)
            told.setdefault(f"{length} fits: {one.words}", []).append(bolt.name)
    if len(told) == 1:
        return f" ({next(iter(told))})"
    each = "; ".join(f"{item_numbers(names)}: {words}" for words, names in told.items())
    return f" ({each})" if each else ""


@lru_cache(maxsize=4)
def _bought(bracket: Bracket) -> dict[str, BoltToBuy]:
    try:
        return bolts_to_buy(bracket)
    except (ShapeError, ValueError, LookupError):
        return {}  # findings say what is wrong with places and names


def _face_friction(bolts: list[Bolt]) -> Field:
    value = bolts[0].face_friction
    usual, looser = off_default(value, USUAL_FACE_FRICTION, higher_is_looser=True)
    return _field(
        bolts,
        "face_friction",
        "friction of clamped faces",
        kind="number",
        blank=value is None,
        usual=usual,
        looser=looser,
    )


def _washer_words(bolt: Bolt) -> str:
    if bolt.washer != "standard" or isinstance(bolt.washer, Washer):
        return ""
    try:
        size = bolt_size(bolt.size)
    except UnknownBoltError:
        return ""
    return f" ({standard_sizes(size)})"


def _hole_mm(bracket: Bracket, bolt: Bolt) -> float | None:
    """Return the clearance hole in the plate that the bolt's head lies on, if there is a round one."""
    plate = next((p for p in bracket.plates if p.name == bolt.plate), None)
    opening = next((o for o in plate.openings if o.name == bolt.hole), None) if plate is not None else None
    return opening.diameter_mm if isinstance(opening, Hole) else None


def _hole(bracket: Bracket, bolts: list[Bolt]) -> Field | None:
    """Return the field of the bolts' clearance hole; None where one of them has none."""
    holes = [_hole_mm(bracket, bolt) for bolt in bolts]
    if None in holes:
        return None
    return Field(
        tuple(("plates", b.plate, "openings", b.hole, "diameter_mm") for b in bolts),
        f"clearance hole of {_names(bolts)}",
        holes[0],
        unit="mm",
        varies=len(set(holes)) > 1,
    )


def _fit_words(bolt: Bolt, hole: Field) -> str:
    try:
        size = bolt_size(bolt.size)
    except UnknownBoltError:
        return ""
    if hole.varies or not isinstance(hole.value, float):
        return ""
    for word in ("fine", "medium", "coarse"):
        if abs(getattr(size, f"hole_{word}_mm") - hole.value) < 0.01:
            return f" ({word})"
    return f" (medium is {size.hole_medium_mm:g} mm)"


def _preload(bracket: Bracket, bolts: list[Bolt]) -> Iterator[Piece]:
    """Tell what preload the torque gives before settling, and let a measured one be stated instead.

    A head rubs where its hole lets it, so the hole has a part in this.
    """
    first = bolts[0]
    try:
        size, grade = bolt_size(first.size), bolt_grade(first.grade or "")
    except UnknownBoltError:
        pass
    else:
        if first.preload_n is None and first.tightening_nm is not None and first.scatter < 1.0:
            made = [
                tighten(
                    size,
                    grade,
                    first.tightening_nm,
                    first.thread_friction,
                    first.scatter,
                    prevailing_nm=prevailing_nm(first),
                    hole_mm=hole_mm,
                )
                for hole_mm in {_hole_mm(bracket, bolt) for bolt in bolts}
            ]
            low = figure(min(m.low_n for m in made) / 1000.0)
            high = figure(max(m.high_n for m in made) / 1000.0)
            most = max(m.yield_used for m in made)
            used = "" if most <= 1.0 else f", up to {percent(most)} of its yield"
            yield f" of what the torque gives: {low} to {high} kN before settling{used}"
    yield "; preload measured "
    yield _field(bolts, "preload_n", "measured preload", kind="range", unit="N", may_be_empty=True)
