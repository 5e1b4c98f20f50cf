"""How things are shown, apart from the bracket: paper or slate, mm or inch, how much all is enlarged."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QObject, Signal

from app.files.files_error import FilesError
from app.files.settings import Settings, keep_settings, read_settings
from app.theme import Theme, theme
from app.window.action import Choice
from app.window.worded import worded

SCALES: Final = (100, 125, 150, 175, 200)


class Seeing(QObject):
    """Holds the choices and keeps them for the next start."""

    theme_changed = Signal(object)
    """The Theme."""
    inch_changed = Signal(bool)
    told = Signal(str)
    """A trouble."""
    noted = Signal(str)
    """What is no trouble."""

    def __init__(self, settings: Settings, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._settings = settings

    @property
    def theme(self) -> Theme:
        """Return the look."""
        return theme(self._settings.look)

    @property
    def inch(self) -> bool:
        """Return whether lengths are shown in inches."""
        return self._settings.units == "inch"

    def set_theme(self, name: str) -> None:
        """Take `paper` or `slate`."""
        if not self.is_theme(name):
            self._keep(look=name)
            self.theme_changed.emit(self.theme)

    def other_theme(self) -> None:
        """Turn paper into slate and slate into paper."""
        self.set_theme("paper" if self.is_theme("slate") else "slate")

    def is_theme(self, name: str) -> bool:
        """Return whether this look is the one shown."""
        return name == self._settings.look

    def set_units(self, name: str) -> None:
        """Show lengths in `mm` or `inch`."""
        if not self.is_units(name):
            self._keep(units=name)
            self.inch_changed.emit(self.inch)

    def other_units(self) -> None:
        """Turn mm into inches and inches into mm."""
        self.set_units("mm" if self.inch else "inch")

    def is_units(self, name: str) -> bool:
        """Return whether lengths are shown so."""
        return name == self._settings.units

    def scales(self) -> list[Choice]:
        """Return the enlargements there are."""
        now = self._settings.scale_percent
        return [Choice(f"{scale} %", str(scale), scale == now) for scale in SCALES]

    def set_scale(self, per_cent: str) -> None:
        """Enlarge everything by this from the next start on."""
        if self._keep(scale_percent=int(per_cent)):
            self.noted.emit(
                worded(
                    "Everything is shown at {per_cent} % from the next start of Holdsquare on.",
                    per_cent=per_cent,
                )
            )

    def _keep(self, **changes: object) -> bool:
        self._settings = self._settings.but(**changes)
        try:
            keep_settings(self._settings)
        except FilesError as error:
            self.told.emit(str(error))
            return False
        return True


def kept_settings() -> Settings:
    """Return the settings kept at an earlier start; the defaults where they cannot be read."""
    try:
        return read_settings()
    except FilesError:
        return Settings()
