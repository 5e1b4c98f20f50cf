"""Starting points: what is shown first, stock shapes, samples, an outline from a drawing, a photograph."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, Signal

from app.editing.refused import EditRefused
from app.files.data_folder import working_folder
from app.window.action import Choice
from app.window.asks import Asks
from app.window.door import Door
from app.window.file_desk import FileDesk
from app.window.forms.form import Form
from app.window.seeing import Seeing
from app.window.worded import worded
from app.window.work_keeper import WorkKeeper
from geometry.bracket_file import SUFFIX, read_bracket

SAMPLES: Final = Path(__file__).resolve().parents[2] / "sample_brackets"
FIRST_SAMPLE: Final = "marlpit_one_piece"


class Starts(QObject):
    """Puts something on the sheet to go on from."""

    told = Signal(str)
    form_wanted = Signal(object)
    """A Form to be laid over the sheet."""
    underlay_wanted = Signal(object, float, object)
    """A QImage or None, mm of a pixel, and the place (mm) of the picture's lower left corner."""

    def __init__(
        self, door: Door, asks: Asks, files: FileDesk, keeper: WorkKeeper, seeing: Seeing, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._door, self._asks, self._files, self._keeper = door, asks, files, keeper
        self._seeing = seeing

    def first(self, file: Path | None) -> None:
        """Show what a start shows: work a crash left, the file asked for, the last one, or a sample."""
        if self._keeper.recover(file):
            return
        if file is not None:
            self._files.open_path(file)
            return
        recent = self._files.recent_choices()
        if not (recent and self._files.open_path(Path(recent[0].argument))):
            self.from_sample(FIRST_SAMPLE)

    def sample_choices(self) -> list[Choice]:
        """Return the samples that came with the program."""
        files = sorted(SAMPLES.glob(f"*{SUFFIX}"))
        names = [file.name.removesuffix(SUFFIX) for file in files]
        return [Choice(name.replace("_", " "), name) for name in names]

    def from_sample(self, name: str) -> None:
        """Put a sample on the sheet; it has no file, so saving never changes it."""
        path = SAMPLES / f"{name}{SUFFIX}"
        bracket = read_bracket(path).bracket if path.is_file() else None
        if bracket is None:
            self.told.emit(
                worded(
                    "The sample {name} is not here: begin with an empty sheet or a stock shape.", name=name
                )
            )
        else:
            self._files.put(bracket, name)

    def stock_choices(self) -> list[Choice]:
        """Return the stock shapes."""
        from app.editing.stock_shapes import stock_shapes

        return [Choice(shape.name, shape.name, tip=shape.words) for shape in stock_shapes()]

    def from_stock(self, name: str) -> None:
        """Put a stock shape on the sheet, fitted to the casing and the bar, in place of the plates there."""
        from app.editing.stock_shapes import stock_shapes

        shape = next(shape for shape in stock_shapes() if shape.name == name)
        if self._door.attempt(f"stock shape, {name}", shape.make):
            self._door.tell(shape.words)

    def put_example_casing(self) -> None:
        """Put a casing in to try things with; a finding asks for the real one's figures."""
        from app.editing.stock_shapes import example_casing

        self._door.attempt("example casing", lambda bracket: bracket.but(casing=example_casing()))

    def take_outline(self) -> None:
        """Ask for a drawing and lay its outline beside a bar of 100 mm."""
        path = self._asks.drawing_to_open(working_folder())
        if path is not None:
            self.take_outline_of(path)

    def take_outline_of(self, path: Path) -> None:
        """Lay the outline of a drawing beside a bar of 100 mm."""
        from app.editing.outline_import import read_outline
        from app.window.forms.outline_form import OutlineForm

        def form() -> Form:
            return OutlineForm(self._door, read_outline(path), self._seeing.theme)

        self._lay_over(form)

    def lay_photograph(self) -> None:
        """Ask for a photograph and have the four corners of the sheet of paper in it clicked."""
        path = self._asks.photograph_to_open(working_folder())
        if path is not None:
            self.square_photograph(path)

    def square_photograph(self, path: Path) -> None:
        """Have the four corners of the sheet of paper in a photograph clicked."""
        from app.editing.photo_image import read_image
        from app.window.forms.photograph_form import PhotographForm

        def form() -> Form:
            made = PhotographForm(path.name, read_image(path), self._seeing.theme)
            made.laid.connect(self.underlay_wanted)
            return made

        self._lay_over(form)

    def take_photograph_away(self) -> None:
        """Leave nothing under the sheet."""
        self.underlay_wanted.emit(None, 1.0, (0.0, 0.0))

    def form_for(self, step: str) -> None:
        """Lay the form over the sheet by which a step of the order is described."""
        if step == "dash bar":
            self.put_dash_bar()
        else:
            self.measure_casing()

    def put_dash_bar(self) -> None:
        """Lay the form for the dash bar over the sheet."""
        from app.window.forms.dash_bar_form import DashBarForm

        self._lay_over(lambda: DashBarForm(self._door, self._seeing.theme, inch=self._seeing.inch))

    def measure_bar_ends(self) -> None:
        """Lay the form for a pull at the dash bar over the sheet."""
        from app.window.forms.bar_pull_form import BarPullForm

        self._lay_over(lambda: BarPullForm(self._door, self._seeing.theme, inch=self._seeing.inch))

    def bend_strip(self) -> None:
        """Lay the form for a bent test strip over the sheet."""
        from app.window.forms.strip_form import StripForm

        self._lay_over(lambda: StripForm(self._door, self._seeing.theme, inch=self._seeing.inch))

    def look_around(self) -> None:
        """Lay over the sheet what stands around the bracket."""
        from app.window.forms.around_form import AroundForm

        self._lay_over(lambda: AroundForm(self._door, self._seeing.theme, inch=self._seeing.inch))

    def measure_casing(self) -> None:
        """Lay the form for callipers over the sheet."""
        from app.window.forms.callipers_form import CallipersForm

        self._lay_over(lambda: CallipersForm(self._door, self._seeing.theme, inch=self._seeing.inch))

    def stand_plate(self) -> None:
        """Lay the form that stands a plate by its holes over the sheet."""
        from app.window.forms.standing_form import StandingForm

        self._lay_over(lambda: StandingForm(self._door, self._seeing.theme))

    def _lay_over(self, form: Callable[[], Form]) -> None:
        try:
            self.form_wanted.emit(form())
        except EditRefused as refused:
            self.told.emit(str(refused))
