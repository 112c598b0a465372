"""A folder as a way out: one file a message, written aside and renamed, so that a doubt is settled by looking."""

import os
import re
from pathlib import Path

from notices.cases.outgoing import Outcome, Parcel, WayOutError

# The left and right part of a Message-ID as the program draws them, and as every file system takes them.
_SAFE = re.compile(r"[A-Za-z0-9_][A-Za-z0-9._+=-]{0,99}@[A-Za-z0-9_][A-Za-z0-9._-]{0,99}", re.ASCII)


class FolderWay:
    """A folder that takes messages, for reading them or handing them to another program."""

    def __init__(self, path: Path) -> None:
        """Keep the place; nothing is made yet."""
        self._path = path

    def open(self) -> "FolderLine":
        """Make the folder where it is missing; raise WayOutError with a sentence where that cannot be."""
        try:
            self._path.mkdir(mode=0o700, parents=True, exist_ok=True)  # messages hold names and addresses
        except OSError as fault:
            raise WayOutError(
                f"the folder {self._path} cannot be made ({fault.strerror}); name another, or make room there"
            ) from fault
        return FolderLine(self._path)

    def has(self, message_id: str) -> bool | None:
        """Say whether the message lies in the folder, whole; None where the folder cannot be looked into."""
        name = file_name(message_id)
        if name is None:
            return False
        try:
            (self._path / name).stat()
        except FileNotFoundError:
            return False
        except OSError:
            return None
        return True


class FolderLine:
    """One writer into the folder."""

    def __init__(self, path: Path) -> None:
        """Write into *path*, which stands."""
        self._path = path

    def hand_over(self, parcel: Parcel) -> Outcome:
        """Write one message under its Message-ID; what cannot be written stops the run, for so would the next."""
        name = file_name(parcel.message_id)
        if name is None:
            return Outcome(result="refused", reply="not written: the Message-ID cannot be a file name")
        aside = self._path / f".{name}.part"
        try:
            _write(aside, parcel.data)
            aside.replace(self._path / name)
        except OSError as fault:
            return Outcome(
                result="stop", reply=f"the folder {self._path} cannot be written ({fault.strerror})"
            )
        try:
            _make_lasting(self._path)
        except OSError as fault:
            return Outcome(result="in_doubt", reply=f"written, but perhaps not lasting ({fault.strerror})")
        return Outcome(result="handed_over", reply=f"written as {name}")

    def close(self) -> None:
        """Do nothing: no file is left open."""


def file_name(message_id: str) -> str | None:
    """Return ``<Message-ID without brackets>.eml``; None where that would be no safe file name."""
    bare = message_id.removeprefix("<").removesuffix(">")
    return f"{bare}.eml" if _SAFE.fullmatch(bare) else None


def _write(path: Path, data: bytes) -> None:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _make_lasting(folder: Path) -> None:
    """Write the folder itself to disk, so that the new name survives a power cut; Windows has no such call."""
    if os.name != "posix":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
