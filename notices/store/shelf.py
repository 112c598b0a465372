"""The folder where backups are put, or one backup that is taken."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from notices.cases.outgoing import RegisterError
from notices.store import archive
from notices.store.archive import ArchiveFile

_NAMED = "notices-*.zip"


class ArchiveShelf:
    """A place on a disk; *register* is the register's own file, None where a server keeps it."""

    def __init__(self, place: Path, register: Path | None) -> None:
        """Keep both; nothing is looked at yet."""
        self._place = place
        self._register = register

    def put(
        self,
        name: str,
        facts: Mapping[str, object],
        tables: Iterable[tuple[str, Iterable[str]]],
        files: Iterable[tuple[str, bytes]],
    ) -> ArchiveFile:
        """Write a backup whole and lasting, or not at all, and return it opened."""
        return archive.write(self._place, name, facts, tables, files)

    def take(self) -> ArchiveFile:
        """Return the backup at the place, or the newest in it where the place is a folder."""
        if not self._place.is_dir():
            return ArchiveFile(self._place)
        found = sorted(self._place.glob(_NAMED))
        if not found:
            raise RegisterError(
                f"{self._place}: no backup lies here; give the file, or the folder that holds it"
            )
        return ArchiveFile(found[-1])

    def same_disk(self) -> bool | None:
        """Say whether the place lies on the file system of the register; None where that cannot be told."""
        if self._register is None:
            return None
        try:
            return self._place.stat().st_dev == self._register.absolute().parent.stat().st_dev
        except OSError:
            return None
