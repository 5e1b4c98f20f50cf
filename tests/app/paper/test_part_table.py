"""The parts list: what is bought with a bolt goes with its grade and with how it is locked."""

from __future__ import annotations

import pytest

from app.paper.part_table import list_sources, part_table
from app.wording.figures import sentence_in_units
from geometry.bracket import Bracket
from geometry.fixing import Spacer, Washer
from tests.app.paper.papers import sample


def rows_after(bracket: Bracket, bolt: str) -> list[tuple[str, ...]]:
    """Return the rows of what is bought with the bolts of one row."""
    rows = [*part_table(bracket).rows]
    at = next(i for i, row in enumerate(rows) if bolt in row[0].split(", "))
    rest = rows[at + 1 :]
    return rest[: next((i for i, row in enumerate(rest) if row[0]), len(rest))]


@pytest.mark.parametrize(
    ("grade", "metal"),
    [
        ("5.6", "steel, 200 HV"),
        ("8.8", "steel, 200 HV"),
        ("10.9", "steel, 300 HV"),
        ("12.9", "steel, 300 HV"),
        ("A2-70", "stainless, 200 HV"),
        (None, "steel, 200 HV; 300 above grade 8.8"),
    ],
)
def test_washers_are_as_hard_as_the_bolt_wants_them(grade: str | None, metal: str) -> None:
    # ISO 7089: 200 HV up to property class 8.8, 300 HV up to 10.9 (from memory)
    bracket = sample("two_piece_bolted")
    graded = bracket.but(bolts=tuple(bolt.but(grade=grade) for bolt in bracket.bolts))
    washers = [row for row in part_table(graded).rows if row[2] == "washer"]
    assert washers
    assert {row[4] for row in washers} == {metal}


def test_a_nut_that_locks_is_bought_as_one() -> None:
    bracket = sample("two_piece_bolted")
    joint = next(bolt for bolt in bracket.bolts if bolt.joins.to == "hole")
    assert joint.locking == "locking nut"
    assert [row[2] for row in rows_after(bracket, joint.name)] == ["washer", "locking nut"]
    glued = bracket.with_bolt(joint.but(locking="medium thread lock"))
    assert [row[2] for row in rows_after(glued, joint.name)] == ["washer", "nut"]


@pytest.mark.parametrize(
    ("name", "bolt", "told"),
    [
        # ISO 7089 for M8; ASME B18.21.1 type A narrow for 5/16 (both from memory)
        ("two_piece_bolted", "1", "for M8, 16 x 8.4 x 1.6 mm"),
        ("imperial_flat", "1", "for 5/16, 0.688 x 0.344 x 0.065 in"),
    ],
)
def test_a_standard_washer_is_asked_for_by_its_thread_in_the_units_it_is_sold_in(
    name: str, bolt: str, told: str
) -> None:
    bracket = sample(name)
    (size,) = (row[3] for row in rows_after(bracket, bolt) if row[2] == "washer")
    assert size == told
    source = "ISO 7089" if name == "two_piece_bolted" else "ASME B18.21.1 type A, narrow"
    assert f"outer x inner x thickness: {source}" in list_sources(bracket)


def test_every_length_bought_has_its_unit_and_an_inch_list_has_both() -> None:
    bracket = sample("two_piece_bolted")
    first, *rest = bracket.bolts
    wide = Washer(outer_mm=24, inner_mm=8.4, thickness_mm=2)
    spacer = Spacer(outer_mm=16, inner_mm=9, length_mm=12)
    table = part_table(bracket.but(bolts=(first.but(washer=wide, spacer=spacer), *rest)))
    sizes = {row[2]: row[3] for row in reversed(table.rows)}
    assert sizes["washer"] == "24 x 8.4 x 2 mm"
    assert sizes["spacer"] == "16 x 9 x 12 mm"
    assert sizes["dash bar"] == "40 x 40 x 3 mm"
    # 24 / 25.4 = 0.945, 8.4 / 25.4 = 0.331, 2 / 25.4 = 0.0787
    assert sentence_in_units(sizes["washer"], "inch") == "24 x 8.4 x 2 mm (0.945 x 0.331 x 0.0787 in)"
