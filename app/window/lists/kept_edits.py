"""Fields that stay what they are while what is shown round them changes."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from app.window.lists.field import Field
from app.window.lists.field_edit import FieldEdit


def kept_edits(
    shown: Iterable[FieldEdit], fields: Iterable[Field], make: Callable[[Field], FieldEdit]
) -> tuple[list[FieldEdit], list[FieldEdit]]:
    """Return what is typed into for each field, in order, and those that are to be taken away.

    Of a field that stays it is the same one: it keeps its focus and what is being typed.
    """
    old = {edit.field.paths: edit for edit in shown}
    kept = []
    for field in fields:
        edit = old.pop(field.paths, None)
        if edit is None:
            edit = make(field)
        else:
            edit.show_field(field)
        kept.append(edit)
    return kept, list(old.values())
