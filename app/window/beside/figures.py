"""The figures of layouts side by side as a table to read, with what differs in the inputs beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QTextBrowser, QWidget

from app.compare.comparison import Comparison, Figure
from app.theme import Theme
from app.window.lists.caption import thin_bar
from app.wording.figures import Units, plain, sentence_in_units


class _Words(QTextBrowser):
    """Words about a comparison that are read and scrolled, with the keyboard too."""

    def __init__(self, theme: Theme, spoken: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setOpenLinks(False)
        self.setFrameShape(QTextBrowser.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(spoken)
        self.document().setDocumentMargin(2)
        self._comparison: Comparison | None = None
        self._units: Units = "mm"
        self.set_theme(theme)

    def show_comparison(self, comparison: Comparison | None, units: Units = "mm") -> None:
        """Show another comparison; None shows nothing."""
        self._comparison, self._units = comparison, units
        self._write()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.setStyleSheet(
            f"QTextBrowser {{ background: {theme.ground}; color: {theme.ink}; }}"
            "QTextBrowser { border: 2px solid transparent; }"
            f"QTextBrowser:focus {{ border: 2px solid {theme.accent}; }}" + thin_bar(theme)
        )
        self._write()

    def _write(self) -> None:
        """Write anew."""

    def _put(self, html: str) -> None:
        place = self.verticalScrollBar().value()
        self.setHtml(f"<body style='color:{self._theme.ink}'>{html}</body>")
        self.verticalScrollBar().setValue(place)


class FiguresTable(_Words):
    """Every check and every other figure, a column for each layout and one for its difference."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, "Figures side by side", parent)

    def _write(self) -> None:
        found = self._comparison
        if found is None:
            self._put("")
            return
        names = [escape(plain(one.name)) for one in found.judged]
        rows = [self._heads(names)]
        rows += [self._row(figure, len(names)) for figure in found.figures]
        columns = 2 * len(names)
        title = "checks: used share at the upper end of the band"
        rows.append(f"<tr><td colspan='{columns}' style='color:{self._theme.pencil}'><br>{title}</td></tr>")
        rows += [self._row(figure, len(names)) for figure in found.checks]
        self._put(f"<table cellspacing='0' cellpadding='2' width='98%'>{''.join(rows)}</table>")

    def _heads(self, names: Sequence[str]) -> str:
        cells = ["<td></td>"]
        for number, name in enumerate(names):
            cells.append(f"<td align='right'><b>{name}</b></td>")
            if number:
                cells.append(f"<td align='right' style='color:{self._theme.pencil}'>difference</td>")
        return f"<tr>{''.join(cells)}</tr>"

    def _row(self, figure: Figure, count: int) -> str:
        best = _best(figure)
        cells = [f"<td style='white-space:nowrap'>{escape(plain(figure.words))}</td>"]
        for number in range(count):
            text = escape(figure.text(number, self._units)).replace(" ", "&nbsp;")
            cells.append(f"<td align='right'>{f'<b>{text}</b>' if number in best else text}</td>")
            if number:
                # the unit is that of the figure before it
                by = escape(figure.difference(number, self._units).partition(" ")[0])
                cells.append(f"<td align='right' style='color:{self._theme.pencil}'>{by}</td>")
        return f"<tr>{''.join(cells)}</tr>"


class DifferencesList(_Words):
    """What differs in the inputs, and what resists the twist in each."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, "What differs in the inputs", parent)

    def _write(self) -> None:
        found = self._comparison
        if found is None:
            self._put("")
            return
        pencil = f"style='color:{self._theme.pencil}'"
        sentences = [d.sentence for d in found.differences] or ["nothing"]
        resists = [
            f"{one.name}: {'; '.join(motions)}"
            for one, motions in zip(found.judged, found.free_motions, strict=True)
            if motions
        ]
        parts = [f"<div {pencil}>what differs in the inputs</div>{self._items(sentences)}"]
        if resists:
            parts.append(
                f"<div {pencil}>free motions: nothing but friction resists</div>{self._items(resists)}"
            )
        self._put("".join(parts))

    def _items(self, sentences: Sequence[str]) -> str:
        told = (escape(plain(sentence_in_units(sentence, self._units))) for sentence in sentences)
        return "<ul style='margin:2px 0 6px 0; -qt-list-indent:0'>" + "".join(
            f"<li style='margin-left:14px'>{sentence}</li>" for sentence in told
        ) + "</ul>"  # fmt: skip


def _best(figure: Figure) -> tuple[int, ...]:
    """Return which layouts have the best figure of a row; none where all are alike or nothing is better."""
    known = [(value, number) for number, value in enumerate(figure.values) if value is not None]
    if not figure.good or len(known) < 2:
        return ()
    values = [value for value, _ in known]
    best = min(values) if figure.good == "less is better" else max(values)
    alike = [number for value, number in known if math.isclose(value, best, rel_tol=1e-6, abs_tol=1e-12)]
    return () if len(alike) == len(known) else tuple(alike)
