"""Sentences built from values, so that they can be translated whole: a template, and the values by name."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QCoreApplication

CONTEXT: Final = "sentences"


def worded(template: str, **values: object) -> str:
    """Return a sentence in the user's language with its values put in.

    The template is looked up whole, `{name} was not opened: {why}`, so another language may set the values in
    another order. A translation that names a value there is not, or is no template, gives way to this.
    """
    translated = QCoreApplication.translate(CONTEXT, template)
    try:
        return translated.format(**values)
    except (KeyError, IndexError, ValueError):
        return template.format(**values)
