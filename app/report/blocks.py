"""What a report is made of, one block under the other; PDF and HTML are both written from these. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from app.paper.page import Figure
from app.paper.tables import Table


@dataclass(frozen=True)
class Heading:
    """A heading; `level` 1 begins a part."""

    words: str
    level: Literal[1, 2] = 2


@dataclass(frozen=True)
class Paragraph:
    """A paragraph."""

    words: str
    weight: Literal["plain", "bold", "small"] = "plain"


@dataclass(frozen=True)
class Bullets:
    """Sentences, each after a mark."""

    sentences: tuple[str, ...]
    mark: str = "\u2013"


@dataclass(frozen=True)
class Tabled:
    """A table."""

    table: Table


@dataclass(frozen=True)
class Drawn:
    """A figure, and what it shows for somebody who does not see it."""

    figure: Figure
    shows: str


@dataclass(frozen=True)
class NewPage:
    """What follows begins on a page of its own, where there are pages and this one is not nearly empty."""


Block = Heading | Paragraph | Bullets | Tabled | Drawn | NewPage
