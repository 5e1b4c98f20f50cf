"""What the notes say of the dash bar's stays, and how a stay comes and goes. No Qt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from app.window.lists.field import Drafts, Field, Path, Piece
from geometry.bracket import Bracket
from geometry.fixing import BarStay, DashBar

STAYS: Final[Path] = ("dash_bar", "stays")
STAY_PARTS: Final = ("station_mm", "stiffness_n_per_mm")
DOWN: Final = (0.0, -1.0, 0.0)
"""The way a new stay runs until another is typed: down, as one to the tunnel does."""


def stay_pieces(bar: DashBar, drafts: Drafts) -> Iterator[Piece]:
    """Yield where the dash bar is stayed between its ends, and room for another stay."""
    for number, stay in enumerate(bar.stays):
        yield from _there(number, stay)
    yield from _another(bool(bar.stays), drafts)


def grown_stay(bracket: Bracket, given: Mapping[str, object]) -> Bracket | None:
    """Return the bracket with another stay, or None while station or stiffness is missing."""
    bar = bracket.dash_bar
    if bar is None or not given.keys() >= set(STAY_PARTS):
        return None
    stay = BarStay.model_validate({"direction": DOWN, **given})
    return bracket.but(dash_bar=bar.but(stays=(*bar.stays, stay)))


def without_stay(bracket: Bracket, path: Path) -> Bracket:
    """Return the bracket without the stay whose number a path ends at."""
    bar, number = bracket.dash_bar, int(path[-1])
    if bar is None:
        return bracket
    return bracket.but(dash_bar=bar.but(stays=(*bar.stays[:number], *bar.stays[number + 1 :])))


def _there(number: int, stay: BarStay) -> Iterator[Piece]:
    path: Path = (*STAYS, number)
    spoken = f"stay {number + 1} of the dash bar"
    yield "; stayed at "
    yield Field(
        ((*path, "station_mm"),),
        f"station of {spoken} from the first end; emptied, it is taken out",
        stay.station_mm,
        unit="mm",
        may_be_empty=True,
    )
    yield " along"
    for axis, value in enumerate(stay.direction):
        yield f" {'xyz'[axis]} "
        yield Field(((*path, "direction", axis),), f"direction of {spoken}, {'xyz'[axis]}", value, "number")
    yield " with "
    stiffness = stay.stiffness_n_per_mm
    yield Field(
        ((*path, "stiffness_n_per_mm"),), f"stiffness of {spoken}, low to high", stiffness, "range", "N/mm"
    )
    yield ", seen by "
    yield Field(
        ((*path, "seen_by"),), f"who has seen {spoken}", stay.seen_by, "words", blank=not stay.seen_by
    )


def _another(any_there: bool, drafts: Drafts) -> Iterator[Piece]:
    stem: Path = (*STAYS, "+")
    station, stiffness = (drafts.get((*stem, part)) for part in STAY_PARTS)
    yield "; stayed as well at " if any_there else "; stayed between them at "
    yield Field(
        ((*stem, "station_mm"),),
        "station of another stay of the dash bar, from its first end",
        station,
        unit="mm",
        instead="no place",
        may_be_empty=True,
    )
    if station is not None or stiffness is not None:
        yield ", stiffness "
        yield Field(
            ((*stem, "stiffness_n_per_mm"),),
            "stiffness of another stay of the dash bar, low to high",
            stiffness,
            "range",
            "N/mm",
            blank=stiffness is None,
        )
