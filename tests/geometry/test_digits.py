"""Numbers with few digits."""

from __future__ import annotations

import pytest

from geometry.digits import percent_apart


@pytest.mark.parametrize(
    ("share", "other", "told"),
    [(0.05, 0.16, "5"), (0.155, 0.16, "15.5"), (0.1599, 0.16, "15.99"), (0.248, 0.25, "24.8")],
)
def test_a_share_never_reads_as_the_one_it_stands_beside(share: float, other: float, told: str) -> None:
    assert percent_apart(share, other) == told
