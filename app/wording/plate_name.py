"""What a plate is called in a sentence."""

from __future__ import annotations


def plate_called(name: str) -> str:
    """Return `plate tray`, but `foot plate`: a plate named one is not called so twice."""
    return name if name.casefold().endswith("plate") else f"plate {name}"
