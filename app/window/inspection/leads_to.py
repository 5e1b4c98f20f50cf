"""Where on the page of the record an open item is settled."""

from __future__ import annotations

import re

from app.record.open_items import OpenItem


def leaf_of(item: OpenItem) -> str:
    """Return the words of the leaf where it is settled."""
    if item.line is not None:
        return "Check-list"
    if item.about == "bolts" and first_bolt(item):
        return "Bracket"
    return {"measured": "Measured", "record": "Decision"}.get(item.about, "Comparison")


def first_bolt(item: OpenItem) -> str:
    """Return the first bolt that an open item names; empty if it names none."""
    found = re.match(r"bolts? ([^,]+?)(?:,| is | are )", item.words)
    return "" if found is None else found[1]
