"""A length that is typed as an option: mm, unless a unit says otherwise."""

from __future__ import annotations

from collections.abc import Callable

import typer


def length_between(least_mm: float, most_mm: float) -> Callable[[str], float]:
    """Return what reads an option such as `500`, `20 in` or `19 11/16 in` into mm within those bounds.

    What it returns raises BadParameter, with a sentence, for what is no length or lies beyond them.
    """

    def read(text: str) -> float:
        # late: other commands need no units
        from app.editing.entry import entered
        from app.wording.figures import quantity
        from geometry.units import UnitError

        try:
            length_mm = entered(str(text), "mm")
        except UnitError as error:
            raise typer.BadParameter(f"{error}.") from None
        if not least_mm <= length_mm <= most_mm:
            raise typer.BadParameter(
                f"{length_mm:g} mm ({quantity(length_mm, 'mm', 'inch')}) does not lie between {least_mm:g}"
                f" and {most_mm:g} mm; a number alone is in mm, inches are typed as '20 in'."
            )
        return length_mm

    return read
