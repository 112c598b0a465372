"""Back up and restore: the whole register and the campaign's files in one archive, checked before it counts."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import datetime, timedelta
from typing import Any

from audiences import canonical
from audiences.findings import Finding, Severity
from notices.cases.chain import Link, Seal
from notices.cases.events import instant, moment
from notices.cases.folding import FOLD
from notices.cases.outgoing import RegisterError
from notices.figures.risk_file import FILE as RISK_FILE
from notices.work import marks, verifying
from notices.work.ports import Folder, Transaction, World
from notices.work.refolding import refold
from notices.work.revisions import CAMPAIGN_FILE
from notices.work.sealing import HEADS, seal
from notices.work.shelves import Archive, Shelf

# Never mail.toml: it may hold what opens a mailbox, and is written anew in a minute.
FILES = (CAMPAIGN_FILE, RISK_FILE)
FOLDERS = ("evidence", "lists", "pictures", "translations")
_NOTE = "backup"
_STRANGE = "a row of the record is none of this program's; take another backup"
_DAY = timedelta(days=1)


@dataclass(frozen=True, kw_only=True, slots=True)
class BackedUp:
    """Where the backup lies, what was sealed before it, whether on the register's own disk, and what is wrong in it."""

    place: str
    seal: Seal
    same_disk: bool | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Restored:
    """What was put back: when it was backed up, what was verified, the files that were kept as they were.

    *reconcile* says whether sending is held back until the outbox is reconciled.
    """

    made_at: datetime | None
    verified: verifying.Verified
    kept: tuple[str, ...]
    reconcile: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class LastBackup:
    """When the last backup was made and whether it lies on the register's disk (None: nobody can tell)."""

    at: datetime
    same_disk: bool | None
    old: bool


def backup(world: World, shelf: Shelf, *, by: str) -> BackedUp:
    """Seal the record, write everything into one archive, and read that back against its digests and its chain.

    Raises RegisterError where no backup came about; findings tell of a record that was broken before.
    """
    sealed = seal(world, by=by)
    now = world.now()
    with world.register.look() as tx:
        facts = {
            "made_at": instant(now),
            "schema": tx.safe.note("schema"),
            "sealed": {"streams": sealed.streams, "events": sealed.events, "digest": sealed.digest},
        }
        tables = ((name, tx.whole.lines(name)) for name in tx.whole.tables())
        made = shelf.put(_name(now), facts, tables, _files(world.folder))
    made.check()
    same = shelf.same_disk()
    with world.register.change() as tx:
        _note(tx, now, same_disk=same)
    return BackedUp(place=made.place, seal=sealed, same_disk=same, findings=faults(made))


def _name(now: datetime) -> str:
    return f"notices-{instant(now).replace('-', '').replace(':', '')[:15]}Z"


def _files(folder: Folder) -> Iterator[tuple[str, bytes]]:
    names = [*FILES, *(name for below in FOLDERS for name in folder.names(below))]
    for name in names:
        data = folder.read(name)
        if data is not None:
            yield name, data


def checked(shelf: Shelf) -> Archive:
    """Return the backup that is taken, every part of it held against its digest; RegisterError where one differs."""
    archive = shelf.take()
    archive.check()
    return archive


def faults(archive: Archive) -> tuple[Finding, ...]:
    """Return what is missing or changed in the record that a backup holds; its digests are not looked at."""
    return verifying.chain_findings(_links(archive), _notes(archive).get(HEADS))


def restore(world: World, shelf: Shelf, archive: Archive) -> Restored:
    """Put a checked backup into an empty register and its files beside it; all of it, or nothing.

    A file that is there and says something else is kept as it is. Raises RegisterError where the register is not
    empty or has another form; what `faults` found is the caller's to decide.
    """
    left = world.folder.read(marks.MARK_FILE)
    with world.register.change() as tx:
        _same_form(tx, archive)
        tx.whole.fill({name: archive.lines(name) for name in tx.whole.tables()})
        if tx.safe.note("fold") != str(FOLD):
            refold(tx)
            tx.safe.put_note("fold", str(FOLD))
        verified = verifying.verify(tx)
        owed = bool(tx.safe.note("reconcile")) or not marks.matches(tx, left)
        if owed:
            marks.require(tx)
        made_at = _moment_in(archive)
        if made_at is not None:
            _note(tx, made_at, same_disk=shelf.same_disk())
        kept = tuple(_put_back(world.folder, archive))
    return Restored(made_at=made_at, verified=verified, kept=kept, reconcile=owed)


def _same_form(tx: Transaction, archive: Archive) -> None:
    theirs, ours = _notes(archive).get("schema"), tx.safe.note("schema")
    if theirs != ours:
        raise RegisterError(
            f"{archive.place}: the register in this backup has form {theirs}, this program knows form {ours}; "
            "install the version of the program that made it"
        )


def _put_back(folder: Folder, archive: Archive) -> Iterator[str]:
    """Write the files that are not there; yield the names of those that are and differ."""
    for name, data in archive.files():
        if name not in FILES and name.partition("/")[0] not in FOLDERS:
            raise RegisterError(
                f"{archive.place}: {name} is no file that a backup holds; take another backup"
            )
        there = folder.read(name)
        if there is None:
            _write(folder, name, data, archive.place)
        elif there != data:
            yield name


def _write(folder: Folder, name: str, data: bytes, place: str) -> None:
    try:
        folder.write(name, data)
    except ValueError as fault:
        raise RegisterError(
            f"{place}: the name of a file leads out of the folder; take another backup"
        ) from fault


def _moment_in(archive: Archive) -> datetime | None:
    made_at = archive.facts.get("made_at")
    try:
        return moment(made_at) if isinstance(made_at, str) else None
    except ValueError:
        return None


def _links(archive: Archive) -> Iterator[Link]:
    for line in archive.lines("events"):
        row = _row(archive, line, {one.name for one in fields(Link)})
        if not isinstance(row["seq"], int) or not isinstance(row["stream"], str):
            raise RegisterError(f"{archive.place}: {_STRANGE}")
        yield Link(**row)


def _notes(archive: Archive) -> Mapping[str, str]:
    rows = (_row(archive, line, {"name", "value"}) for line in archive.lines("meta"))
    return {str(row["name"]): str(row["value"]) for row in rows}


def _row(archive: Archive, line: str, names: set[str]) -> dict[str, Any]:
    try:
        row = json.loads(line)
    except (ValueError, RecursionError):
        row = None
    if not isinstance(row, dict) or set(row) != names:
        raise RegisterError(f"{archive.place}: {_STRANGE}")
    return row


def _note(tx: Transaction, at: datetime, *, same_disk: bool | None) -> None:
    tx.safe.put_note(_NOTE, canonical.dump({"at": instant(at), "same_disk": same_disk}))


def last_backup(world: World) -> LastBackup | None:
    """Return what is known of the last backup; None where there was none."""
    with world.register.look() as tx:
        noted = tx.safe.note(_NOTE)
    if noted is None:
        return None
    found = json.loads(noted)
    at = moment(found["at"])
    return LastBackup(at=at, same_disk=found["same_disk"], old=world.now() - at > _DAY)


def backup_findings(last: LastBackup | None) -> tuple[Finding, ...]:
    """Say what is not well about the last backup, nothing where all is."""
    if last is None:
        return (
            _consider("backup-missing", "there is no backup of it", "notices backup DIR, on another disk"),
        )
    day = last.at.date().isoformat()
    found = []
    if last.old:
        found.append(
            _consider("backup-old", f"its last backup is of {day}", "notices backup DIR, once a day")
        )
    if last.same_disk:
        what = "its last backup lies on the same disk and would be lost with it"
        found.append(_consider("backup-same-disk", what, "notices backup DIR, with DIR on another disk"))
    return tuple(found)


def _consider(code: str, message: str, mend: str) -> Finding:
    return Finding(
        code=code,
        file=verifying.REGISTER,
        message=message,
        mend=mend,
        severity=Severity.CONSIDER,
    )


def last_as_json(last: LastBackup | None) -> dict[str, object] | None:
    """Return the last backup in the shape that other programs read."""
    if last is None:
        return None
    return {"at": instant(last.at), "same_disk": last.same_disk, "old": last.old}


def backed_up_as_json(done: BackedUp) -> dict[str, object]:
    """Return what a backup came to in the shape that other programs read."""
    return {
        "file": done.place,
        "streams": done.seal.streams,
        "events": done.seal.events,
        "digest": done.seal.digest,
        "same_disk": done.same_disk,
    }
