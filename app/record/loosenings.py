"""Every assumption of a builder's file that is looser than the default or unusual, heaviest first.

The weight of one is how far the used share of a check rises if that assumption alone is set to the default,
measured by the quick path. What the quick path cannot answer is ranked by its kind, after the measured ones.

Glossary
--------
loosening   one assumption that makes the verdict kinder than the default would, or that is out of the usual
usual       the same bracket with that one assumption at its default
rise        largest rise of any check's used share, as a fraction, from the bracket as it is to the usual one
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from app.wording.figures import percent
from app.wording.verdict_words import limit_words
from geometry.bracket import Bracket
from geometry.fixing import USUAL_FACE_FRICTION, USUAL_THREAD_FRICTION, WRENCH_SCATTER, Bolt
from geometry.loads import Limits, Loads
from geometry.nuts import most_prevailing_nm, prevailing_nm
from solver.loose_inputs import (
    MOST_FACE_FRICTION,
    STAINLESS_FRICTION,
    loose_life,
    loose_pieces,
    slick_stainless,
)
from solver.results import QuickAnswer, Results

Kind = Literal["load", "column", "friction", "preload", "dash bar", "limit", "anchor", "material", "unusual"]
_RANKS: Final[tuple[Kind, ...]] = (
    "anchor", "material", "dash bar", "column", "load", "preload", "friction", "limit", "unusual",
)  # fmt: skip
"""Of those that could not be measured."""


@dataclass(frozen=True)
class Loosening:
    """One assumption that is looser or unusual."""

    words: str
    kind: Kind
    usual_words: str
    """What it is set to when it is weighed, such as `15 % friction`; empty if there is no such thing."""
    usual: Bracket | None = None
    stress_share: float = 1.0
    """Factor on the used share of every stress; the quick path knows no stress."""


@dataclass(frozen=True)
class Weighed:
    """A loosening with its weight."""

    loosening: Loosening
    rise: float | None
    """None where it could not be measured."""
    check: str = ""
    """The check whose used share rises most."""

    @property
    def words(self) -> str:
        """Return the assumption and what it weighs, in a sentence."""
        text = self.loosening.words
        if self.rise is None:
            return f"{text}; not measured, look at it"
        if math.isinf(self.rise):
            return f"{text}; with {self.loosening.usual_words}, {self.check}"
        if self.rise < 0.0005:
            return f"{text}; with {self.loosening.usual_words}, no check uses more"
        rise = percent(self.rise)
        then = f"the use of {self.check} rises by {rise} of its allowable"
        return f"{text}; with {self.loosening.usual_words}, {then}"


def loosenings_of(bracket: Bracket) -> tuple[Loosening, ...]:
    """Return every assumption of the file that is looser than the default or unusual, in no order."""
    return (
        *_of_limits(bracket), *_of_loads(bracket), *_of_bolts(bracket), *_of_ends(bracket),
        *_of_words(bracket),
    )  # fmt: skip


def weighed(
    found: Sequence[Loosening],
    before: QuickAnswer | None,
    answers: Mapping[int, QuickAnswer | None],
    results: Results | None,
) -> tuple[Weighed, ...]:
    """Return the loosenings with their weight, heaviest first.

    `before` is the quick answer of the bracket as it is; `answers` are those with one default each, by the
    place of the loosening. `results` have the stresses, which the quick path leaves out.
    """
    made = [_weighed(one, before, answers.get(place), results) for place, one in enumerate(found)]
    return tuple(sorted(made, key=_order))


def _order(one: Weighed) -> tuple[int, float, int]:
    return (one.rise is None, -(one.rise or 0.0), _RANKS.index(one.loosening.kind))


def _weighed(
    one: Loosening, before: QuickAnswer | None, after: QuickAnswer | None, results: Results | None
) -> Weighed:
    rises: dict[str, float] = {}
    if one.stress_share != 1.0 and results is not None:
        rises = {
            c.name: c.used * (one.stress_share - 1.0) for c in results.checks if c.name.startswith("stress")
        }
    if before is not None and after is not None:
        if after.casing is None and before.casing is not None:
            return Weighed(one, math.inf, "nothing holds the casing")
        were = {c.name: c.used for c in before.checks}
        rises |= {c.name: c.used - were[c.name] for c in after.checks if c.name in were and c.kind != "rule"}
    elif not rises:
        return Weighed(one, None)
    rises = {name: rise for name, rise in rises.items() if not math.isnan(rise)}
    worst = max(rises, key=lambda name: rises[name], default="")
    rise = max(rises.get(worst, 0.0), 0.0)
    return Weighed(one, rise, f"{worst} has no end" if math.isinf(rise) else worst)


def _of_limits(bracket: Bracket) -> list[Loosening]:
    found = []
    for name, (value, usual) in bracket.limits.looser().items():
        words = (
            f"limit: {limit_words(name, value)}, looser than the usual {limit_words(name, usual, bare=True)}"
        )
        found.append(
            Loosening(
                words,
                "limit",
                limit_words(name, usual, bare=True),
                bracket.but(limits=bracket.limits.but(**{name: usual})),
                # allowable stress is yield over this factor
                usual / value if name == "yield_factor" else 1.0,
            )
        )
    return found


def _of_loads(bracket: Bracket) -> list[Loosening]:
    loads, usual = bracket.loads, Loads()
    found = []
    usual_factor = loads.but(factor=None).couple_factor
    if loads.couple_factor < usual_factor:
        found.append(
            _load(bracket, f"factor {loads.couple_factor:g} on the couple", f"{usual_factor:g}", factor=None)
        )
    if loads.pull_n < usual.pull_n:
        words = f"a pull of {loads.pull_n:g} N at the wheel"
        found.append(_load(bracket, words, f"{usual.pull_n:g} N", pull_n=usual.pull_n))
    if loads.weight_g < usual.weight_g:
        words = f"weight x {loads.weight_g:g}"
        found.append(_load(bracket, words, f"x {usual.weight_g:g}", weight_g=usual.weight_g))
    more, usual_more = loads.couple_may_be_more, loads.but(couple_uncertainty=None).couple_may_be_more
    if more < usual_more:
        words = f"the couple said to be {percent(more)} larger at most, the usual is {percent(usual_more)}"
        found.append(Loosening(words, "load", ""))
    found += [Loosening(words, "load", "") for words in loose_life(loads)]
    if loads.couple.source == "motor":
        found.append(Loosening("the couple is worked out from motor torque and ratio", "load", ""))
    return found


def _load(bracket: Bracket, words: str, usual_words: str, **usual: object) -> Loosening:
    changed = bracket.but(loads=bracket.loads.but(**usual))
    return Loosening(f"{words}, lower than the usual {usual_words}", "load", usual_words, changed)


def _of_bolts(bracket: Bracket) -> list[Loosening]:
    found = []
    for kind, words, usual_words, wrong, usual in (
        (
            "friction", "face friction above bare steel's usual 0.15 to 0.2", f"{USUAL_FACE_FRICTION:g}",
            lambda b: b.face_friction is not None and b.face_friction > MOST_FACE_FRICTION,
            {"face_friction": USUAL_FACE_FRICTION},
        ),
        (
            "preload", "preload said to be surer than a torque wrench's 25 %", "25 %",
            lambda b: b.preload_n is None and b.tightening_nm is not None and b.scatter < WRENCH_SCATTER,
            {"scatter": WRENCH_SCATTER},
        ),
        (
            "preload", "thread friction below the usual 0.12, so that the same torque clamps more",
            f"{USUAL_THREAD_FRICTION:g}",
            lambda b: b.preload_n is None and b.thread_friction < USUAL_THREAD_FRICTION,
            {"thread_friction": USUAL_THREAD_FRICTION},
        ),
        (
            "preload", "thread friction of a greased thread in stainless bolts, dry ones clamp less",
            f"{STAINLESS_FRICTION:g}", slick_stainless, {"thread_friction": STAINLESS_FRICTION},
        ),
        (
            "preload", "locking nuts said to take less of the torque than new ones may", "the most they may",
            lambda b: b.preload_n is None and prevailing_nm(b) < most_prevailing_nm(b),
            {"prevailing_nm": None},
        ),
        (
            "preload", "preload stated in place of a torque", "the tightening torque",
            lambda b: b.preload_n is not None and b.tightening_nm is not None,
            {"preload_n": None},
        ),
    ):  # fmt: skip
        made = _bolts(bracket, kind, words, usual_words, wrong, usual)  # type: ignore[arg-type]
        found += [made] if made is not None else []
    bare = [b.name for b in bracket.bolts if b.preload_n is not None and b.tightening_nm is None]
    if bare:
        found.append(Loosening(f"preload stated and no torque given, {_named(bare)}", "preload", ""))
    return found


def _bolts(
    bracket: Bracket,
    kind: Kind,
    words: str,
    usual_words: str,
    wrong: Callable[[Bolt], bool],
    usual: Mapping[str, object],
) -> Loosening | None:
    names = [bolt.name for bolt in bracket.bolts if wrong(bolt)]
    if not names:
        return None
    changed = bracket.but(
        bolts=tuple(bolt.but(**usual) if bolt.name in names else bolt for bolt in bracket.bolts)
    )
    return Loosening(f"{words}, {_named(names)}", kind, usual_words, changed)


def _of_ends(bracket: Bracket) -> list[Loosening]:
    """Return the bar's ends that hold it in bending, and what else holds the column."""
    found = []
    bar = bracket.dash_bar
    if bar is not None and any(end.kind in ("welded", "stiffness") for end in bar.ends):
        pinned = bar.but(
            ends=tuple(end.pinned if end.kind in ("welded", "stiffness") else end for end in bar.ends)
        )
        seen = [end.seen_by or "nobody named" for end in bar.ends if end.kind in ("welded", "stiffness")]
        words = f"ends of {bar.name} taken as held in bending, seen by {' and '.join(dict.fromkeys(seen))}"
        found.append(Loosening(words, "dash bar", "pinned ends", bracket.but(dash_bar=pinned)))
    if bar is not None and bar.stays:
        who = [stay.seen_by or "nobody named" for stay in bar.stays]
        words = f"{bar.name} taken as stayed between its ends, seen by {' and '.join(dict.fromkeys(who))}"
        found.append(Loosening(words, "dash bar", "no stay", bracket.but(dash_bar=bar.but(stays=()))))
    column = bracket.column
    if column.held_by in ("bearings", "donor mount"):
        what = "bearings" if column.held_by == "bearings" else "the donor's column mount"
        alone = column.but(held_by="nothing", bearings=(), mount=None)
        found.append(
            Loosening(
                f"{what} said to hold the column as well",
                "column",
                "nothing else holding it",
                bracket.but(column=alone),
            )
        )
    return found


def _of_words(bracket: Bracket) -> list[Loosening]:
    """Return what rests on somebody's word alone: nothing can be set to a default there."""
    found = [
        Loosening(f"anchor {anchor.name} taken as immovable: {anchor.word}", "anchor", "")
        for anchor in bracket.anchors
    ]
    found += [Loosening(words, "material", "") for words in loose_pieces(bracket)]
    used = {plate.material for plate in bracket.plates}
    found += [
        Loosening(
            f"material {own.name} with figures of the builder's own ({own.source}): yield"
            f" {own.yield_mpa:g} MPa",
            "material",
            "",
        )
        for own in bracket.materials
        if own.name in used
    ]
    usual = Limits().but()
    stricter = [n for n in Limits.model_fields if getattr(bracket.limits, n) != getattr(usual, n)]
    loose = bracket.limits.looser()
    found += [
        Loosening(f"limit: {limit_words(n, getattr(bracket.limits, n))}, stricter than usual", "unusual", "")
        for n in stricter
        if n not in loose
    ]
    return found


def _named(names: Sequence[str]) -> str:
    return f"bolt {names[0]}" if len(names) == 1 else f"bolts {', '.join(names)}"
