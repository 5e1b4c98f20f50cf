"""What an action is: one row of the table of actions, and one of the choices some of them offer."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Action:
    """One thing the window can be told to do, by menu or key."""

    name: str
    """Never shown; the same for ever, so that tests and notes can name it."""
    menu: str
    """Words of its menu."""
    words: str
    calls: str
    """What it calls: `part.method` of the window's parts, such as `files.save`."""
    key: str = ""
    argument: str | None = None
    """Given to what it calls; of an action with choices, the choice's own is given instead."""
    choices: str = ""
    """`part.method` that returns the choices; then the action is a menu of them."""
    ticked: str = ""
    """`part.method` that returns whether it is on; with an argument, whether that one is."""
    line_above: bool = False
    key_of_view: bool = False
    """Whether the view that has the focus, or the page, listens to the key by itself."""


@dataclass(frozen=True)
class Choice:
    """One of several things an action can be done with."""

    words: str
    argument: str
    is_taken: bool = False
    tip: str = ""
