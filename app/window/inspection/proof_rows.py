"""The rows of the proof: cards for places worth gauging, the donor's hang, a pull at the bar. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final, TypeVar

from app.editing.entry import entered, shown, shown_reading
from app.record.proof import Card
from app.record.record import BarPull, DonorHang, Measured, Proof, Record
from app.window.inspection.row import Put, Row, parts_typed, place_words, with_measured
from geometry.bracket import Bracket
from geometry.part import Part

_PROOF: Final = (
    ("mass_kg", "mass hung", "kg"),
    ("arm_mm", "at an arm of", "mm"),
    ("station_mm", "lever's station", "mm"),
    ("gauge_at_mm", "gauge touches at x; y; z", "place"),
    ("gauge_along", "it reads more toward x; y; z", "direction"),
    ("zero_mm", "zero", "reading"),
    ("left_mm", "left", "reading"),
    ("zero_after_left_mm", "zero after left", "reading"),
    ("right_mm", "right", "reading"),
    ("zero_after_right_mm", "zero after right", "reading"),
    ("left_again_mm", "left again", "reading"),
)
_DONOR: Final = (
    ("where", "which car, and who read it", "words"),
    ("mass_kg", "mass hung", "kg"),
    ("arm_mm", "at an arm of", "mm"),
    ("rake_deg", "rake of its shaft", "deg"),
    ("gauge_arm_mm", "gauge from the shaft", "mm"),
    ("left_mm", "left", "reading"),
    ("after_left_mm", "off after left", "reading"),
    ("right_mm", "right", "reading"),
    ("after_right_mm", "off after right", "reading"),
)
_PULL: Final = (
    ("pull_n", "pull", "N"),
    ("middle_mm", "middle moved", "reading"),
    ("from_end_mm", "first end moved", "reading"),
    ("to_end_mm", "other end moved", "reading"),
    ("where", "who read it", "words"),
)
_NO_PLACE: Final = "first"
"""What a card is called where there is no casing to set a gauge on."""
_Read = TypeVar("_Read", DonorHang, BarPull)


def proof_rows(measured: Measured, cards: tuple[Card, ...], inch: bool) -> list[Row]:
    """Return the rows of every card that was begun, and of every place worth one that was not."""
    begun = {proof.where for proof in measured.proof}
    wanted: list[tuple[str, Card | None]] = [(p.where, _named(p.where, cards)) for p in measured.proof]
    wanted += [(card.place.name, card) for card in cards if card.place.name not in begun]
    return [
        row for where, card in wanted or [(_NO_PLACE, None)] for row in _card(measured, where, card, inch)
    ]


def donor_rows(measured: Measured, inch: bool) -> list[Row]:
    """Return the rows of the same hang on the donor's own mounting."""
    section = "The donor's own mounting, the same hang: the reference (or leave it blank)"

    def put(field: str, unit: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            donor = _changed(record.measured.donor or DonorHang(), field, text, unit, inch)
            return with_measured(record, donor=None if donor == DonorHang() else donor)

        return with_typed

    return [
        Row(section, words, "", _stands(measured.donor, field, unit, inch), put(field, unit))
        for field, words, unit in _DONOR
    ]


def bar_pull_rows(bracket: Bracket, measured: Measured, inch: bool) -> list[Row]:
    """Return the rows of a pull at the middle of the dash bar; none without a bar."""
    if bracket.dash_bar is None and measured.bar_pull is None:
        return []
    section = "Dash bar: pull at its middle, up or down; gauge there and at each end"

    def put(field: str, unit: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            pull = _changed(record.measured.bar_pull or BarPull(), field, text, unit, inch)
            return with_measured(record, bar_pull=None if pull == BarPull() else pull)

        return with_typed

    return [
        Row(section, words, "", _stands(measured.bar_pull, field, unit, inch), put(field, unit))
        for field, words, unit in _PULL
    ]


def _card(measured: Measured, where: str, card: Card | None, inch: bool) -> Iterator[Row]:
    have = next((proof for proof in measured.proof if proof.where == where), None)
    begun = _begun(where, card)

    def put(field: str, unit: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            old = next((p for p in record.measured.proof if p.where == where), None)
            if old is None and not text:
                return record
            value = _value(text, unit, inch) if text else Proof.model_fields[field].default
            new = (old or begun).but(**{field: value})
            # a card of which nothing was read is none
            kept = () if new in (begun, Proof(where=where)) else (new,)
            cards = record.measured.proof
            if old is None:
                return with_measured(record, proof=(*cards, *kept))
            place = cards.index(old)
            return with_measured(record, proof=(*cards[:place], *kept, *cards[place + 1 :]))

        return with_typed

    drawn = {} if card is None else _of_card(card, inch)
    for field, words, unit in _PROOF:
        yield Row(
            f"Proof, {where}: hang left, right, left", words, drawn.get(field, ""),
            _stands(have, field, unit, inch), put(field, unit),
        )  # fmt: skip


def _begun(where: str, card: Card | None) -> Proof:
    """Return the card with what it says of the place; what was hung and read is typed."""
    if card is None:
        return Proof(where=where)
    gauge = card.place.gauge
    station = 0.0 if card.hang is None else card.hang.station_mm
    return Proof(where=where, station_mm=station, gauge_at_mm=gauge.at_mm, gauge_along=gauge.along)


def _of_card(card: Card, inch: bool) -> dict[str, str]:
    gauge = card.place.gauge
    said = {
        "gauge_at_mm": place_words(gauge.at_mm, inch),
        "gauge_along": _shown(gauge.along, "direction", inch),
    }
    if card.hang is not None:
        said["mass_kg"] = shown(card.hang.mass_kg, "kg", inch)
        said["arm_mm"] = shown(card.hang.arm_mm, "mm", inch)
        said["station_mm"] = shown(card.hang.station_mm, "mm", inch)
    return said


def _named(where: str, cards: tuple[Card, ...]) -> Card | None:
    return next((card for card in cards if card.place.name == where), None)


def _changed(old: _Read, field: str, text: str, unit: str, inch: bool) -> _Read:
    return old.but(**{field: _value(text, unit, inch) if text else type(old).model_fields[field].default})


def _stands(part: Part | None, field: str, unit: str, inch: bool) -> str:
    value = None if part is None else getattr(part, field)
    return "" if value is None or value == "" else _shown(value, unit, inch)


def _value(text: str, unit: str, inch: bool) -> object:
    if unit == "words":
        return text
    if unit in ("place", "direction"):
        return parts_typed(text, 3, unit, inch=inch and unit == "place")
    unit = "mm" if unit == "reading" else unit
    bare = {"kg": "lb", "mm": "in", "N": "lbf"}.get(unit, unit) if inch else unit
    return entered(text, unit, bare=bare)


def _shown(value: Any, unit: str, inch: bool) -> str:  # noqa: ANN401 - words, a number or three of them
    if unit == "words":
        return str(value)
    if unit == "direction":
        return "; ".join(f"{part:g}" for part in value)
    if unit == "reading":
        return shown_reading(value, inch)
    return place_words(value, inch) if unit == "place" else shown(value, unit, inch)
