"""A stop warning broken off at message 200 and restored elsewhere from a backup: nobody is skipped."""

import os
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from dataclasses import dataclass
from email import message_from_bytes
from email.utils import parseaddr
from pathlib import Path

import pytest

from tests import needs, source
from tests.commands import Said, a_campaign
from tests.registers import an_address

OWNERS = 400
AT = 200
_ADDRESSES = {f"owner{n}@mail.example" for n in range(OWNERS)}


def command(*words: str, register: str = "", folder: Path | None = None) -> Said:
    """Run one command in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "notices.cli", *words],
        capture_output=True,
        text=True,
        check=False,
        env=_environment(register),
        cwd=folder,
    )
    return Said(status=done.returncode, out=done.stdout, err=done.stderr)


def _environment(register: str) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(source.ROOT), "NOTICES_REGISTER": register, "COLUMNS": "40"}


def written(folder: Path) -> list[Path]:
    return list(folder.glob("*.eml"))


def told(*folders: Path) -> Counter[str]:
    files = [file for folder in folders for file in written(folder)]
    return Counter(parseaddr(str(message_from_bytes(file.read_bytes())["To"]))[1] for file in files)


def names(*folders: Path) -> set[str]:
    return {file.name for folder in folders for file in written(folder)}


def wait_for(count: int, folder: Path, run: "subprocess.Popen[bytes]") -> None:
    ends = time.monotonic() + 120
    while len(written(folder)) < count:
        assert run.poll() is None, f"the run ended after {len(written(folder))} messages"
        assert time.monotonic() < ends, f"only {len(written(folder))} messages within two minutes"
        time.sleep(0.02)


@dataclass(frozen=True, kw_only=True, slots=True)
class Stopped:
    """A campaign folder with the messages it wrote, and the disk with its backup."""

    folder: Path
    mails: Path
    disk: Path


@pytest.fixture(scope="module")
def killed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a campaign whose run was backed up at message 100, while it went, and killed at 200."""
    if os.name != "posix":
        needs.missing("a process is killed at an instant on POSIX alone")
    root = tmp_path_factory.mktemp("killed")
    folder = a_campaign(root / "campaign")
    (root / "disk").mkdir()
    rows = [f"{n},Owner {n},owner{n}@mail.example,{'GB,en' if n % 2 else 'DE,de'}" for n in range(OWNERS)]
    (folder / "sales.csv").write_text("\n".join(["order,name,email,country,language", *rows, ""]), "utf-8")
    assert command("owners", "import", "sales.csv", "--yes", folder=folder).status == 0
    assert command("sign", "--by", "Mara Quill", "--all", "--unread-too", "--yes", folder=folder).status == 0
    send = [sys.executable, "-m", "notices.cli", "send", "--to-folder", "mails", "--yes", "--pace", "15/s"]
    run = subprocess.Popen(send, env=_environment(""), cwd=folder, stdout=subprocess.DEVNULL)
    try:
        wait_for(AT // 2, folder / "mails", run)
        backup = command("backup", str(root / "disk"), folder=folder)
        assert backup.status == 0, backup
        wait_for(AT, folder / "mails", run)
    finally:
        run.send_signal(signal.SIGKILL)
        run.wait()
    assert AT <= len(written(folder / "mails")) < OWNERS
    return root


@pytest.fixture
def stopped(killed: Path, tmp_path: Path) -> Stopped:
    """Return a copy of it that a test may spoil."""
    root = tmp_path / "copy"
    shutil.copytree(killed, root)
    return Stopped(folder=root / "campaign", mails=root / "campaign" / "mails", disk=root / "disk")


@pytest.mark.parametrize("engine", ["sqlite", "postgresql"])
def test_with_what_was_written_at_hand_each_owner_is_told_exactly_once(
    engine: str, stopped: Stopped, tmp_path: Path
) -> None:
    mails = stopped.mails
    before = names(mails)
    new = tmp_path / "new"
    with an_address(engine, tmp_path / "other disk") as address:
        register = address if engine == "postgresql" else ""
        restored = command("restore", str(stopped.disk), "--into", str(new), register=register)
        send = ("send", "--to-folder", str(mails), "--yes")
        refused = command(*send, register=register, folder=new)
        untouched = names(mails)
        settled = command("outbox", "reconcile", "--folder", str(mails), register=register, folder=new)
        sent = command(*send, register=register, folder=new)
        verified = command("verify", register=register, folder=new)
        outbox = command("outbox", "--format", "json", register=register, folder=new).json

    assert (restored.status, refused.status, settled.status, sent.status) == (0, 2, 0, 0), (
        restored,
        settled,
        sent,
    )
    assert "this register was put back from a backup" in refused.err
    assert untouched == before
    assert told(mails) == Counter(dict.fromkeys(_ADDRESSES, 1))
    assert (outbox["handed_over"], outbox["in_doubt"], outbox["waiting"]) == (OWNERS, 0, 0)
    assert verified.status == 0


def test_without_it_nobody_is_skipped_and_a_second_copy_bears_the_same_name(
    stopped: Stopped, tmp_path: Path
) -> None:
    first, second = stopped.mails, tmp_path / "second"
    new = tmp_path / "new"
    command("restore", str(stopped.disk), "--into", str(new))
    command("outbox", "reconcile", folder=new)
    sent = command("send", "--to-folder", str(second), "--yes", folder=new)
    copies = told(first, second)

    assert sent.status == 0
    assert set(copies) == _ADDRESSES
    assert len(names(first, second)) == OWNERS
    assert 0 < sum(count == 2 for count in copies.values()) <= len(written(first)) - AT // 2 + 1
    assert max(copies.values()) == 2


def test_an_old_copy_of_the_register_beside_the_same_mark_is_held_back_too(
    stopped: Stopped,
) -> None:
    mails = stopped.mails
    for name in ("register.db", "register.db-wal", "register.db-shm"):
        (stopped.folder / name).unlink(missing_ok=True)
    restored = command("restore", str(stopped.disk), "--into", str(stopped.folder))
    refused = command("send", "--to-folder", "mails", "--yes", folder=stopped.folder)
    command("outbox", "reconcile", "--folder", "mails", folder=stopped.folder)
    sent = command("send", "--to-folder", "mails", "--yes", folder=stopped.folder)

    assert (restored.status, refused.status, sent.status) == (0, 2, 0)
    assert told(mails) == Counter(dict.fromkeys(_ADDRESSES, 1))
