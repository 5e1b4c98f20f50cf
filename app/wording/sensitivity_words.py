"""How it is told what hangs on each input by itself, wherever it is shown."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from app.wording.figures import Units, in_units, percent, reading_in_units

if TYPE_CHECKING:
    from solver.trials import Trial, Turning

TURNING_HEADS: Final = ("input", "now", "turned", "verdict then")
HOW: Final = (
    "Used is at the upper end of the band. Other sheets and beds are of the first mesh; in a thinner sheet"
    " buckling goes by the third power of its thickness, in a thicker one it stays."
)


def heads(units: Units = "mm") -> tuple[str, ...]:
    """Return what stands above trials."""
    return ("input", "from", "to", "verdict", "most used", f"holds to {in_units(0.0, 'N.m', units)[1]}")


def trial_cells(trial: Trial, units: Units = "mm") -> tuple[str, ...]:
    """Return one trial as the cells of a row under `heads`."""
    holds = "-"
    if trial.holds_to_nm is not None:
        holds = f"{in_units(trial.holds_to_nm, 'N.m', units)[0]:.3g}"
    return (
        trial.what,
        _told(trial.now, units),
        _told(trial.then, units),
        trial.verdict.upper(),
        f"{trial.nearest} {percent(trial.used_upper)}".strip(),
        holds,
    )


def turning_cells(turning: Turning, units: Units = "mm") -> tuple[str, ...]:
    """Return where one input turns the verdict as the cells of a row under TURNING_HEADS."""
    way = "down" if turning.falls else "up"
    there = f"{way} to {_told(turning.at, units)}"
    now = _told(turning.now, units)
    return (turning.what, now, there, turning.verdict.upper() if turning.turns else "the same")


def turning_sentences(turnings: Iterable[Turning], units: Units = "mm") -> list[str]:
    """Return a sentence for every input that turns the verdict."""
    return [
        f"{one.what}: {one.verdict.upper()} {'down' if one.falls else 'up'} from"
        f" {_told(one.at, units)} (now {_told(one.now, units)})"
        for one in turnings
        if one.turns
    ]


def steady_sentence(turnings: Iterable[Turning], units: Units = "mm") -> str:
    """Return in a sentence how far inputs were turned without turning the verdict; empty if each turns it."""
    told = [
        f"{one.what} {'down' if one.falls else 'up'} to {_told(one.at, units)}"
        for one in turnings
        if not one.turns
    ]
    return f"These leave the verdict as it is: {', '.join(told)}." if told else ""


def _told(reading: str, units: Units) -> str:
    # what is changed is told with three digits in metric units, and is no truer in others
    return reading_in_units(reading, units, 3)
