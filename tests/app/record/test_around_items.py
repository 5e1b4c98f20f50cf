"""What the file leaves blank around the bracket is open until somebody has looked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from app.record.around_items import SEEN_BY, open_around
from app.record.open_items import open_items
from solver.around.line import AroundGroup, AroundLine
from tests.app.record.examples import PROFILE, clear_results, locked_bracket, settled_record


@pytest.mark.parametrize("group", SEEN_BY)
def test_a_blank_is_open_until_the_check_list_settles_it(group: AroundGroup) -> None:
    results = replace(clear_results(), around=(AroundLine(group, "it", "open", "nobody has said"),))
    record = settled_record()
    assert not list(open_around(record, results))
    place = next(i for i, item in enumerate(record.check_list) if item.group == SEEN_BY[group])
    for changes in ({"state": "open"}, {"state": "not applicable", "remark": ""}):
        unseen = record.with_item(place, **changes)
        assert list(open_around(unseen, results)) == [(group, "it: nobody has said")]
        assert "it: nobody has said" in [
            i.words for i in open_items(unseen, results, locked_bracket(), PROFILE)
        ]


def test_what_is_met_or_told_is_not_open() -> None:
    lines = (AroundLine("room", "a", "met", "clear"), AroundLine("room", "b", "told", "it does not tilt"))
    record = settled_record().with_item(0, state="open")
    assert not list(open_around(record, replace(clear_results(), around=lines)))
