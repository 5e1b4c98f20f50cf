"""Work that asks whether it is still wanted, thread by thread."""

from __future__ import annotations

import threading

import pytest

from geometry.wanted import NoLongerWantedError, still_wanted, this_threads_asker, while_wanted


def enough() -> None:
    raise NoLongerWantedError


def test_nobody_asked_goes_on() -> None:
    assert this_threads_asker() is None
    still_wanted()


def test_what_is_no_longer_wanted_ends_and_what_comes_after_it_goes_on() -> None:
    with pytest.raises(NoLongerWantedError), while_wanted(enough):
        still_wanted()
    still_wanted()


def test_the_inner_asker_is_asked_then_the_outer_one_again() -> None:
    asked: list[str] = []
    with while_wanted(lambda: asked.append("outer")):
        still_wanted()
        with while_wanted(None):
            still_wanted()
        with while_wanted(lambda: asked.append("inner")):
            still_wanted()
        still_wanted()
    assert asked == ["outer", "inner", "outer"]


def test_another_thread_is_not_ended_with_this_one() -> None:
    told: list[object] = []
    with while_wanted(enough):
        other = threading.Thread(target=lambda: told.append((still_wanted(), this_threads_asker())))
        other.start()
        other.join()
    assert told == [(None, None)]
