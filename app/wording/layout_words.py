"""Which of a file's layouts is told of, in words: a verdict is of the one that is drawn, and of no other."""

from __future__ import annotations

from typing import Final

from app.wording.figures import plain
from geometry.bracket import Bracket

_MOST_NAMED: Final = 4


def layout_words(bracket: Bracket) -> str:
    """Return which layout was judged and which were not, in a sentence; empty where there is but one."""
    if not bracket.variants:
        return ""
    names = [plain(variant.name) for variant in bracket.variants[:_MOST_NAMED]]
    more = len(bracket.variants) - len(names)
    listed = ", ".join(names) + (f" and {more} more" if more else "")
    own = f", {plain(bracket.layout)}" if bracket.layout else ""
    return f"Judged is the layout that is drawn{own}; variants kept in the file are not: {listed}."


def title_words(bracket: Bracket) -> str:
    """Return a bracket's title, its layout's name behind it where it has one, on one line."""
    title = " ".join(plain(bracket.title).split())
    layout = " ".join(plain(bracket.layout).split())
    return f"{title} ({layout})" if layout else title
