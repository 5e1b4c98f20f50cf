"""The table of a ladder in words: heads and cells, for the terminal and the window alike. No Qt."""

from __future__ import annotations

from app.ladder.least import Least
from app.ladder.rung import Rung
from app.ladder.steps import Ladder
from app.wording.figures import Units, figure, in_units, percent, reading_in_units


def ladder_heads(ladder: Ladder, units: Units) -> list[str]:
    """Return the heads of the columns, the figures' with their unit."""
    couple, mass = (in_units(1.0, unit, units)[1] for unit in ("N.m", "kg"))
    return [*(one.typed for one in ladder.varied), "verdict", f"holds to {couple}", "then", mass]


def ladder_cells(ladder: Ladder, rung: Rung, least: Least, units: Units) -> list[str]:
    """Return the cells of one step."""
    answer = rung.answer
    mark = "  < least" if any(rung is one for one in least.rungs) else ""
    values = [
        reading_in_units(one.with_unit(value), units, digits=4)
        for one, value in zip(ladder.varied, rung.values, strict=True)
    ]
    then = answer.ended_by or (
        f"{answer.governs} {percent(answer.used_upper)}" if answer.used_upper is not None else ""
    )
    couple, mass = (
        figure(None if value is None else in_units(value, unit, units)[0])
        for value, unit in ((answer.holds_to_nm, "N.m"), (answer.mass_kg, "kg"))
    )
    return [*values, answer.verdict.upper() + mark, couple, then, mass]
