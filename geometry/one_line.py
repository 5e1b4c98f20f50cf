"""Text of strangers as a sentence may hold it."""

from __future__ import annotations


def on_one_line(text: str) -> str:
    """Return the text with a space for every sign that does not print: tabs, line ends, what draws."""
    return text if text.isprintable() else "".join(sign if sign.isprintable() else " " for sign in text)
