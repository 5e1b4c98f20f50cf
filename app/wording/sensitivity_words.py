"""How it is told what hangs on each input by itself, wherever it is shown."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from app.wording.figures import percent

if TYPE_CHECKING:
    from solver.trials import Trial, Turning

HEADS: Final = ("input", "from", "to", "verdict", "most used", "holds to N.m")
TURNING_HEADS: Final = ("input", "now", "turned", "verdict then")
HOW: Final = (
    "Used is at the upper end of the band. Other sheets and beds are of the first mesh; in a thinner sheet"
    " buckling goes by the third power of its thickness, in a thicker one it stays."
)


def trial_cells(trial: Trial) -> tuple[str, ...]:
    """Return one trial as the cells of a row under HEADS."""
    holds = "-" if trial.holds_to_nm is None else f"{trial.holds_to_nm:.3g}"
    return (
        trial.what,
        trial.now,
        trial.then,
        trial.verdict.upper(),
        f"{trial.nearest} {percent(trial.used_upper)}".strip(),
        holds,
    )


def turning_cells(turning: Turning) -> tuple[str, ...]:
    """Return where one input turns the verdict as the cells of a row under TURNING_HEADS."""
    way = "down" if turning.falls else "up"
    there = f"{way} to {turning.at}"
    return (turning.what, turning.now, there, turning.verdict.upper() if turning.turns else "the same")


def turning_sentences(turnings: Iterable[Turning]) -> list[str]:
    """Return a sentence for every input that turns the verdict."""
    return [
        f"{one.what}: {one.verdict.upper()} {'down' if one.falls else 'up'} from {one.at} (now {one.now})"
        for one in turnings
        if one.turns
    ]


def steady_sentence(turnings: Iterable[Turning]) -> str:
    """Return in a sentence how far inputs were turned without turning the verdict; empty if each turns it."""
    told = [f"{one.what} {'down' if one.falls else 'up'} to {one.at}" for one in turnings if not one.turns]
    return f"These leave the verdict as it is: {', '.join(told)}." if told else ""
