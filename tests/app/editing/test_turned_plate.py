"""The plate turned along the shaft: same metal, bolts on their partners, or a sentence why not."""

from __future__ import annotations

import numpy as np
import pytest

from app.editing.refused import EditRefused
from app.editing.turned_plate import turned_along
from geometry.findings import can_be_analysed, findings_of
from geometry.fold_map import FoldMap
from geometry.placing import place_bolts
from tests.app.lesson.samples import sample


@pytest.mark.parametrize("name", ["marlpit_one_piece", "imperial_flat", "ostler_cut_out", "gauge_tray"])
def test_the_plate_lies_along_the_shaft_with_every_bolt_on_its_partner(name: str) -> None:
    before = sample(name)
    turned = turned_along(before)
    assert can_be_analysed(findings_of(turned))
    assert [f.code for f in findings_of(turned)] == ["plate-along-shaft"]
    plate, was = turned.plates[0], before.plates[0]
    assert (plate.thickness_mm, plate.material) == (was.thickness_mm, was.material)
    normal = np.asarray(FoldMap(plate).axes[:, 2])
    assert normal == pytest.approx([1.0, 0.0, 0.0])
    places = place_bolts(turned)
    assert [place.partner for place in places] == ["boss", "boss", "dash bar", "dash bar"]
    for place in places:
        # face on face and hole over partner, to rounding
        assert place.partner_mm == pytest.approx(place.mating_mm, abs=1e-6)
    assert turned.loads == before.loads
    assert turned.dash_bar == before.dash_bar


def test_what_cannot_be_turned_says_why() -> None:
    for name, why in (
        ("marlpit_two_straps", "made of several plates"),
        ("quayside_side_plate", "does not stand square to the shaft"),
        ("tallow_stub", "no square or flat tube"),
    ):
        with pytest.raises(EditRefused, match=why):
            turned_along(sample(name))
