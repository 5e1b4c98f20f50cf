"""The kinds of file this program writes: what each says of itself, and how large it may be."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from geometry.finding import Finding
from geometry.finding_words import found

Migration = Callable[[dict[str, Any]], dict[str, Any]]


@dataclass(frozen=True)
class FileKind:
    """One kind of file, such as that of brackets."""

    word: str
    """Such as `bracket`: sentences call it a `bracket file`."""
    format: str
    version: int
    most_bytes: int
    migrations: Mapping[int, Migration] = field(default_factory=dict)
    """By version: what turns the data of that version into that of the next."""

    def foreign(self, data: dict[str, Any], where: str) -> Finding | None:
        """Return why the data is not of this kind, in a version this program knows; None if it is."""
        kind, version = data.get("format"), data.get("version")
        if kind is None:
            return found("format-missing", where, kind=self.word, wanted=self.format)
        if kind != self.format:
            shown = repr(kind)[:60]
            return found("format-unknown", where, kind=self.word, value=shown, wanted=self.format)
        if version is None:
            return found("version-missing", where, known=self.version)
        if isinstance(version, bool) or not isinstance(version, int):
            return found("version-unknown", where, version=repr(version)[:60], known=self.version)
        if version > self.version:
            return found("version-newer", where, version=version, known=self.version)
        if version != self.version and version not in self.migrations:
            return found("version-unknown", where, version=version, known=self.version)
        return None

    def migrated(self, data: dict[str, Any]) -> dict[str, Any]:
        """Return the data of an older version as that of this one."""
        while data["version"] in self.migrations:
            version = data["version"]
            data = self.migrations[version](data) | {"version": version + 1}
        return data
