"""What is known of the layouts side by side: results told by a judge, or those of the sheet. No Qt."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from app.compare.judged import Judged
from app.window.beside.chosen import Laid
from geometry.finding import Finding
from solver.results import Results


class Known:
    """Keeps what was told, by the hash of the inputs it is of."""

    def __init__(self) -> None:
        self._results: dict[str, tuple[Results, bool]] = {}
        """With whether it is pencil."""
        self._troubles: dict[str, str] = {}

    def take(self, results: Results, *, pencil: bool) -> None:
        """Keep results."""
        self._results[results.hash] = (results, pencil)

    def take_trouble(self, key: str, words: str) -> None:
        """Keep why there are no results of the inputs with that hash."""
        self._troubles[key] = words

    def keep_only(self, keys: Collection[str]) -> None:
        """Let go of results of other inputs than these."""
        self._results = {key: told for key, told in self._results.items() if key in keys}

    def forget_troubles(self) -> None:
        """Let go of every trouble."""
        self._troubles.clear()

    def judged(self, laid: Laid, sheet: Results | None, of_sheet: Sequence[Finding]) -> Judged:
        """Return a layout with what is known of it.

        `sheet` are the results of the bracket on the sheet and `of_sheet` the findings about its file.
        """
        key = laid.layout.bracket.input_hash()
        own = laid.other if laid.other is not None and laid.other.kind == "file" else None
        # a variant comes out of the sheet's file, and so does what a sawn twin is made of
        findings = tuple(of_sheet) if own is None else own.findings
        judged = Judged(laid.layout, None, self._troubles.get(key, ""), findings)
        if sheet is not None and sheet.hash == key:
            return replace(judged, results=sheet, pencil=not sheet.accuracy.refined and bool(sheet.plates))
        if key in self._results:
            results, pencil = self._results[key]
            return replace(judged, results=results, pencil=pencil)
        return judged
