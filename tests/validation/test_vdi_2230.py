"""VDI 2230 (2001 basis): preload and torque at 90 % of Rp0.2, friction 0.12.

Fine rows published; coarse rows from memory, backed by an independent calculation. The tables are printed
to two or three figures and tightening torque rounded again: 2 %, of which the values here use under 1 %.
"""

import pytest

from geometry.bolt_tables import bolt_grade, bolt_size
from solver.tightening import preload_n, table_preload_n, table_tightening_nm, yield_used
from tests.validation.reference import agrees

MEMORY = "VDI 2230 (from memory, to be verified)"
PUBLISHED = "VDI 2230 (published)"
GRADES = ("8.8", "10.9", "12.9")
# size: source, then (preload kN, torque N.m) for each grade
ROWS = {
    "M6": (MEMORY, (10.2, 10.1), (15.0, 14.9), (17.5, 17.4)),
    "M8": (MEMORY, (18.6, 24.6), (27.4, 36.1), (32.0, 42.2)),
    "M10": (MEMORY, (29.6, 48.5), (43.5, 71.2), (50.9, 83.3)),
    "M12": (MEMORY, (43.1, 83.6), (63.3, 122.8), (74.1, 143.7)),
    "M8x1": (PUBLISHED, (20.2, 26.1), (29.7, 38.3), (34.7, 44.9)),
    "M10x1.25": (PUBLISHED, (31.6, 51), (46.4, 75), (54.3, 87)),
}
CASES = [
    (size, grade, source, *values[column])
    for size, (source, *values) in ROWS.items()
    for column, grade in enumerate(GRADES)
]


@pytest.mark.parametrize(("size", "grade", "source", "preload_kn", "torque_nm"), CASES)
def test_table(size: str, grade: str, source: str, preload_kn: float, torque_nm: float) -> None:
    bolt, strength = bolt_size(size), bolt_grade(grade)
    preload = table_preload_n(bolt, strength, 0.12)
    agrees(preload / 1000.0, preload_kn, 0.02, source=source, name=f"preload {size} {grade}, kN")
    torque = table_tightening_nm(bolt, strength, 0.12)
    agrees(torque, torque_nm, 0.02, source=source, name=f"tightening torque {size} {grade}, N.m")


@pytest.mark.parametrize(("size", "grade", "source", "preload_kn", "torque_nm"), CASES)
def test_back_from_torque(size: str, grade: str, source: str, preload_kn: float, torque_nm: float) -> None:
    preload = preload_n(bolt_size(size), torque_nm, 0.12)
    agrees(preload / 1000.0, preload_kn, 0.02, source=source, name=f"preload from torque {size} {grade}, kN")
    used = yield_used(bolt_size(size), bolt_grade(grade), 1000.0 * preload_kn, 0.12)
    agrees(used, 0.9, 0.02, source=source, name=f"share of Rp0.2 at table preload {size} {grade}")
