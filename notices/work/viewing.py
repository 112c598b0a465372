"""A table to be written into a file."""

from dataclasses import dataclass

from audiences.guarding import Cell


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """A table: every row has a cell for each heading. Headings that a sales list has are read as such again."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
