"""What can be measured on a bracket, one row for each entry: what it is, what is drawn, what was read.

No Qt.
"""

from __future__ import annotations

from typing import Final

from app.editing.entry import entered, shown, shown_reading
from app.editing.refused import EditRefused
from app.record.proof import Card
from app.record.record import (
    Measured,
    MeasuredHole,
    MeasuredThickness,
    MeasuredTorque,
    Play,
    Record,
)
from app.window.inspection.proof_rows import bar_pull_rows, donor_rows, proof_rows
from app.window.inspection.row import Put, Row, place_typed, place_words, with_measured
from geometry.bracket import Bracket
from geometry.plate import Hole, Slot


def rows_of(bracket: Bracket, record: Record, cards: tuple[Card, ...] = (), *, inch: bool) -> list[Row]:
    """Return a row for everything that can be measured; `cards` are the places worth gauging."""
    measured = record.measured
    return [
        *_thicknesses(bracket, measured, inch), *_torques(bracket, measured, inch),
        *_play(measured, inch), *proof_rows(measured, cards, inch), *donor_rows(measured, inch),
        *bar_pull_rows(bracket, measured, inch), *_holes(bracket, measured, inch),
    ]  # fmt: skip


def _thicknesses(bracket: Bracket, measured: Measured, inch: bool) -> list[Row]:
    have = {reading.plate: reading.thickness_mm for reading in measured.thicknesses}

    def put(plate: str) -> Put:
        def with_typed(record: Record, text: str) -> Record:
            rest = tuple(r for r in record.measured.thicknesses if r.plate != plate)
            if text:
                value = entered(text, "mm", bare="in" if inch else "mm")
                rest = (*rest, MeasuredThickness(plate=plate, thickness_mm=value))
            return with_measured(record, thicknesses=rest)

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
                value = entered(text, "N.m", bare="lbf.ft" if inch else "N.m")
                rest = (*rest, MeasuredTorque(bolt=bolt, tightening_nm=value))
            return with_measured(record, torques=rest)

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
                x, y = place_typed(text, inch)
                rest = (*rest, MeasuredHole(plate=plate, opening=opening, centre_mm=(x, y)))
            return with_measured(record, holes=rest)

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
                        place_words(opening.centre_mm, inch),
                        "" if at is None else place_words(at, inch),
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
            return with_measured(record, play=rest if made is None else (*rest, made))

        return with_typed

    rows = []
    for where in dict.fromkeys((_PLAY, *have)):
        known = have.get(where)
        read = "" if known is None else shown_reading(known.play_mm, inch)
        most = "" if known is None or known.most_mm is None else shown_reading(known.most_mm, inch)
        rows.append(Row("Play by dial gauge", where, "", read, put(where, "play_mm")))
        rows.append(Row("Play by dial gauge", f"allowed, {where}", "", most, put(where, "most_mm")))
    return rows
