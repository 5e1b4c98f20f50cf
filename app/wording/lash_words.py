"""How lash is told where nothing ends it: alike on the terminal, on paper and beside a rig's log."""

from __future__ import annotations

import math
from typing import Final

from app.wording.figures import figure

WITHOUT_END: Final = "without end"
"""What the solver's own notes say too."""


def lash_words(lash_deg: float) -> str:
    """Return such as "1.02 deg", or "without end" where no bolt ever comes hard against its hole."""
    return f"{figure(lash_deg)} deg" if math.isfinite(lash_deg) else WITHOUT_END
