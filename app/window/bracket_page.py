"""The page of the bracket: makes what lies on the sheet and lets each part hear what it needs."""

from __future__ import annotations

from typing import Any, Final

from PySide6.QtCore import QObject, QTimer, Signal

from app.theme import Theme
from app.window.door import Door
from app.window.flat.view import FlatView
from app.window.flat_levels import FlatLevels
from app.window.lists.blank_places import MISSING, pick_of
from app.window.lists.checks_strip import ChecksStrip
from app.window.lists.field import Path
from app.window.lists.free_motions_line import FreeMotionsLine
from app.window.lists.notes import Notes
from app.window.lists.parts_list import PartsList
from app.window.lists.standing import State
from app.window.lists.title_block import CautionLine, TitleBlock
from app.window.lists.trial_strip import TrialStrip
from app.window.mounted_controls import MountedControls
from app.window.mounted_view import MountedView
from app.window.order_line import OrderLine
from app.window.said_line import SaidLine
from app.window.seeing import Seeing
from app.window.selection import Kind, Pick
from app.window.sheet import Sheet, SheetParts
from app.window.tab_order import TabOrder
from app.window.two_views import TwoViews
from app.window.verdict_flow import VerdictFlow
from app.window.worded import worded
from geometry.bracket import Bracket
from solver.results import Check, FreeMotion, Results

_IN_BOTH: Final[dict[str, Kind]] = {
    "plate": "plate",
    "bolt": "bolt",
    "weld": "weld",
    "casing": "casing",
    "boss": "boss",
    "dash bar": "dash bar",
    "anchor": "anchor",
    "bearing": "bearing",
    "wheel": "wheel",
}
"""What can be picked in the view as mounted."""


FOLLOW_MS: Final = 80
"""Between pictures of the bracket as mounted while a gesture goes on, at least."""
FOLLOW_TIMES: Final = 4
"""So many times as long as the last one took: a slow one must not hold up the hand."""


class BracketPage(QObject):
    """Holds the sheet and its parts."""

    start_asked = Signal(str)
    """A way to begin: `stock` or `open`."""
    form_asked = Signal(str)
    """Name of a step that is described by a form: `casing and bosses`, `dash bar`."""

    def __init__(
        self, door: Door, verdicts: VerdictFlow, seeing: Seeing, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._door = door
        look = seeing.theme
        self.flat = FlatView(door, look)
        self.mounted = MountedView()
        self.controls = MountedControls(self.mounted, look)
        self.order, self.said, self._caution = OrderLine(look), SaidLine(look), CautionLine(look)
        self.checks, self.free_motions = ChecksStrip(door, look), FreeMotionsLine(door, look)
        self.parts_list, self.notes = PartsList(door, look), Notes(door, look)
        self.title_block, self.trial = TitleBlock(door, look), TrialStrip(door, look)
        self._lists = (
            self.trial,
            self.free_motions,
            self.checks,
            self.parts_list,
            self.notes,
            self.title_block,
        )
        self.views = TwoViews(
            self.flat, self.mounted, self.controls, FlatLevels(self.flat, door).levels, look
        )
        self.sheet = Sheet(
            SheetParts(self.order, self.views, self.said, *self._lists, self._caution),
            look,
        )
        self._previewed: Bracket | None = None
        # the view's own: it must not ask a view that is gone
        self._follow = QTimer(self.mounted, singleShot=True, interval=FOLLOW_MS)
        self._follow.timeout.connect(self._follow_now)
        self._tabs = TabOrder((self.order, self.flat, self.mounted, self.controls, *self._lists), self)
        self._listen(verdicts, seeing)

    @property
    def parts(self) -> dict[str, Any]:
        """Return what the table of actions may call, by the names it uses."""
        return {
            "flat": self.flat,
            "mounted": self.controls,
            "views": self.views,
            "page": self,
            "trial": self.trial,
        }

    def say(self, sentence: str) -> None:
        """Say a sentence on the sheet."""
        self.said.say(sentence)

    def note(self, sentence: str) -> None:
        """Say a sentence that is no trouble."""
        self.said.note(sentence)

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        parts = (self.flat, self.mounted, self.controls, self.order, self.said, self.sheet, self._caution)
        for part in (*parts, *self._lists):
            part.set_theme(theme)

    def go_to(self, path: Path) -> None:
        """Go to where a value is filled in, and select what it belongs to."""
        if path in MISSING.values():
            self._go_to_missing(path)
            return
        self._door.select(pick_of(path))
        if not any(part.go_to(path) for part in (self.notes, self.parts_list)):
            self.parts_list.setFocus()

    def _go_to_missing(self, path: Path) -> None:
        """Go to where a part is made that is not there yet."""
        if path == ("bolts",):
            self.flat.setFocus()
            self.flat.set_tool("bolt" if self._door.bracket.plates else "outline")
        else:
            steps = {"casing": "casing and bosses", "dash_bar": "dash bar"}
            self.go_to_step(steps.get(str(path[0]), "plates"))

    def go_to_step(self, step: str) -> None:
        """Go to where a step of the order is described."""
        bracket = self._door.bracket
        if step == "casing and bosses" or (step == "clocking" and bracket.casing is None):
            self.form_asked.emit("casing and bosses")
        elif step == "clocking":
            self.go_to(("casing", "clocking_deg"))
        elif step == "column":
            self.go_to(("column", "held_by"))
        elif step == "dash bar" and bracket.dash_bar is None:
            self.form_asked.emit(step)
        elif step == "dash bar":
            self.go_to(("dash_bar", "section"))
        else:
            self.flat.setFocus()
            self.flat.set_tool("select" if bracket.plates else "outline")

    def read_all_checks(self) -> None:
        """Lay all checks with their figures over the window."""
        self.title_block.panel.put_away()
        self.checks.read_all()

    def read_why(self) -> None:
        """Lay everything the verdict rests on over the window."""
        self.checks.table.put_away()
        self.title_block.read_all()

    def put_readings_away(self) -> None:
        """Take away what is laid over the window to be read, to make room for something else."""
        self.checks.table.put_away()
        self.title_block.panel.put_away()

    def next_blank(self) -> None:
        """Go to the next input that is still blank."""
        blank = self.title_block.blanks.next_blank()
        if blank is None:
            self.note(worded("No blank is left."))

    def _listen(self, verdicts: VerdictFlow, seeing: Seeing) -> None:
        door = self._door
        door.noted.connect(self.note)
        door.changed.connect(self._show)
        for changed in (door.changed, door.picked, verdicts.results_changed, verdicts.quick_changed):
            changed.connect(self._tabs.settle_soon)
        door.previewed.connect(self._follow_soon)
        door.picked.connect(self._select)
        self.mounted.picked.connect(self._pick)
        self.order.asked.connect(self.go_to_step)
        self.flat.asked.connect(self._asked)
        self.checks.check_picked.connect(self._show_where)
        self.free_motions.motion_picked.connect(self._show_motion)
        self.title_block.jump.connect(self.go_to)
        self.title_block.stop_asked.connect(verdicts.stop)
        self.title_block.start_asked.connect(verdicts.go_on)
        self.trial.trial_changed.connect(verdicts.try_out)
        self.trial.trial_ended.connect(verdicts.end_trial)
        verdicts.findings_changed.connect(self.flat.set_findings)
        for listed in (self.title_block.blanks, self.parts_list, self.notes):
            verdicts.findings_changed.connect(listed.set_findings)
        verdicts.results_changed.connect(self._take_results)
        verdicts.worked.connect(self._show_work)
        for part in (self.flat, self.mounted, *self._lists):
            seeing.inch_changed.connect(part.set_inch)
            part.set_inch(seeing.inch)
        for part in self._lists:
            verdicts.quick_changed.connect(part.set_quick)

    def _show(self, bracket: Bracket) -> None:
        self._previewed = None
        self.order.set_bracket(bracket)
        self.mounted.set_bracket(bracket)

    def _follow_soon(self, bracket: Bracket) -> None:
        """Let the view as mounted follow a gesture at its own pace: the flat pattern goes first."""
        self._previewed = bracket
        if not self._follow.isActive():
            self._follow.start(max(FOLLOW_MS, FOLLOW_TIMES * self.mounted.picture_ms))

    def _follow_now(self) -> None:
        previewed, self._previewed = self._previewed, None
        if previewed is not None:
            self.mounted.set_bracket(previewed)
            self.mounted.moving()

    def _asked(self, what: str) -> None:
        if what == "material":
            self.go_to(("plates", self._door.shown_plate, "material"))
        elif what in ("stock", "open"):
            self.start_asked.emit(what)

    def _show_work(self, stage: str, share: float) -> None:
        self.title_block.set_progress(stage, share if stage else None)

    def _take_results(self, results: Results | None, state: State) -> None:
        self.mounted.set_results(results, state == "pencil")
        # a trial takes the verdict back, but what is drawn is still what these results are of
        own = results is not None and results.hash == self._door.drawn.input_hash()
        self.controls.set_results(results, "ink" if own and state == "out of date" else state)
        for part in self._lists:
            part.set_results(results, state)

    def _show_motion(self, motion: FreeMotion | None) -> None:
        self.controls.show_motion(motion)

    def _show_where(self, check: Check) -> None:
        bracket = self._door.bracket
        words = f"{check.where} "
        for bolt in bracket.bolts:
            if f"bolt {bolt.name} " in words or f"bolt {bolt.name}," in words:
                self._door.select(Pick("bolt", bolt.name, bolt.plate))
                return
        for weld in bracket.welds:
            if check.name.endswith(f"weld {weld.name}"):
                self._door.select(Pick("weld", weld.name))
                return
        for plate in bracket.plates:
            if plate.name in words:
                self._door.select(Pick("plate", plate.name, plate.name))
                return

    def _select(self, pick: Pick | None) -> None:
        if pick is None:
            self.mounted.set_selected(None)
        elif pick.kind in _IN_BOTH:
            self.mounted.set_selected(pick.kind, pick.name)
        else:
            self.mounted.set_selected("plate", pick.plate)

    def _pick(self, kind: str, name: str) -> None:
        known = _IN_BOTH.get(kind)
        self._door.select(None if known is None else Pick(known, name))
