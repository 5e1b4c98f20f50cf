"""What a ladder can vary, as a table of readable words."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from app.editing.refused import EditRefused
from app.ladder.bolt_changes import Change, order_of_grade, order_of_size, with_grade, with_number, with_size
from app.ladder.changed import Changed, meeting_the_bar
from app.ladder.sheet_changes import (
    order_of_length,
    order_of_material,
    with_bar,
    with_material,
    with_radius,
    with_thickness,
)
from app.ladder.weld_changes import with_throat
from geometry.bracket import Bracket

_RANGE: Final = re.compile(r"([\d.]+)\s*(?:-|\u2013|\.\.+|:|to)\s*([\d.]+)(?:\s*[^\W\d]+)?")
"""Such as `3-5`; no size of a thread, 1/4-20, nor mixed number, 1-1/2, is written so."""


@dataclass(frozen=True)
class Key:
    """One thing that can be varied."""

    word: str
    """Such as `plate.thickness`; `NAME` in it stands for the name of one thing."""
    means: str
    unit: str
    example: str
    change: Change
    order: Callable[[str], float]
    """What the values are put in order by, least first."""
    part: str | None = None
    """What the change is given in place of a name."""


KEYS: Final[tuple[Key, ...]] = (
    Key("plate.thickness", "thickness of every plate", "mm", "3,4,5,6,8", with_thickness, order_of_length),
    Key("plate.NAME.thickness", "thickness of one plate", "mm", "3,4,5", with_thickness, order_of_length),
    Key("plate.material", "sheet metal of every plate", "", "S235,S355", with_material, order_of_material),
    Key("plate.NAME.material", "sheet metal of one plate", "", "S235,S355", with_material, order_of_material),
    Key(
        "bolt.size",
        "size of every bolt that goes into no boss; holes follow by ISO 273 medium, torques as usual",
        "",
        "M6,M8,M10",
        with_size,
        order_of_size,
    ),
    Key("bolt.NAME.size", "size of one bolt", "", "M8,M10", with_size, order_of_size),
    Key("bolt.grade", "grade of every bolt, tightened as usual", "", "8.8,10.9", with_grade, order_of_grade),
    Key("bolt.NAME.grade", "grade of one bolt", "", "8.8,10.9", with_grade, order_of_grade),
    Key(
        "bolt.number",
        "bolts from each plate to the dash bar, evenly between the outer two",
        "",
        "2,3,4",
        with_number,
        order_of_length,
    ),
    Key("fold.radius", "inside radius of every fold", "mm", "6,8,10", with_radius, order_of_length),
    Key("fold.NAME.radius", "inside radius of one fold", "mm", "6,8,10", with_radius, order_of_length),
    Key("weld.throat", "throat of every weld", "mm", "3,4,5", with_throat, order_of_length),
    Key("weld.NAME.throat", "throat of one weld", "mm", "3,4,5", with_throat, order_of_length),
    Key(
        "bar.outer", "outer size of a round or square one", "mm", "30,40", with_bar, order_of_length, "outer"
    ),
    Key("bar.wall", "wall of the dash bar", "mm", "2,2.5,3", with_bar, order_of_length, "wall"),
    Key("bar.width", "width of a rectangular dash bar", "mm", "30,40", with_bar, order_of_length, "width"),
    Key("bar.height", "height of a rectangular dash bar", "mm", "30,40", with_bar, order_of_length, "height"),
)


@dataclass(frozen=True)
class Varied:
    """One key with the thing it is about and its values, least first."""

    typed: str
    key: Key
    name: str | None
    values: tuple[str, ...]

    def applied(self, bracket: Bracket, value: str) -> Changed:
        """Return the bracket with that value, plates meeting the bar; EditRefused if it cannot be."""
        thing = self.key.part if self.name is None else self.name
        return meeting_the_bar(bracket, self.key.change(bracket, thing, value))

    def with_unit(self, value: str) -> str:
        """Return a value with its unit, as it is written."""
        unit = self.key.unit if value.replace(".", "", 1).isdecimal() else ""
        return f"{value} {unit}".rstrip()


def varied(text: str) -> Varied:
    """Return what `plate.thickness=3,4,5` asks to vary; EditRefused, naming the nearest key, otherwise."""
    word, equals, listed = text.partition("=")
    word = word.strip()
    values = [value.strip() for value in listed.split(",") if value.strip()]
    if not equals or not values:
        raise EditRefused(f"{text} says no values: write it as plate.thickness=3,4,5")
    key, name = _found(word)
    for value in values:
        if (span := _RANGE.fullmatch(value)) is not None:
            raise EditRefused(
                f"{value} is a range, and every value is judged by itself: name each, such as"
                f" {word}={span[1]},{span[2]}"
            )
    ordered = sorted(dict.fromkeys(values), key=lambda value: (key.order(value), value))
    return Varied(word, key, name, tuple(ordered))


def _found(word: str) -> tuple[Key, str | None]:
    for key in KEYS:
        if key.word == word:
            return key, None
    first, _, rest = word.partition(".")
    name, _, last = rest.rpartition(".")
    for key in KEYS:
        if name and key.word == f"{first}.NAME.{last}":
            return key, name
    near = difflib.get_close_matches(word, [key.word for key in KEYS], n=1, cutoff=0.5)
    advice = f"did you mean {near[0]}?" if near else f"there are: {', '.join(key.word for key in KEYS)}."
    raise EditRefused(f"nothing called {word} can be varied; {advice}")
