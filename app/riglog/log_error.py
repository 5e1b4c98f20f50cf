"""The error of a rig's log that cannot be read or cannot answer."""

from __future__ import annotations


class LogError(ValueError):
    """What is wrong with a log and what to do, in one sentence."""
