"""Von Mises stress of many places, loads and modes, looked at in parts."""

import numpy as np
import pytest

from solver.stress_survey import von_mises_in_parts

PLACES = 500


@pytest.mark.parametrize(("modes", "columns"), [(1_000, 1), (40, 300)])
def test_von_mises_in_parts_is_that_of_all_at_once_and_no_part_is_large(modes: int, columns: int) -> None:
    """sqrt(((x - y)2 + (y - z)2 + (z - x)2) / 2 + 3 (yz2 + xz2 + xy2)), von Mises (closed form)."""
    random = np.random.default_rng(5)
    of_modes = random.normal(size=(6 * PLACES, modes))
    amounts = random.normal(size=(modes, columns))
    x, y, z, yz, xz, xy = np.moveaxis((of_modes @ amounts).reshape(PLACES, 6, columns), 1, 0)
    whole = np.sqrt(((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) / 2.0 + 3.0 * (yz**2 + xz**2 + xy**2))
    seen = 0
    for rows, part in von_mises_in_parts(of_modes, amounts):
        assert part == pytest.approx(whole[rows], rel=1e-9)
        # Hundreds of bolts have thousands of modes: deviators of all places at once would be gigabytes.
        assert (rows.stop - rows.start) * max(modes, columns) <= 12_000
        seen += rows.stop - rows.start
    assert seen == PLACES
