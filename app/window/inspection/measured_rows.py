"""What can be measured on a bracket, one row for each entry: what it is, what is drawn, what was read.

No Qt.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from app.editing.entry import entered, shown
from app.editing.refused import EditRefused
from app.record.record import (
    Measured,
    MeasuredHole,
    MeasuredThickness,
    MeasuredTorque,
    Play,
    Proof,
    Record,
)
from geometry.bracket import Bracket
from geometry.plate import Hole, Slot

Put = Callable[[Record, str], Record]


@dataclass(frozen=True)
class Row:
    """One entry."""

    section: str
    words: str
    drawn: str
    """What the file says of it; empty if nothing."""
    stands: str
    """What is written down; empty if nothing is."""
    put: Put
    """Write down what was typed; EditRefused or ValueError with a sentence if it cannot be."""


def rows_of(bracket: Bracket, record: Record, *, inch: bool) -> list[Row]:
    """Return a row for everything that can be measured."""
    measured = record.measured
    return [
        *_thicknesses(bracket, measured, inch), *_torques(bracket, measured, inch),
        *_play(measured, inch), *_proof(measured, inch), *_holes(bracket, measured, inch),
    ]  # fmt: skip


def _thicknesses(bracket: Bracket, measured: Measured, inch: bool) -> list[Row]:
    have = {reading.plate: reading.thickness_mm for reading in measured.thicknesses}

    def put(plate: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            rest = tuple(r for r in record.measured.thicknesses if r.plate != plate)
            if text:
                value = entered(text, "mm", bare="in" if inch else "mm")
                rest = (*rest, MeasuredThickness(plate=plate, thickness_mm=value))
            return _measured(record, thicknesses=rest)

        return with_typed

    return [
        Row(
            "Thickness, drawn and as built", f"{plate.name}", shown(plate.thickness_mm, "mm", inch),
            shown(have[plate.name], "mm", inch) if plate.name in have else "", put(plate.name),
        )
        for plate in bracket.plates
    ]  # fmt: skip


def _torques(bracket: Bracket, measured: Measured, inch: bool) -> list[Row]:
    have = {reading.bolt: reading.tightening_nm for reading in measured.torques}

    def put(bolt: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            rest = tuple(r for r in record.measured.torques if r.bolt != bolt)
            if text:
                rest = (*rest, MeasuredTorque(bolt=bolt, tightening_nm=entered(text, "N.m")))
            return _measured(record, torques=rest)

        return with_typed

    rows = []
    for bolt in bracket.bolts:
        drawn = "torque blank" if bolt.tightening_nm is None else shown(bolt.tightening_nm, "N.m", inch)
        stands = shown(have[bolt.name], "N.m", inch) if bolt.name in have else ""
        words = f"bolt {bolt.name}, {bolt.size} {bolt.grade or 'grade blank'}"
        rows.append(Row("Bolt torque, drawn and as found", words, drawn, stands, put(bolt.name)))
    return rows


def _holes(bracket: Bracket, measured: Measured, inch: bool) -> list[Row]:
    have = {(reading.plate, reading.opening): reading.centre_mm for reading in measured.holes}

    def put(plate: str, opening: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            rest = tuple(r for r in record.measured.holes if (r.plate, r.opening) != (plate, opening))
            if text:
                x, y = _place(text, inch)
                rest = (*rest, MeasuredHole(plate=plate, opening=opening, centre_mm=(x, y)))
            return _measured(record, holes=rest)

        return with_typed

    rows = []
    for plate in bracket.plates:
        for opening in plate.openings:
            if isinstance(opening, Hole | Slot):
                at = have.get((plate.name, opening.name))
                rows.append(
                    Row(
                        "Places of holes in the flat pattern, x; y, drawn and as built",
                        f"{opening.name} of {plate.name}",
                        _place_words(opening.centre_mm, inch),
                        "" if at is None else _place_words(at, inch),
                        put(plate.name, opening.name),
                    )
                )
    return rows


_PLAY: Final = "casing, by hand"


def _play(measured: Measured, inch: bool) -> list[Row]:
    have = {play.where: play for play in measured.play}

    def put(where: str, field: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            rest = tuple(p for p in record.measured.play if p.where != where)
            old = next((p for p in record.measured.play if p.where == where), None)
            value = entered(text, "mm", bare="in" if inch else "mm") if text else None
            if field == "play_mm":
                kept = None if old is None else old.most_mm
                made = None if value is None else Play(where=where, play_mm=value, most_mm=kept)
            elif old is None:
                raise EditRefused("Type the play that was read first, then how much is allowed.")
            else:
                made = old.but(most_mm=value)
            return _measured(record, play=rest if made is None else (*rest, made))

        return with_typed

    rows = []
    for where in dict.fromkeys((_PLAY, *have)):
        known = have.get(where)
        read = "" if known is None else shown(known.play_mm, "mm", inch)
        most = "" if known is None or known.most_mm is None else shown(known.most_mm, "mm", inch)
        rows.append(Row("Play by dial gauge", where, "", read, put(where, "play_mm")))
        rows.append(Row("Play by dial gauge", f"allowed, {where}", "", most, put(where, "most_mm")))
    return rows


_PROOF: Final = (
    ("mass_kg", "mass hung", "kg"),
    ("arm_mm", "at an arm of", "mm"),
    ("station_mm", "lever's station", "mm"),
    ("gauge_at_mm", "gauge touches at x; y; z", "place"),
    ("gauge_along", "it reads more toward x; y; z", "direction"),
    ("zero_mm", "zero", "mm"),
    ("left_mm", "left", "mm"),
    ("zero_after_left_mm", "zero after left", "mm"),
    ("right_mm", "right", "mm"),
    ("zero_after_right_mm", "zero after right", "mm"),
    ("left_again_mm", "left again", "mm"),
)
_CARD: Final = "first"


def _proof(measured: Measured, inch: bool) -> list[Row]:
    def put(place: int, field: str, unit: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            cards = list(record.measured.proof)
            if place >= len(cards):
                if not text:
                    return record
                cards.append(Proof(where=_CARD))  # one entry begins the card
            value = _proof_value(text, unit, inch) if text else Proof.model_fields[field].default
            cards[place] = cards[place].but(**{field: value})
            if cards[place] == Proof(where=cards[place].where):
                cards.pop(place)
            return _measured(record, proof=tuple(cards))

        return with_typed

    rows = []
    cards: list[Proof | None] = [*measured.proof] or [None]
    for place, card in enumerate(cards):
        name = "" if card is None or len(cards) == 1 else f", {card.where}"
        for field, words, unit in _PROOF:
            value = None if card is None else getattr(card, field)
            stands = "" if value is None else _proof_words(value, unit, inch)
            rows.append(
                Row(f"Proof: hang left, right, left{name}", words, "", stands, put(place, field, unit))
            )
    return rows


def _proof_value(text: str, unit: str, inch: bool) -> object:
    if unit == "kg":
        return entered(text, "kg", bare="lb" if inch else "kg")
    if unit == "mm":
        return entered(text, "mm", bare="in" if inch else "mm")
    return _parts(text, 3, unit, inch=inch and unit == "place")


def _proof_words(value: Any, unit: str, inch: bool) -> str:  # noqa: ANN401 - a number or three of them
    if unit in ("kg", "mm"):
        return shown(value, unit, inch)
    if unit == "direction":
        return "; ".join(f"{part:g}" for part in value)
    return _place_words(value, inch)


def _measured(record: Record, **changes: object) -> Record:
    return record.but(measured=record.measured.but(**changes))


def _place(text: str, inch: bool) -> tuple[float, float]:
    x, y = _parts(text, 2, "place", inch=inch)
    return x, y


def _parts(text: str, count: int, what: str, *, inch: bool) -> tuple[float, ...]:
    parts = [part for part in text.split(";") if part.strip()]
    if len(parts) != count:
        example = "; ".join(("12.5", "-30", "0")[:count])
        raise EditRefused(f"{text!r} is no {what}: type {count} numbers with ; between, such as {example}")
    return tuple(entered(part, "mm", bare="in" if inch else "mm") for part in parts)


def _place_words(at: tuple[float, ...], inch: bool) -> str:
    if inch:
        return "; ".join(shown(value, "mm", inch) for value in at)
    return "; ".join(f"{round(value, 3):g}" for value in at)
