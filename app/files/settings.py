"""How the user likes the window: size of type, paper or slate, units, language."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from app.files.data_folder import data_folder, data_place
from app.files.small_file import read_group, write_group

_FILE: Final = "settings.json"


class Settings(BaseModel):
    """What the user chose; the defaults are what a newcomer gets."""

    model_config = ConfigDict(frozen=True, extra="ignore", strict=True)

    scale_percent: Annotated[int, Field(ge=100, le=200)] = 100
    look: Literal["paper", "slate"] = "paper"
    units: Literal["mm", "inch"] = "mm"
    language: Annotated[str, Field(pattern=r"^[a-z]{2,3}(_[A-Z]{2})?$")] = "en"

    def but(self, **changes: object) -> Settings:
        """Return a copy with the named settings changed; ValidationError if one is out of bounds."""
        return Settings.model_validate(self.model_dump() | changes)


def read_settings(folder: Path | None = None) -> Settings:
    """Return the settings; what is missing or makes no sense is at its default."""
    data = read_group((folder or data_place()) / _FILE)
    sound: dict[str, object] = {}
    for name in Settings.model_fields:
        if name in data and _is_sound(name, data[name]):
            sound[name] = data[name]
    return Settings.model_validate(sound)


def keep_settings(settings: Settings, folder: Path | None = None) -> None:
    """Keep the settings; FilesError if they cannot be kept."""
    write_group((folder or data_folder()) / _FILE, settings.model_dump(), "the settings")


def _is_sound(name: str, value: object) -> bool:
    try:
        Settings.model_validate({name: value})
    except ValidationError:
        return False
    return True
