"""Several layouts in one file: one drawn and judged, the others kept as variants."""

from __future__ import annotations

from typing import Final

from app.editing.refused import EditRefused
from geometry.bracket import Bracket
from geometry.variant import Variant

_OF_ALL: Final = {
    "materials": "materials",
    "casing": "casing",
    "column": "column",
    "wheel": "wheel",
    "rake_deg": "rake",
    "shaft_joints": "shaft joints",
    "dash_bar": "dash bar",
    "loads": "loads",
    "limits": "limits",
}
FIRST_NAME: Final = "first layout"
"""What a layout without a name is called when another takes its place."""


def variants_of(bracket: Bracket) -> tuple[str, ...]:
    """Return the names of the layouts that are kept beside the drawn one, in their order."""
    return tuple(variant.name for variant in bracket.variants)


def with_variant(bracket: Bracket, name: str, other: Bracket) -> Bracket:
    """Return the bracket with another's layout kept under a name, in place of the one of that name.

    EditRefused if the name is empty or the drawn layout's own, or if the other bracket differs in more than
    its layout: variants share casing, dash bar and loads.
    """
    name = name.strip()
    if not name or len(name) > 80:
        raise EditRefused("a variant needs a name of 1 to 80 characters: type one")
    if name == bracket.layout:
        raise EditRefused(f"the layout that is drawn is called {name}: give the variant another name")
    differing = [
        words for field, words in _OF_ALL.items() if getattr(bracket, field) != getattr(other, field)
    ]
    if differing:
        raise EditRefused(
            f"variant {name} differs in {', '.join(differing)}, which all variants of a file share: make them"
            " the same, or save it as a file of its own"
        )
    variant = _layout_of(other, name)
    if name in variants_of(bracket):
        kept = tuple(variant if there.name == name else there for there in bracket.variants)
    else:
        kept = (*bracket.variants, variant)
    return bracket.but(variants=kept)


def as_variant(bracket: Bracket, name: str) -> Bracket:
    """Return the bracket with the variant of that name drawn and the drawn layout kept in its place.

    Twice, with the names it then has, gives the bracket as it was. EditRefused if there is none of that name,
    or more than one.
    """
    variant = _find(bracket, name)
    if (count := variants_of(bracket).count(name)) > 1:
        # one of them would be shown, judged and printed for the others
        raise EditRefused(f"{count} variants are called {name}: give each a name of its own, or drop one")
    own = bracket.layout or _free_name(bracket)
    former = _layout_of(bracket, own)
    kept = tuple(former if there is variant else there for there in bracket.variants)
    return bracket.but(
        layout=variant.name,
        plates=variant.plates,
        bolts=variant.bolts,
        welds=variant.welds,
        anchors=variant.anchors,
        variants=kept,
    )


def without_variant(bracket: Bracket, name: str) -> Bracket:
    """Return the bracket without the variant of that name; EditRefused if there is none."""
    gone = _find(bracket, name)
    return bracket.but(variants=tuple(there for there in bracket.variants if there is not gone))


def _layout_of(bracket: Bracket, name: str) -> Variant:
    return Variant(
        name=name,
        plates=bracket.plates,
        bolts=bracket.bolts,
        welds=bracket.welds,
        anchors=bracket.anchors,
    )


def _find(bracket: Bracket, name: str) -> Variant:
    for variant in bracket.variants:
        if variant.name == name:
            return variant
    known = ", ".join(variants_of(bracket)) or "none"
    raise EditRefused(f"there is no variant {name}; there is: {known}")


def _free_name(bracket: Bracket) -> str:
    taken = variants_of(bracket)
    names = [FIRST_NAME, *(f"{FIRST_NAME} {k}" for k in range(2, len(taken) + 3))]
    return next(name for name in names if name not in taken)
