"""JSON that every reader takes: keys in the order given, plain ASCII, no number that is not finite."""

from __future__ import annotations

import json
import math
from typing import Any


def strict_json(data: Any) -> str:  # noqa: ANN401 - anything JSON holds
    """Return the data as indented JSON, with null in place of every number that is not finite."""
    return json.dumps(_finite(data), indent=2, allow_nan=False)


def _finite(value: Any) -> Any:  # noqa: ANN401 - anything JSON holds
    if isinstance(value, dict):
        return {str(key): _finite(v) for key, v in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(v) for v in value]
    if value is None or isinstance(value, bool | str | int):
        return value
    # numpy's own floats too
    number = float(value)
    return number if math.isfinite(number) else None
