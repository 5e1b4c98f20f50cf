"""Nothing in a CSV is carried out by a spreadsheet.

Signs that begin a formula: OWASP, CSV Injection (the page's list and the wide forms; from memory).
"""

import pytest

from app.files.csv_cell import as_it_was, still


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20"])
@pytest.mark.parametrize("before", ["", "  "])
def test_what_begins_a_formula_is_held_still_and_comes_back(sign: str, before: str) -> None:
    cell = f"{before}{sign}1+1"
    assert still(cell) == f"'{cell}"
    assert as_it_was(still(cell)) == cell


@pytest.mark.parametrize("cell", ["", "12.5", "a=1", "'", "'plate'", "  two"])
def test_the_rest_comes_back_as_it_was(cell: str) -> None:
    assert as_it_was(still(cell)) == cell
