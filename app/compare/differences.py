"""What differs in the inputs of layouts, in words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from app.compare.input_words import Things, things_of
from app.compare.layout import Layout
from geometry.bracket import Bracket

Kind = Literal["load", "limit", "car", "layout"]
NOT_THERE: Final = "-"
_SPEAK_FOR_THEMSELVES: Final = ("loads", "limits", "shaft", "column")
_OF_THE_CAR: Final = ("casing", "column", "wheel", "shaft", "dash bar", "around", "material", "boss")


@dataclass(frozen=True)
class Difference:
    """One input that is not the same in all layouts."""

    what: str
    values: tuple[str, ...]
    """One for each layout; NOT_THERE where it has no such thing."""
    kind: Kind
    """`load` and `limit`: they are not held to the same; `car`: what the bracket is fitted to; `layout`: the
    bracket itself."""
    sentence: str


def differences_of(layouts: Sequence[Layout]) -> tuple[Difference, ...]:
    """Return every input that differs: loads and limits first, then the car, then the layout itself."""
    things = [things_of(layout.bracket) for layout in layouts]
    names = [layout.name for layout in layouts]
    found = _only_in_some(things, names) + _changed(things, names) + _drawn_otherwise(layouts, things)
    order: dict[Kind, int] = {"load": 0, "limit": 1, "car": 2, "layout": 3}
    return tuple(sorted(found, key=lambda difference: order[difference.kind]))


def unequal_ground(layouts: Sequence[Layout]) -> tuple[str, ...]:
    """Return what makes a comparison unfair, in words: loads, limits, column, wheel, casing; none if fair."""
    first = layouts[0].bracket
    found = []
    for words, of in _GROUND:
        if any(of(layout.bracket) != of(first) for layout in layouts[1:]):
            found.append(words)
    return tuple(found)


def _casing_ground(bracket: Bracket) -> object:
    casing = bracket.casing
    if casing is None:
        return None
    return casing.mass_kg, casing.mass_centre_mm, casing.station_mm, casing.clocking_deg, casing.envelope


_GROUND: Final = (
    ("couple", lambda b: (b.loads.couple.value_nm, b.loads.couple_factor)),
    ("pull at the wheel", lambda b: b.loads.pull_n),
    ("weight", lambda b: b.loads.weight_g),
    ("further load cases", lambda b: b.loads.extra),
    ("limits", lambda b: b.limits),
    ("what else holds the column", lambda b: b.column),
    ("wheel", lambda b: b.wheel),
    ("rake", lambda b: b.rake_deg),
    ("shaft joints", lambda b: b.shaft_joints),
    ("casing", _casing_ground),
)


def _only_in_some(things: Sequence[Things], names: Sequence[str]) -> list[Difference]:
    """Return things that some layouts have and others have not, those of one kind and owner in one line."""
    groups: dict[tuple[str, tuple[bool, ...]], list[str]] = {}
    for called in _all_of(things):
        there = tuple(called in one for one in things)
        owner = called.partition(" of ")[2]
        # what is on a plate that is not in all of them goes without saying
        if all(there) or (owner and any(owner not in one for one in things)):
            continue
        groups.setdefault((called.split()[0] + (f" of {owner}" if owner else ""), there), []).append(called)
    found = []
    for (_, there), listed in groups.items():
        what = _listed(listed)
        having = _and([name for name, has in zip(names, there, strict=True) if has])
        values = tuple("there" if has else NOT_THERE for has in there)
        found.append(Difference(what, values, _kind(listed[0]), f"only in {having}: {what}"))
    return found


def _changed(things: Sequence[Things], names: Sequence[str]) -> list[Difference]:
    """Return inputs that differ, things of one kind that differ alike in one line."""
    groups: dict[tuple[str, str, tuple[str, ...]], list[str]] = {}
    for called in _all_of(things):
        if sum(called in one for one in things) < 2:
            continue
        owner = called.partition(" of ")[2]
        group = called.split()[0] + (f" of {owner}" if owner else "")
        for words in _all_of([one.get(called, {}) for one in things]):
            values = tuple(one.get(called, {}).get(words, NOT_THERE) for one in things)
            there = {value for value, one in zip(values, things, strict=True) if called in one}
            if len(there) > 1 and not _goes_without_saying(words, values, things):
                groups.setdefault((group, words, values), []).append(called)
    found = []
    for (_, words, values), listed in groups.items():
        what = words if listed[0] in _SPEAK_FOR_THEMSELVES else f"{words} of {_listed(listed)}"
        found.append(Difference(what, values, _kind(listed[0]), _told(what, values, names)))
    return found


def _goes_without_saying(words: str, values: Sequence[str], things: Sequence[Things]) -> bool:
    """Return whether a bolt is in another plate or hole because that plate is not in all layouts."""
    if words == "hole":
        return True
    if words != "plate":
        return False
    called = [v if v.startswith("plate") else f"plate {v}" for v in values]
    return any(name not in one for name in called for one in things)


def _drawn_otherwise(layouts: Sequence[Layout], things: Sequence[Things]) -> list[Difference]:
    """Return outlines whose corners differ though their number and size over all do not."""
    found = []
    for plate in layouts[0].bracket.plates:
        named = [next((p for p in one.bracket.plates if p.name == plate.name), None) for one in layouts]
        others = [p for p in named if p is not None]
        if len(others) < len(layouts) or all(p.outline == plate.outline for p in others):
            continue
        called = plate.name if plate.name.startswith("plate") else f"plate {plate.name}"
        if len({one[called]["outline"] for one in things}) == 1:
            what = f"outline of {called}"
            values = (
                "as drawn",
                *("as drawn" if p.outline == plate.outline else "another" for p in others[1:]),
            )
            found.append(Difference(what, values, "layout", f"{what}: corners lie elsewhere"))
    return found


def _told(what: str, values: Sequence[str], names: Sequence[str]) -> str:
    return f"{what}: " + ", ".join(
        f"{value} in {name}" for value, name in zip(values, names, strict=True) if value != NOT_THERE
    )


def _all_of(groups: Sequence[dict[str, object]] | Sequence[Things] | Sequence[dict[str, str]]) -> list[str]:
    """Return every key, in the order met."""
    return list(dict.fromkeys(key for group in groups for key in group))


def _kind(called: str) -> Kind:
    if called == "loads":
        return "load"
    if called == "limits":
        return "limit"
    return "car" if called.startswith(_OF_THE_CAR) else "layout"


def _listed(called: Sequence[str]) -> str:
    """Return `bolts 5, 6 and 7` for bolt 5, bolt 6, bolt 7; what is named after its kind is not called it."""
    if len(called) == 1:
        return _not_twice(called[0])
    kind = called[0].split()[0]
    owner = called[0].partition(" of ")[2]
    bare = [re.sub(rf"^{kind} ", "", one.removesuffix(f" of {owner}")) for one in called]
    of_it = f" of {owner}" if owner else ""
    if kind == "plate" and all("plate" in one.split() for one in bare):
        return _and(bare) + of_it
    return f"{kind if kind.endswith('s') else kind + 's'} {_and(bare)}{of_it}"


def _not_twice(called: str) -> str:
    """Return `bar plate` for plate bar plate, which is what its owner's name begins with as well."""
    return re.sub(r"\bplate (?=(?:\S+ )*plate\b)", "", called)


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
