"""Whether a value is off its default, and on which side. No Qt."""

from __future__ import annotations

from app.wording.figures import percent


def off_default(
    value: float | None, default: float, *, higher_is_looser: bool | None, share: bool = False
) -> tuple[str, bool]:
    """Return the default in words where a value is off it (else ""), and whether it lets more pass.

    `higher_is_looser` is None where neither side is.
    """
    if value is None or value == default:
        return "", False
    words = percent(default) if share else f"{default:g}"
    return words, higher_is_looser is not None and (value > default) == higher_is_looser
