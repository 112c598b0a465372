"""Where the program meets the world: the only place that names concrete adapters."""

import os
import secrets
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from audiences.findings import Finding
from audiences.guarding import Cell, csv_bytes
from notices import shipped
from notices.cases.outgoing import Pace
from notices.sending import keyrings, mail_settings, sent_mail, workers
from notices.sending import pace as paces
from notices.sending.folder import FolderWay
from notices.sending.signals import asked_to_stop
from notices.sending.smtp import SmtpWay
from notices.settings import Settings
from notices.spreadsheets.reading import read_sheet
from notices.spreadsheets.writing import workbook
from notices.store import open_register, places
from notices.store.opening import path_in
from notices.store.shelf import ArchiveShelf
from notices.work.dispatching import Sender
from notices.work.ports import Register, Transaction, World
from notices.work.refolding import refold
from notices.work.shelves import Shelf
from notices.work.ways_out import WayOut

REGISTER_FILE = "register.db"
MAIL_FILE = "mail.toml"
NOTHING_SET = Settings()
_PRIVATE = frozenset({"evidence"})  # owners' photographs: nobody else on this machine reads them
templates, catalogues = shipped.templates, shipped.catalogues
expressions, laws = shipped.expressions, shipped.laws


def clock() -> datetime:
    """Return this moment, aware, in UTC."""
    return datetime.now(UTC)


class DiskFolder:
    """A campaign folder on a disk: names stay inside it, and a file is either the old one or the whole new one."""

    def __init__(self, root: Path) -> None:
        self.root = root

    def read(self, name: str) -> bytes | None:
        """Return a file's bytes, None where there is none; a name that leads out of the folder names none."""
        path = self._inside(name)
        return path.read_bytes() if path is not None and path.is_file() else None

    def write(self, name: str, data: bytes) -> None:
        """Write a file whole: beside its place first, then renamed into it; its folders are made."""
        path = self._inside(name)
        if path is None:
            raise ValueError("a name leads out of the campaign folder")
        _put(path, data, private=PurePosixPath(name).parts[0] in _PRIVATE)

    def names(self, below: str) -> list[str]:
        """Return the files below a folder, sorted, without those that are still being written."""
        path = self._inside(below)
        if path is None or not path.is_dir():
            return []
        found = (each for each in path.rglob("*") if each.is_file() and not each.name.endswith(".part"))
        return sorted(each.relative_to(self.root).as_posix() for each in found)

    def _inside(self, name: str) -> Path | None:
        parts = PurePosixPath(name).parts
        if "\0" in name or "\\" in name or name.startswith("/") or ".." in parts:
            return None
        return self.root.joinpath(*parts)


def _put(path: Path, data: bytes, *, private: bool) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        _write_whole(aside, data, private=private)
        aside.replace(path)
        _settle(path.parent)
    finally:
        aside.unlink(missing_ok=True)


def _write_whole(path: Path, data: bytes, *, private: bool) -> None:
    """Write a file that is on the disk when this returns, so that what names it may be committed."""
    kept_from_others = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600 if private else 0o666)
    with os.fdopen(kept_from_others, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _settle(folder: Path) -> None:
    """Have the names in *folder* written to the disk, where this system can be asked for that."""
    with suppress(OSError):
        opened = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)


class LateRegister:
    """A register that is opened when it is first asked, so that reading a draft leaves no database behind."""

    def __init__(self, address: str, now: Callable[[], datetime]) -> None:
        self._address = address
        self._now = now
        self._opened: Register | None = None

    def change(self) -> AbstractContextManager[Transaction]:
        """Begin a transaction that may write."""
        return self._register().change()

    def look(self) -> AbstractContextManager[Transaction]:
        """Begin a consistent view that writes nothing."""
        return self._register().look()

    def close(self) -> None:
        """Let go of the database, where it was ever opened."""
        if self._opened is not None:
            self._opened.close()
            self._opened = None

    def _register(self) -> Register:
        if self._opened is None:
            self._opened = open_register(self._address, now=self._now(), refold=refold)
        return self._opened


@contextmanager
def opened(
    folder: Path,
    settings: Settings = NOTHING_SET,
    *,
    now: Callable[[], datetime] = clock,
    draw: Callable[[int], int] = secrets.randbelow,
) -> Iterator[World]:
    """Yield the world of one campaign folder, and let go of its register at the end."""
    register = LateRegister(settings.register or str(folder / REGISTER_FILE), now)
    try:
        yield world(folder, register, now=now, draw=draw)
    finally:
        register.close()


def world(
    folder: Path,
    register: Register,
    *,
    now: Callable[[], datetime] = clock,
    draw: Callable[[int], int] = secrets.randbelow,
) -> World:
    """Build what every use case is handed from a folder and a register; clock and dice can be given."""
    return World(
        register=register,
        folder=DiskFolder(folder),
        now=now,
        draw=draw,
        templates=templates(),
        catalogues=catalogues(),
        expressions=expressions(),
        laws=laws(),
        sheet=read_sheet,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Post:
    """A way out, how fast it may be used and over how many connections."""

    way: WayOut
    pace: Pace
    connections: int


def folder_post(folder: Path, *, pace: Pace | None = None) -> Post:
    """Return the way out that writes each message as a file into *folder*, which it makes; at once without *pace*."""
    return Post(way=FolderWay(folder), pace=pace or Pace(text="none", gap=0.0), connections=1)


def mail_post(
    world: World, settings: Settings = NOTHING_SET, *, pace: Pace | None = None
) -> tuple[Post | None, tuple[Finding, ...]]:
    """Return the mail server that mail.toml describes, at *pace* where given, or every finding about it.

    The password is the environment's, else the keyring's; raises WayOutError where that cannot be read.
    """
    raw = world.folder.read(MAIL_FILE)
    if raw is None:
        return None, (_no_mail(),)
    found, findings = mail_settings.read(raw.decode("utf-8", "replace"), MAIL_FILE)
    if found is None:
        return None, findings
    way = SmtpWay(found, settings.mail_password or keyrings.password(found))
    return Post(way=way, pace=pace or found.pace, connections=found.connections), findings


def _no_mail() -> Finding:
    return Finding(
        code="mail-settings-missing",
        file=MAIL_FILE,
        message="the campaign folder does not say which mail server to use",
        mend='write mail.toml with host = "…" in it, or give --to-folder DIR to have each message as a file',
    )


def export(
    file: Path, name: str, headings: Sequence[str], rows: Sequence[Sequence[Cell]], *, made_at: datetime
) -> None:
    """Write a table whole, as CSV or as a workbook by the file's suffix, for this account alone to read.

    Raise ValueError where the file cannot hold it.
    """
    as_csv = file.suffix.lower() == ".csv"
    data = csv_bytes(headings, rows) if as_csv else workbook(name, headings, rows, made_at=made_at)
    _put(file, data, private=True)


def pace(text: str) -> Pace | Finding:
    """Read a pace such as ``30/min``; a finding where it is none."""
    return paces.parse(text, file="--pace")


@contextmanager
def sender() -> Iterator[Sender]:
    """Yield this process as a sender that Ctrl-C or the system may stop after the message that is going out."""
    with asked_to_stop() as halted:
        yield Sender(worker=workers.name(), gone=workers.is_gone, sleep=time.sleep, halted=halted)


def shelf(place: Path, folder: Path, settings: Settings) -> Shelf:
    """Return the place where backups of a campaign folder's register lie, or one backup."""
    return ArchiveShelf(place, _file_of_register(folder, settings))


def doubtful_place(folder: Path, settings: Settings) -> str | None:
    """Return why the register's place may harm it, None where it is a disk of this machine as far as can be told."""
    file = _file_of_register(folder, settings)
    kind = places.kind_of(file.parent) if file else ""
    if not places.is_doubtful(kind):
        return None
    return (
        f"{file} lies on a drive that a program brings ({kind}); if that is a network drive, or a folder kept in step "
        "with other machines, move the campaign folder to a disk of this machine, or the register may be damaged"
    )


def _file_of_register(folder: Path, settings: Settings) -> Path | None:
    address = path_in(settings.register or str(folder / REGISTER_FILE))
    return None if address is None else Path(address)


def sent_before(maildirs: Iterable[Path], folders: Iterable[Path]) -> dict[str, datetime | None]:
    """Return the Message-IDs of what lies in Maildirs and folders, each with its moment, or raise WayOutError."""
    return sent_mail.seen(maildirs, folders)
