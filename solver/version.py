"""The version of the program, said once: results, the command line and the package all read it here."""

from typing import Final

VERSION: Final = "0.1.0"
