"""The parts list: what is bought with a bolt goes with its grade and with how it is locked."""

from __future__ import annotations

import pytest

from app.paper.part_table import part_table
from geometry.bracket import Bracket
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
