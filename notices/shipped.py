"""The texts that are shipped beside the program: layouts, catalogues, and the tables of words and of law."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import notices

_PACKAGE = Path(notices.__file__).resolve().parent


@cache
def templates() -> Mapping[str, str]:
    """Return the shipped layouts by their name below ``templates/``."""
    root = _shipped("templates")
    return {
        file.relative_to(root).as_posix(): file.read_text("utf-8")
        for file in sorted(root.rglob("*"))
        if file.is_file()
    }


@cache
def catalogues() -> Mapping[str, str]:
    """Return what is shipped: ``TAG/notices`` or ``TAG/bureau`` to a PO file's text, ``TAG/glossary`` to a table's."""
    root = _shipped("locales")
    return {
        file.relative_to(root).with_suffix("").as_posix(): file.read_text("utf-8")
        for file in sorted((*root.glob("*/*.po"), *root.glob("*/glossary.csv")))
    }


@cache
def expressions() -> Mapping[str, str]:
    """Return the tables of what no notice says: ``rules``, and a language's tag, to the text of its TOML file."""
    return {
        file.stem: file.read_text("utf-8")
        for file in sorted((_PACKAGE / "wording/expressions").glob("*.toml"))
    }


@cache
def laws() -> Mapping[str, str]:
    """Return what a market's law asks of notices: each law area, and ``headlines``, to the text of its TOML file."""
    return {
        file.stem: file.read_text("utf-8") for file in sorted((_PACKAGE / "wording/markets").glob("*.toml"))
    }


def _shipped(name: str) -> Path:
    """Return the folder beside the packages in a source tree, else the one that the wheel put into the package."""
    beside = _PACKAGE.parent / name
    in_a_source_tree = (_PACKAGE.parent / "pyproject.toml").is_file() and beside.is_dir()
    return beside if in_a_source_tree else _PACKAGE / name
