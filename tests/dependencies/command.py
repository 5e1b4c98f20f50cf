"""`python3 tests dependencies`: every package that is needed, its licence, and where it has wheels."""

from __future__ import annotations

import argparse
import sys
import textwrap
from collections.abc import Sequence
from typing import Final

from tests.dependencies.licences import goes
from tests.dependencies.packages import PYTHONS, SYSTEMS, Package, installed, installed_or_asked, needed
from tests.dependencies.wheels import Wheels, wheels_of

_WIDTH: Final = 128
UNREACHED: Final = 64
"""Exit code where the package index cannot be reached: the table tells licences alone."""


def main(arguments: Sequence[str]) -> int:
    """Print the table in Markdown.

    Returns 1 if a licence does not go with the program's, 64 if the package index is not reached.
    """
    parser = argparse.ArgumentParser(prog="python3 tests dependencies", description=__doc__)
    parser.add_argument(
        "--licences", action="store_true", help="of what is installed here alone; asks nothing"
    )
    parser.add_argument(
        "--short", action="store_true", help="in the table only what has wheels of its own for a system"
    )
    asked = parser.parse_args(arguments)
    packages = needed(installed if asked.licences else installed_or_asked)
    wheels: dict[str, Wheels | None] = {}
    for package in packages if not asked.licences else ():
        name = package.about.name
        sys.stderr.write(f"{name} ...\n")
        wheels[name] = wheels_of(name, package.about.version)
        if len(wheels) == 1 and wheels[name] is None:
            break
    reached = any(wheels.values())
    lines = table(packages, wheels if reached else {}, short=asked.short)
    sys.stdout.write("\n".join(lines) + "\n")
    if not (reached or asked.licences):
        sys.stderr.write(
            "The package index cannot be reached, so where there are wheels is not told: connect to the "
            "network, or ask for `--licences` alone.\n"
        )
        return UNREACHED
    against = [p.about for p in packages if not goes(p.about.licence) and (p.about.installed or reached)]
    for about in against:
        sys.stderr.write(f"{about.name}: does its licence go with GPL-3.0-or-later? {about.licence}\n")
    return 1 if against else 0


def table(packages: Sequence[Package], wheels: dict[str, Wheels | None], *, short: bool = False) -> list[str]:
    """Return the table's lines in Markdown; without wheels where none are known.

    To be `short` packages with one wheel for every system are told in a sentence below it.
    """
    pure = [p for p in packages if short and (own := wheels.get(p.about.name)) and own.everywhere]
    systems = list(SYSTEMS) if wheels else []
    head = ["package", "version", "licence", *systems, *(["oldest system"] if wheels else []), "needed by"]
    lines = [_row(head), _row(["---"] * len(head))]
    for package in packages:
        if package in pure:
            continue
        about = package.about
        cells = [about.name, about.version, about.licence]
        if wheels:
            cells += _cells(package, wheels.get(about.name))
        lines.append(_row([*cells, ", ".join(package.parts)]))
    if wheels:
        lines += ["", f"`all`: Python {', '.join(PYTHONS)}. `-`: not needed there."]
    if pure:
        words = [f"{p.about.name} {p.about.version} ({p.about.licence}; {', '.join(p.parts)})" for p in pure]
        said = f"One wheel for every system and Python: {', '.join(words)}."
        lines += ["", *textwrap.wrap(said, _WIDTH, break_on_hyphens=False)]
    return lines


def _cells(package: Package, wheels: Wheels | None) -> list[str]:
    """Return a cell for each system, and what the oldest system is that the wheels are for."""
    if wheels is None:
        return ["?"] * (len(SYSTEMS) + 1)
    cells = [wheels.on(system) if system in package.systems else "-" for system in SYSTEMS]
    mac = [wheels.oldest[s] for s in ("macOS arm64", "macOS x86-64") if wheels.oldest[s]]
    linux = [wheels.oldest[s] for s in ("Linux x86-64", "Linux aarch64") if wheels.oldest[s]]
    ages = [f"macOS {' / '.join(dict.fromkeys(mac))}"] if mac and not wheels.everywhere else []
    ages += [f"glibc {' / '.join(dict.fromkeys(linux))}"] if linux and not wheels.everywhere else []
    return [*cells, "; ".join(ages)]


def _row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"
