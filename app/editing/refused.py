"""The one way an edit says no."""

from __future__ import annotations


class EditRefused(ValueError):  # noqa: N818 - a refusal is no fault
    """An edit that makes no sense, in one sentence for the user: what, where, and what to do instead."""
