"""Which layouts lie side by side: the bracket on the sheet first, then up to three others."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from app.compare.layout import MOST, Layout, drawn_layout, sawn_twin, told_apart, variant_layout
from app.editing.refused import EditRefused
from app.editing.variants import variants_of
from app.report.attached import read_any
from geometry.bracket import Bracket
from geometry.finding import Finding

ON_SHEET: Final = "this bracket"
SAWN: Final = "its sawn twin"


@dataclass(frozen=True)
class Other:
    """One thing that was chosen to lie beside the bracket on the sheet."""

    kind: Literal["variant", "file", "sawn"]
    name: str = ""
    bracket: Bracket | None = None
    """Of a file, as it was read."""
    findings: tuple[Finding, ...] = ()
    """About the file."""


@dataclass(frozen=True)
class Laid:
    """A layout that lies there, and what it was chosen as; None for the bracket on the sheet."""

    layout: Layout
    other: Other | None


class Chosen:
    """Holds what was chosen and makes layouts of it; every refusal is a sentence."""

    def __init__(self) -> None:
        self._others: list[Other] = []

    @property
    def others(self) -> tuple[Other, ...]:
        """Return what was chosen, in the order of choosing."""
        return tuple(self._others)

    def clear(self) -> None:
        """Choose nothing."""
        self._others.clear()

    def take(self, other: Other) -> str:
        """Lay something beside the rest; return why not, or nothing."""
        if len(self._others) + 1 >= MOST:
            return f"At most {MOST} lie side by side: take one away first."
        if other.kind != "file" and other in self._others:
            return f"{other.name or 'The sawn twin'} lies there already."
        self._others.append(other)
        return ""

    def take_file(self, path: Path) -> str:
        """Lay the bracket in a file beside the rest; return why not, or nothing."""
        reading = read_any(path)
        if reading.bracket is None:
            return f"{path.name} cannot be laid beside it: {reading.sentences[0]}"
        if any(finding.severity == "stop" for finding in reading.findings):
            return f"{path.name} can be read only in part, so it is not compared: {reading.sentences[0]}"
        name = path.name.removesuffix(".json").removesuffix(".bracket")
        return self.take(Other("file", name, reading.bracket, reading.findings))

    def take_away(self, other: Other) -> None:
        """Lay it there no more."""
        self._others = [one for one in self._others if one is not other]

    def free_variants(self, bracket: Bracket) -> tuple[str, ...]:
        """Return the variants of the bracket that are not chosen."""
        taken = {one.name for one in self._others if one.kind == "variant"}
        return tuple(name for name in variants_of(bracket) if name not in taken)

    def laid(self, bracket: Bracket) -> tuple[tuple[Laid, ...], str]:
        """Return everything that lies there, the bracket on the sheet first, and what had to be left out."""
        found = [Laid(drawn_layout(bracket, ON_SHEET), None)]
        left_out = ""
        for other in list(self._others):
            try:
                found.append(Laid(_layout(other, bracket), other))
            except EditRefused as refused:
                left_out = f"{refused}."
                self.take_away(other)
        names = told_apart([one.layout for one in found])
        return tuple(Laid(layout, one.other) for layout, one in zip(names, found, strict=True)), left_out


def _layout(other: Other, bracket: Bracket) -> Layout:
    if other.kind == "variant":
        return variant_layout(bracket, other.name)
    if other.kind == "sawn" or other.bracket is None:
        return Layout(SAWN, sawn_twin(bracket))
    return Layout(other.name, other.bracket)
