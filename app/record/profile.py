"""A certifier's own profile: limits, factors, extra lines for the check-list, cautions.

It stands in place of the builder's: a limit that the profile leaves out is the program's default, never the
builder's own. Of loads the severer counts, the builder's or the profile's, and no couple is taken to be surer
than its source usually is; a spectrum stays the builder's, for no number says which of two is severer.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from app.record.record import Group
from geometry.bracket import Bracket
from geometry.loads import Fatigue, Limits, Loads
from geometry.part import NotNegative, Part, Positive

FORMAT: Final = "holdsquare profile"
VERSION: Final = 1
_MOST_NAME: Final = 150
"""Letters, so that a record has room for the warning too."""


class Factors(Part):
    """Least loads a certifier judges under."""

    measured: Positive = 1.5
    """Factor on a measured couple."""
    stated: Positive = 2.0
    """Factor on a couple that is only stated."""
    pull_n: NotNegative = Loads().pull_n
    weight_g: NotNegative = Loads().weight_g
    full_cycles: Annotated[int, Field(ge=1, le=1_000_000_000)] = Fatigue().full_cycles
    """Full reversals over its life, of a file that lists no couples of its own."""

    def looser(self) -> dict[str, tuple[float, float]]:
        """Return each load below the default in words: (value, default)."""
        usual = Factors()
        both = {words: (getattr(self, name), getattr(usual, name)) for name, words in _FACTOR_WORDS.items()}
        return {words: (value, default) for words, (value, default) in both.items() if value < default}


_FACTOR_WORDS: Final = {
    "measured": "factor on a measured couple",
    "stated": "factor on a stated couple",
    "pull_n": "pull at the wheel in N",
    "weight_g": "weight x",
    "full_cycles": "full reversals over its life",
}


class OwnLine(Part):
    """A line of the check-list that a certifier adds."""

    group: Group
    words: Annotated[str, Field(min_length=1, max_length=400)]
    clause: Annotated[str, Field(max_length=400)] = ""


class Profile(Part):
    """What a certifier judges by."""

    format: Literal["holdsquare profile"] = FORMAT
    version: Literal[1] = VERSION
    name: Annotated[str, Field(max_length=200)] = "the program's defaults"
    certifier: Annotated[str, Field(max_length=200)] = ""
    limits: Limits = Limits()
    factors: Factors = Factors()
    check_list: Annotated[tuple[OwnLine, ...], Field(max_length=100)] = ()
    cautions: Annotated[
        tuple[Annotated[str, Field(min_length=1, max_length=400)], ...], Field(max_length=30)
    ] = ()

    @property
    def called(self) -> str:
        """Return its name, with a warning where it allows more than the program's defaults."""
        looser = self.limits.looser() or self.factors.looser()
        return f"{self.name[:_MOST_NAME]}, looser than usual" if looser else self.name


def under(bracket: Bracket, profile: Profile) -> Bracket:
    """Return the bracket as it is judged under a profile."""
    loads, least = bracket.loads, profile.factors
    least_factor = least.measured if loads.couple.measured else least.stated
    factor = max(loads.couple_factor, least_factor)
    usual = loads.but(couple_uncertainty=None)
    fatigue = loads.fatigue
    if not fatigue.spectrum and fatigue.full_cycles < least.full_cycles:
        fatigue = fatigue.but(full_cycles=least.full_cycles)
    return bracket.but(
        limits=profile.limits,
        loads=loads.but(
            factor=loads.factor if factor == loads.couple_factor else factor,
            pull_n=max(loads.pull_n, least.pull_n),
            weight_g=max(loads.weight_g, least.weight_g),
            couple_uncertainty=(
                None if loads.couple_may_be_more < usual.couple_may_be_more else loads.couple_uncertainty
            ),
            fatigue=fatigue,
        ),
    )
