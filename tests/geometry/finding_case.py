"""One thing made wrong in the example bracket, and the finding it has to give."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import pytest

from geometry.bracket import Bracket
from geometry.finding import Finding, Severity
from geometry.finding_words import sentence
from geometry.findings import findings_of
from tests.geometry.example_bracket import example_bytes, example_data

Data = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """One thing made wrong."""

    code: str
    severity: Severity
    make: Callable[[Data], object]
    where: str
    """What the sentence begins with."""
    said: tuple[str, ...]
    """What it says: the values, and the next step."""
    alone: bool = True
    """Whether it is the only finding; some faults carry others with them."""

    def check(self) -> None:
        """Assert that the finding is given, in words that name where, what and the next step."""
        found = findings_of(bracket_with(self.make))
        mine = [finding for finding in found if finding.code == self.code]
        assert mine, f"{self.code} is missing; there are {[finding.code for finding in found]}"
        finding = next((f for f in mine if f.where == self.where), mine[0])
        words = sentence(finding)
        assert words.startswith(f"{self.where}: ")
        for part in self.said:
            assert part in words
        assert finding.severity == self.severity
        if self.alone:
            assert {f.code for f in found} == {self.code}, [sentence(f) for f in found]


def bracket_with(make: Callable[[Data], object]) -> Bracket:
    """Return the example with something made wrong."""
    data = example_data()
    make(data)
    return Bracket.model_validate_json(example_bytes(data))


def findings_with(make: Callable[[Data], object]) -> tuple[Finding, ...]:
    """Return the findings on the example with something made wrong."""
    return findings_of(bracket_with(make))


def put(*steps: str | int, to: Any) -> Callable[[Data], object]:  # noqa: ANN401 - data is anything JSON holds
    """Return what puts one value into the data, reached by keys and list places."""

    def make(data: Data) -> None:
        here: Any = data
        for step in steps[:-1]:
            here = here[step]
        here[steps[-1]] = to

    return make


def bolt(number: int, *steps: str | int, to: object) -> Callable[[Data], object]:
    """Set what lies at a path of a bolt."""
    return put("bolts", number, *steps, to=to)


def both(*makes: Callable[[Data], object]) -> Callable[[Data], object]:
    """Return what does several things to the data."""

    def make(data: Data) -> None:
        for one in makes:
            one(data)

    return make


def params(cases: Sequence[Case]) -> list[Any]:
    """Return the cases as parameters of a test, named by their codes."""
    return [pytest.param(case, id=case.code) for case in cases]
