"""Where backups lie, and where copies of what was sent do."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from notices import assembly
from notices.cli.entry.world import SETTINGS
from notices.work.ports import World
from notices.work.shelves import Shelf


def shelf(folder: Path, place: Path) -> Shelf:
    """Return the place of backups of the campaign in *folder*."""
    return assembly.shelf(place, folder, SETTINGS)


def sent_before(maildirs: Sequence[Path], folders: Sequence[Path]) -> dict[str, datetime | None]:
    """Return the Message-IDs of what lies there, each with its moment."""
    return assembly.sent_before(maildirs, folders)


@contextmanager
def made(folder: Path) -> Iterator[World]:
    """Yield the world of a campaign folder that is made where it is missing."""
    folder.mkdir(parents=True, exist_ok=True)
    with assembly.opened(folder, SETTINGS) as world:
        yield world
