"""Detail categories of EN 1993-1-9, tables 8.1 and 8.5 (from memory, to be verified): none taken better."""

from __future__ import annotations

import pytest

from solver import fatigue, weld_fatigue

TABLE_MPA = {
    "cut edge, table 8.1 detail 4": (fatigue.EDGE, 125.0),
    "plate with a hole, table 8.1 detail 7": (fatigue.NET_SECTION, 90.0),
    "bolt in tension, table 8.1 detail 14": (fatigue.THREAD, 50.0),
    "root of a fillet weld, table 8.5 detail 3": (weld_fatigue.ROOT, 36.0),
    "shear along a throat, table 8.5 detail 8": (weld_fatigue.SHEAR, 80.0),
}


@pytest.mark.parametrize("detail", TABLE_MPA)
def test_a_category_is_that_of_the_table(detail: str) -> None:
    taken, published = TABLE_MPA[detail]
    assert taken == published


def test_where_no_detail_fits_a_step_lower_is_taken() -> None:
    """A tee whose attachment is up to 50 mm long has 80 at its toe; 71 is the next step of the curves."""
    assert weld_fatigue.TOE == 71.0
    assert fatigue.ROUGH_EDGE == 100.0 < fatigue.EDGE
