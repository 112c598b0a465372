"""What the use cases need of the place where backups lie."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Protocol


class Archive(Protocol):
    """One backup, open for reading; whatever is wrong with the file raises RegisterError with a sentence."""

    @property
    def place(self) -> str:
        """Return the file's name as a person reads it."""

    @property
    def facts(self) -> Mapping[str, object]:
        """Return what was written down about the backup when it was made."""

    def check(self) -> None:
        """Read everything once and hold it against the digests; raise RegisterError for the first that differs."""

    def lines(self, table: str) -> Iterator[str]:
        """Yield the rows of a table, as `Whole.lines` gave them."""

    def files(self) -> Iterator[tuple[str, bytes]]:
        """Yield the files of the campaign folder by their names."""


class Shelf(Protocol):
    """The folder where backups are put, or the one backup that is taken from it."""

    def put(
        self,
        name: str,
        facts: Mapping[str, object],
        tables: Iterable[tuple[str, Iterable[str]]],
        files: Iterable[tuple[str, bytes]],
    ) -> Archive:
        """Write a backup whole and lasting, or not at all, and return it opened; RegisterError where that cannot be."""

    def take(self) -> Archive:
        """Return the backup; RegisterError where there is none."""

    def same_disk(self) -> bool | None:
        """Say whether the place lies on the disk of the register; None where that cannot be told."""
