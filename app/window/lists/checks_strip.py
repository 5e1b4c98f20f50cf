"""All checks in a strip, worst first; what does not fit is one press away in the full table."""

from __future__ import annotations

import html

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.theme import Theme
from app.window.door import Door
from app.window.lists.caption import Caption, Link
from app.window.lists.check_bar import CheckBar
from app.window.lists.reading_panel import ReadingPanel
from app.window.lists.standing import State
from app.wording.check_words import band_words, check_mark, hand_words, worst_first
from app.wording.figures import Units, figure, in_units, percent, sentence_in_units
from solver.results import Check, QuickAnswer, Results


class ChecksStrip(QWidget):
    """As many bars as there is room for."""

    check_picked = Signal(object)
    """The Check whose place is to be shown."""

    def __init__(self, door: Door, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._door, self._theme = door, theme
        self._checks: list[Check] = []
        self._state: State = "none"
        self._newest: tuple[Results | None, State] = (None, "none")
        self._bars: list[CheckBar] = []
        self.table = ChecksTable(theme)
        self.table.check_picked.connect(self.check_picked)
        self._caption = Caption("", theme)
        self._more = Link("", theme)
        self._more.clicked.connect(self.read_all)
        self._line = QHBoxLayout(self)
        self._line.setContentsMargins(0, 0, 0, 0)
        self._line.setSpacing(6)
        self._line.addWidget(self._caption)
        self._line.addWidget(self._more)
        self.setAccessibleName(self.tr("Checks, worst first"))
        self._fill()

    @property
    def bars(self) -> list[CheckBar]:
        """Return the bars that are shown, worst first."""
        return self._bars

    @property
    def more_words(self) -> str:
        """Return what is said of the checks that do not fit."""
        return self._more.text()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for part in (self._caption, self._more, *self._bars):
            part.set_theme(theme)  # type: ignore[attr-defined]
        self.table.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Show inch figures in the table."""
        self.table.units = "inch" if inch else "mm"
        self._rewrite()

    def set_results(self, results: Results | None, state: State) -> None:
        """Show the checks of results; `state` is pencil, ink, out of date or none."""
        self._newest = (results, state)
        self._put(() if results is None or state == "none" else results.checks, state)

    def set_quick(self, answer: QuickAnswer | None) -> None:
        """Show the checks that a quick answer has, in pencil; None goes back to the results."""
        if answer is None:
            self.set_results(*self._newest)
        else:
            self._put(answer.checks, "pencil")

    def read_all(self) -> None:
        """Lay the full table over the window."""
        self.table.show_checks(self.window(), self._checks, self._marginal(), self._state)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for a row of bars."""
        metrics = self.fontMetrics()
        return QSize(metrics.averageCharWidth() * 120, metrics.height() + 16)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Show as many bars as the width takes."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fill()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Left and Right go from bar to bar."""
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        here = self.focusWidget()
        if event.key() in steps and isinstance(here, CheckBar):
            place = self._bars.index(here) + steps[Qt.Key(event.key())]
            stops: list[QWidget] = [*self._bars, self._more]
            if 0 <= place < len(stops):
                stops[place].setFocus(Qt.FocusReason.TabFocusReason)
            return
        super().keyPressEvent(event)

    def _marginal(self) -> float:
        return self._door.bracket.limits.marginal_used

    def _put(self, checks: tuple[Check, ...], state: State) -> None:
        self._checks, self._state = worst_first(checks), state
        self._fill()
        self._rewrite()

    def _rewrite(self) -> None:
        self.table.rewrite_checks(self._checks, self._marginal(), self._state)

    def _fill(self) -> None:
        """Show the worst checks that fit, and say how many more there are."""
        words = {
            "ink": self.tr("all checks"),
            "pencil": self.tr("checks so far"),
            "out of date": self.tr("drawn since"),
            "none": self.tr("no checks yet"),
        }
        self._caption.setText(words[self._state])
        bar_px = self.fontMetrics().averageCharWidth() * 27 + 6
        room = self.width() - self._caption.sizeHint().width() - self._more.sizeHint().width() - 12
        count = max(1, min(len(self._checks), room // bar_px)) if self._checks else 0
        while len(self._bars) > count:
            gone = self._bars.pop()
            self._line.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        marginal = self._marginal()
        for place, check in enumerate(self._checks[:count]):
            if place == len(self._bars):
                bar = CheckBar(check, marginal, self._theme, self)
                bar.clicked.connect(lambda _=False, bar=bar: self.check_picked.emit(bar.check))
                self._bars.append(bar)
                self._line.insertWidget(1 + place, bar, 1)
            self._bars[place].show_check(check, marginal)
            self._bars[place].set_look(pencil=self._state != "ink", faded=self._state == "out of date")
        more = len(self._checks) - count
        self._more.setVisible(bool(self._checks))
        text = self.tr("and {0} more").replace("{0}", str(more)) if more > 0 else self.tr("table")
        self._more.say(text, self.tr("Read the table of all checks"))


class ChecksTable(ReadingPanel):
    """The table of all checks, to be read: demand, allowable, band, figure by hand, source, place, case."""

    check_picked = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.units: Units = "mm"
        self._checks: list[Check] = []
        self.link_pressed.connect(self._pick)

    def show_checks(self, window: QWidget, checks: list[Check], marginal: float, state: State) -> None:
        """Lay the table of these checks over a window."""
        self._checks = checks
        self.lay_over(window, self._heading(state), self._body(marginal))

    def rewrite_checks(self, checks: list[Check], marginal: float, state: State) -> None:
        """Put these checks into a table that lies there: it never tells of others than the sheet does."""
        self._checks = checks
        if not self.isHidden():
            self.rewrite(self._heading(state), self._body(marginal))

    def _heading(self, state: State) -> str:
        if state == "ink" and not self._checks:
            return self.tr("No checks: nothing could be computed")
        return {
            "ink": self.tr("All checks, worst first"),
            "pencil": self.tr("All checks, worst first: pencil, so far"),
            "out of date": self.tr("All checks as they were: drawn since"),
            "none": self.tr("No checks yet"),
        }[state]

    def _body(self, marginal: float) -> str:
        heads = ("check", "used", "band", "demand", "allowable", "where, case, by hand, source")
        row = "".join(f"<th align='left'>{self.tr(head)}</th>" for head in heads)
        lines = [f"<tr>{row}</tr>"]
        for place, check in enumerate(self._checks):
            cells = (f"<a href='{place}'>{html.escape(check.name)}</a>", *self._figures(check, marginal))
            told = "".join(f"<td>{cell}</td>" for cell in cells)
            lines.append(f"<tr>{told}<td>{html.escape(self._details(check))}</td></tr>")
        return f"<table cellpadding='4' cellspacing='0' width='100%'>{''.join(lines)}</table>"

    def _figures(self, check: Check, marginal: float) -> tuple[str, ...]:
        mark = check_mark(check, marginal)
        demand, unit = in_units(check.demand, check.unit, self.units)
        allowable, _ = in_units(check.allowable, check.unit, self.units)
        rule = check.kind == "rule"
        used = mark if rule else percent(check.used)
        band = "" if rule or not check.band else f"+{percent(check.band)}"
        if not rule:
            # it is the upper end of the band that is over, or near
            band = ", ".join(word for word in (band, mark) if word)
        bold = [f"<b>{cell}</b>" if mark in ("over", "BROKEN") else cell for cell in (used, band)]
        return (
            *(cell.replace(" ", "&nbsp;") for cell in bold),
            f"{figure(demand)}&nbsp;{html.escape(unit)}",
            f"{figure(allowable)}&nbsp;{html.escape(unit)}",
        )

    def _details(self, check: Check) -> str:
        hand, band = hand_words(check, self.units), band_words(check)
        parts = (check.where, check.case, hand, band, check.note, f"limit: {check.source}")
        return "; ".join(sentence_in_units(part, self.units) for part in parts if part)

    def _pick(self, link: str) -> None:
        self.put_away()
        self.check_picked.emit(self._checks[int(link)])
