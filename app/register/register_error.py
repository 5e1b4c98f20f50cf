"""The error of the register: one sentence for the user; what stands in the register is untouched."""

from __future__ import annotations


class RegisterError(OSError):
    """Why the register, or a list for it, cannot be read or written."""
