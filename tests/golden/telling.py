"""What changed in a sample, in words: where it began, whether the verdict moved, and each check's figures."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final

from tests.golden.difference import Changed, Difference, place_of
from tests.golden.rows import STAGES, Figure

_INPUTS, _FINDINGS, _PLACING, _FIRST_MESH, _FIRST_SOLVE, _LAST_MESH, _LAST_SOLVE, _BANDS, _VERDICT = STAGES
_CHECK: Final = "check "
FAINT: Final = 1e-6
"""Relative: checks that changed by less than this in every figure are counted, not told one by one."""
MOST_OTHERS: Final = 12
"""Changed figures that are no check's, told before the rest are counted."""


def told(difference: Difference) -> list[str]:
    """Return the lines that explain what changed in a sample."""
    if difference.new:
        return [f"{difference.sample}: not in the kept table"]
    if not difference.now:
        return [f"{difference.sample}: in the kept table, and no sample any more"]
    return [
        f"{difference.sample}: first differs at {difference.first}{_began(difference)}",
        *(f"  {line}" for line in _lines(difference)),
    ]


def _began(difference: Difference) -> str:
    before = [stage.partition(" ")[2] for stage in STAGES[: STAGES.index(difference.first)]]
    return f"; the same: {', '.join(before)}" if before else ""


def _lines(difference: Difference) -> Iterator[str]:
    yield _verdict(difference)
    yield _cause(difference)
    for change in [*difference.at(_INPUTS), *difference.at(_FINDINGS), *difference.at(_PLACING)]:
        yield _one(change)
    yield from _meshes(difference, _FIRST_MESH)
    yield from _meshes(difference, _LAST_MESH)
    yield from _checks(difference)
    others = [
        change
        for stage in (_FIRST_SOLVE, _LAST_SOLVE, _VERDICT)
        for change in difference.at(stage)
        if not change.thing.startswith((_CHECK, "verdict", "reason"))
    ]
    others.sort(key=lambda change: -change.by)
    yield from (_one(change) for change in others[:MOST_OTHERS])
    if len(others) > MOST_OTHERS:
        left = others[MOST_OTHERS:]
        yield f"and {len(left)} more figures, by {_by(left[0])} at most"


def _verdict(difference: Difference) -> str:
    words = {change.figure: change for change in difference.at(_VERDICT) if change.thing == "verdict"}
    reasons = [change for change in difference.at(_VERDICT) if change.thing.startswith("reason")]
    if "word" in words:
        said = f"VERDICT CHANGED: {words['word'].before} -> {words['word'].now}"
    else:
        verdict = difference.now.get(place_of(_VERDICT, "verdict"), {}).get("word", "none")
        said = f"verdict {verdict}, the same"
    if not reasons:
        return f"{said}; reasons the same"
    return f"{said}; " + "; ".join(f"{r.thing}: {_figure(r.before)} -> {_figure(r.now)}" for r in reasons)


def _cause(difference: Difference) -> str:
    """Return whether inputs, meshes or only the solution changed."""
    if any(change.thing == "hash" for change in difference.at(_INPUTS)):
        return "the inputs' hash changed: another bracket, or a field that counts now"
    words = "inputs' hash the same"
    if difference.at(_FIRST_MESH):
        return f"{words}; the first mesh changed"
    if difference.at(_LAST_MESH):
        follows = ", as it is refined where the first solution says" if difference.at(_FIRST_SOLVE) else ""
        return f"{words}; the refined mesh changed{follows}"
    if difference.at(_FINDINGS) or difference.at(_PLACING):
        return f"{words}; meshes the same"
    if difference.at(_FIRST_SOLVE) or difference.at(_LAST_SOLVE):
        return f"{words}; meshes the same: only the solution changed"
    return f"{words}; meshes and solution the same: only what is made of it changed"


def _meshes(difference: Difference, stage: str) -> Iterator[str]:
    for thing in dict.fromkeys(change.thing for change in difference.at(stage)):
        changes = [change for change in difference.at(stage) if change.thing == thing]
        counts = [c for c in changes if c.figure in ("elements", "meshes") or c.figure.startswith("unknowns")]
        if counts:
            yield f"{stage[2:]}, {thing}: " + ", ".join(f"{c.figure} {_from_to(c)}" for c in counts)
        elif any(change.figure == "joined" for change in changes):
            yield f"{stage[2:]}, {thing}: as many elements, joined otherwise"
        else:
            largest = max(changes, key=lambda change: change.by)
            moved = f"most {largest.figure} {_from_to(largest)}"
            yield f"{stage[2:]}, {thing}: joined alike, nodes moved; {moved}"


def _checks(difference: Difference) -> Iterator[str]:
    """Yield a line for each check that changed, the most changed first; its pencil where ink is the same."""
    found: dict[str, list[Changed]] = {}
    for change in difference.changes:
        if change.thing.startswith(_CHECK):
            found.setdefault(change.thing, []).append(change)
    faint = [thing for thing, changes in found.items() if max(c.by for c in changes) < FAINT]
    for thing, changes in sorted(found.items(), key=lambda pair: -_most(pair[1])):
        if thing in faint:
            continue
        ink = [change for change in changes if change.stage in (_LAST_SOLVE, _BANDS, _VERDICT)]
        figures = ", ".join(
            f"{_SAID.get(c.figure, c.figure)} {_from_to(c)}{_unit(difference.now, c)}"
            for c in _telling(ink or changes)
        )
        yield f"{thing}: {figures}" if ink else f"{thing}: in pencil alone, {figures}"
    if faint:
        largest = max(faint, key=lambda thing: _most(found[thing]))
        many = f"{len(faint)} checks" if len(faint) > 1 else "1 check"
        themselves = "themselves" if len(faint) > 1 else "itself"
        most = f"{largest.removeprefix(_CHECK)} most: {_most(found[largest]):.1e}"
        yield f"{many} by less than {FAINT:.0e} of {themselves}, {most}"


_SAID: Final = {"upper_end": "used at the band's upper end", "mesh": "band's mesh", "change": "mesh's change"}


def _telling(changes: list[Changed]) -> list[Changed]:
    """Return changes without those that only follow from others among them."""
    figures = {change.figure for change in changes}
    follow = {"used"} if "demand" in figures and "allowable" not in figures else set()
    follow |= {"change"} if len(figures - follow) > 1 else set()
    return [change for change in changes if change.figure not in follow]


def _most(changes: list[Changed]) -> float:
    """Return by how much a check changed at its band's upper end; where it did not, in any figure."""
    return max([c.by for c in changes if c.figure == "upper_end"] or [c.by for c in changes])


def _unit(now: Mapping[str, Mapping[str, Figure]], change: Changed) -> str:
    if change.figure not in ("demand", "allowable"):
        return ""
    unit = now.get(place_of(change.stage, change.thing), {}).get("unit", "")
    return f" {unit}" if unit else ""


def _one(change: Changed) -> str:
    return f"{change.stage[2:]}, {change.thing}: {change.figure} {_from_to(change)}"


def _from_to(change: Changed) -> str:
    by = _by(change)
    return f"{_figure(change.before)} -> {_figure(change.now)}" + (f" ({by})" if by else "")


def _figure(figure: Figure | None) -> str:
    if figure is None:
        return "nothing"
    return f"{figure:.9g}" if isinstance(figure, float) else f'"{figure}"'


def _by(change: Changed) -> str:
    """Return the change in per cent with its sign; nothing for words."""
    if not (isinstance(change.before, float) and isinstance(change.now, float)) or math.isinf(change.by):
        return ""
    sign = "-" if change.now < change.before else "+"
    return f"{sign}{100.0 * change.by:.3g} %"
