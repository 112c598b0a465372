"""A disk that runs full, a real one: one sentence with the way out, nothing lost, and on it goes once there is room."""

import os
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from email import message_from_bytes
from email.utils import parseaddr
from pathlib import Path

import pytest

from tests import source
from tests.commands import Desk, Said
from tests.disks import a_disk, fill_up, remount

MANY = 60
ROOM = 24 * 1024
_PATH = {"PYTHONPATH": str(source.ROOT)}


@pytest.fixture
def small(desk: Desk, tmp_path: Path) -> Iterator[Desk]:
    """Return a desk whose campaign folder, register and all, lies on a small disk of its own."""
    with a_disk(tmp_path / "small", kilobytes=ROOM) as disk:
        folder = disk / "campaign"
        shutil.copytree(desk.folder, folder)
        desk.patch.chdir(folder)
        desk.patch.setenv("COLUMNS", "40")
        desk.folder = folder
        yield desk
        desk.patch.chdir(tmp_path)


def a_list(count: int, first: int = 1) -> str:
    rows = [f"{n},Owner {n},owner{n}@mail.example,GB,en,2025-09-01" for n in range(first, first + count)]
    return "\n".join(["order,name,email,country,language,sold on", *rows, ""])


def is_a_sentence(said: Said) -> bool:
    return said.status == 2 and said.err.startswith("notices: ") and said.err.count("\n") == 1


def in_its_own_process(*words: str) -> Said:
    """Run a command as a person does: a process that ends, and whose leases end with it."""
    command = [sys.executable, "-m", "notices.cli", *words]
    done = subprocess.run(command, capture_output=True, text=True, check=False, env={**os.environ, **_PATH})
    return Said(status=done.returncode, out=done.stdout, err=done.stderr)


def told(folder: Path) -> Counter[str]:
    return Counter(
        parseaddr(str(message_from_bytes(file.read_bytes())["To"]))[1] for file in folder.glob("*.eml")
    )


def counts(desk: Desk) -> dict[str, int]:
    found = desk.type("outbox", "--format", "json").json
    return {state: count for state, count in found.items() if count}


@pytest.mark.parametrize("leave", [0, 100_000, 600_000])
def test_a_list_that_does_not_fit_is_not_taken_in_by_halves(leave: int, small: Desk) -> None:
    small.imported(a_list(MANY))
    sales = small.write("large.csv", a_list(3_000, first=1_000))
    ballast = fill_up(small.folder.parent, leave=leave)
    said = small.type("owners", "import", str(sales), "--yes")
    ballast.unlink()
    left = small.type("status", "--format", "json").json["units"]
    whole = small.type("verify")
    again = small.type("owners", "import", str(sales), "--yes")

    assert is_a_sentence(said), said.err
    assert "the disk is full" in said.err
    assert (left["in_hands"], whole.status) == (MANY, 0)
    assert again.out.endswith(
        "3000 new, 0 changed, 0 as before, 0 refused.\nNext, when all lists are in: notices proofs\n"
    )
    assert small.type("verify").status == 0


def test_a_folder_that_runs_full_holds_the_rest_back(desk: Desk, tmp_path: Path) -> None:
    desk.imported(a_list(MANY))
    desk.signed()
    with a_disk(tmp_path / "way out", kilobytes=400) as disk:
        mails = disk / "mails"
        said = desk.type("send", "--to-folder", str(mails), "--yes")
        first = told(mails)
        waiting = counts(desk)
        again = desk.type("send", "--to-folder", str(mails), "--yes")
        remount(disk, "size=50m")
        last = desk.type("send", "--to-folder", str(mails), "--yes")

        assert is_a_sentence(said)
        assert "cannot be written (No space left on device)" in said.err
        assert 0 < len(first) < MANY
        assert waiting == {"handed_over": len(first), "waiting": MANY - len(first)}
        assert is_a_sentence(again)
        assert last.status == 0
        assert told(mails) == Counter(f"owner{n}@mail.example" for n in range(1, MANY + 1))
        assert [each.name for each in mails.iterdir() if each.suffix != ".eml"] == []
    assert counts(desk) == {"handed_over": MANY}
    assert desk.type("verify").status == 0


@pytest.mark.parametrize("leave", [0, 200_000, 400_000])
def test_a_register_that_runs_full_during_a_run_loses_nothing(
    leave: int, small: Desk, tmp_path: Path
) -> None:
    small.imported(a_list(MANY))
    small.signed()
    mails = tmp_path / "mails"
    small.type("send", "--to-folder", str(mails), answer="n\n")  # puts the messages into the outbox
    ballast = fill_up(small.folder.parent, leave=leave)
    said = in_its_own_process("send", "--to-folder", str(mails), "--yes")
    before = told(mails)
    ballast.unlink()
    after = in_its_own_process("send", "--to-folder", str(mails), "--yes")

    assert is_a_sentence(said), said.err
    assert "full" in said.err or "No space left on device" in said.err
    assert (0 if leave == 0 else 1) <= len(before) < MANY
    assert after.status == 0
    assert told(mails) == Counter(f"owner{n}@mail.example" for n in range(1, MANY + 1))
    assert counts(small) == {"handed_over": MANY}
    assert small.type("verify").status == 0


def test_a_backup_that_does_not_fit_leaves_the_older_one_and_nothing_beside_it(
    desk: Desk, tmp_path: Path
) -> None:
    desk.imported(a_list(MANY))
    desk.signed()
    with a_disk(tmp_path / "stick", kilobytes=8192) as stick:
        desk.type("backup", str(stick))
        before = {each.name: each.read_bytes() for each in stick.iterdir()}
        ballast = fill_up(stick, leave=16_384)
        said = desk.type("backup", str(stick))
        ballast.unlink()
        after = {each.name: each.read_bytes() for each in stick.iterdir()}
        again = desk.type("backup", str(stick))

        assert len(list(stick.iterdir())) == 2
    assert is_a_sentence(said)
    assert (
        "no backup was made (No space left on device), and older ones are as they were; make room" in said.err
    )
    assert (after, again.status) == (before, 0)


def test_a_page_that_does_not_fit_is_named_with_the_way_out(small: Desk) -> None:
    small.imported(a_list(MANY))
    small.signed()
    ballast = fill_up(small.folder.parent)
    said = small.type("proofs")
    ballast.unlink()

    assert is_a_sentence(said)
    assert "the disk is full" in said.err
    assert small.type("proofs").status == 0


def test_a_restore_that_does_not_fit_leaves_an_empty_register(desk: Desk, tmp_path: Path) -> None:
    desk.imported(a_list(MANY))
    desk.signed()
    (tmp_path / "backups").mkdir()
    desk.type("backup", str(tmp_path / "backups"))
    with a_disk(tmp_path / "new", kilobytes=ROOM) as disk:
        ballast = fill_up(disk, leave=400_000)
        said = desk.type("restore", str(tmp_path / "backups"), "--into", str(disk / "campaign"))
        ballast.unlink()
        again = desk.type("restore", str(tmp_path / "backups"), "--into", str(disk / "campaign"))
        verified = desk.type("verify", "--campaign", str(disk / "campaign"))

    assert is_a_sentence(said), said.err
    assert "the disk is full" in said.err
    assert (again.status, verified.status) == (0, 0)
