"""A backup as one file: every table as canonical JSON lines, the campaign's files, and a list with a digest of each."""

import hashlib
import json
import os
import secrets
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from audiences import canonical
from notices.cases.outgoing import RegisterError

FORM = 1
_LIST = "backup.json"
_WHAT = "notices backup"
_FIELDS = frozenset({"form", "facts", "parts", "rows"})
_TABLES = "tables/"
_FILES = "folder/"
_PIECE = 1 << 20
_DAMAGED = "the backup is damaged; take another one"
_STRANGE = "this file is no backup; give one that notices backup made"
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Part:
    """What the list says of one part: its size in bytes and the SHA-256 over them."""

    size: int
    digest: str


class ArchiveFile:
    """One backup, open for reading."""

    def __init__(self, path: Path) -> None:
        """Open the file and read its list; raise RegisterError where it is no backup or of a newer form."""
        self.place = str(path)
        self._path = path
        with self._reading() as file:
            listed = _listed(file, self.place)
            self._parts = {
                name: _Part(size=int(part["size"]), digest=str(part["digest"]))
                for name, part in listed["parts"].items()
            }
            self._rows: Mapping[str, int] = listed["rows"]
            self.facts: Mapping[str, object] = listed["facts"]
            named = sorted([*self._parts, _LIST])
            if sorted(file.namelist()) != named:
                raise RegisterError(f"{self.place}: {_DAMAGED}")

    def check(self) -> None:
        """Read everything once and hold it against the digests; raise RegisterError for the first that differs."""
        with self._reading() as file:
            for name, part in self._parts.items():
                if file.getinfo(name).file_size != part.size or _digest(file, name) != part.digest:
                    raise RegisterError(f"{self.place}: {name} is not what was backed up: {_DAMAGED}")
        for table, count in self._rows.items():
            if sum(1 for _ in self.lines(table)) != count:
                raise RegisterError(f"{self.place}: {table} has lost or gained rows: {_DAMAGED}")

    def lines(self, table: str) -> Iterator[str]:
        """Yield the rows of a table; none where the backup has no such table."""
        name = f"{_TABLES}{table}.jsonl"
        if name not in self._parts:
            return
        with self._reading() as file, file.open(name) as part:
            for line in part:
                yield line.decode("utf-8").removesuffix("\n")

    def files(self) -> Iterator[tuple[str, bytes]]:
        """Yield the files of the campaign folder by their names."""
        with self._reading() as file:
            for name in sorted(self._parts):
                if name.startswith(_FILES):
                    yield name.removeprefix(_FILES), file.read(name)

    @contextmanager
    def _reading(self) -> Iterator[zipfile.ZipFile]:
        try:
            with zipfile.ZipFile(self._path) as file:
                yield file
        except (*_BROKEN, UnicodeDecodeError) as fault:
            raise RegisterError(f"{self.place}: {_DAMAGED}") from fault
        except OSError as fault:
            why = fault.strerror or type(fault).__name__
            raise RegisterError(f"{self.place}: the backup cannot be read ({why})") from fault


def _listed(file: zipfile.ZipFile, place: str) -> dict[str, Any]:
    try:
        listed = json.loads(file.read(_LIST))
    except (KeyError, ValueError, RecursionError):
        listed = None
    if not isinstance(listed, dict) or listed.get("what") != _WHAT or not listed.keys() >= _FIELDS:
        raise RegisterError(f"{place}: {_STRANGE}")
    if listed.get("form") != FORM:
        raise RegisterError(
            f"{place}: this backup has form {listed.get('form')}, this program knows form {FORM}; "
            "install the version of the program that made it, or a newer one"
        )
    return listed


def _digest(file: zipfile.ZipFile, name: str) -> str:
    found = hashlib.sha256()
    with file.open(name) as part:
        while piece := part.read(_PIECE):
            found.update(piece)
    return found.hexdigest()


def write(
    folder: Path,
    name: str,
    facts: Mapping[str, object],
    tables: Iterable[tuple[str, Iterable[str]]],
    files: Iterable[tuple[str, bytes]],
) -> ArchiveFile:
    """Write a backup aside, make it lasting, rename it, and return it opened; nothing is left where that fails."""
    path = _free(folder, name)
    aside = folder / f".{path.name}.{secrets.token_hex(4)}.part"
    try:
        _write(aside, facts, tables, files)
        aside.replace(path)
        _last(folder)
    except OSError as fault:
        why = fault.strerror or type(fault).__name__
        raise RegisterError(
            f"{folder}: no backup was made ({why}), and older ones are as they were; "
            "make room there, or name another folder"
        ) from fault
    finally:
        with suppress(OSError):  # what goes wrong here has been said already
            aside.unlink(missing_ok=True)
    return ArchiveFile(path)


def _free(folder: Path, name: str) -> Path:
    if not folder.is_dir():
        raise RegisterError(f"{folder} is no folder; make it, or connect the disk that it lies on")
    path, turn = folder / f"{name}.zip", 2
    while path.exists():
        path, turn = folder / f"{name}-{turn}.zip", turn + 1
    return path


def _write(
    path: Path,
    facts: Mapping[str, object],
    tables: Iterable[tuple[str, Iterable[str]]],
    files: Iterable[tuple[str, bytes]],
) -> None:
    parts: dict[str, dict[str, object]] = {}
    rows: dict[str, int] = {}
    # it holds names and addresses: nobody else on this machine reads it
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(descriptor, "wb") as raw:
        with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as file:
            for table, lines in tables:
                parts[f"{_TABLES}{table}.jsonl"], rows[table] = _add_lines(
                    file, f"{_TABLES}{table}.jsonl", lines
                )
            for name, data in files:
                file.writestr(_FILES + name, data)
                parts[_FILES + name] = {"size": len(data), "digest": hashlib.sha256(data).hexdigest()}
            listed = {"what": _WHAT, "form": FORM, "facts": facts, "parts": parts, "rows": rows}
            file.writestr(_LIST, canonical.dump(listed))
        raw.flush()
        os.fsync(raw.fileno())
        if hasattr(os, "posix_fadvise"):  # what is read back then comes from the disk
            os.posix_fadvise(raw.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


def _add_lines(file: zipfile.ZipFile, name: str, lines: Iterable[str]) -> tuple[dict[str, object], int]:
    digest, size, count = hashlib.sha256(), 0, 0
    with file.open(name, "w", force_zip64=True) as part:
        for line in lines:
            data = f"{line}\n".encode()
            part.write(data)
            digest.update(data)
            size, count = size + len(data), count + 1
    return {"size": size, "digest": digest.hexdigest()}, count


def _last(folder: Path) -> None:
    """Write the folder itself to disk, so that the new name survives a power cut; Windows has no such call."""
    if os.name != "posix":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
