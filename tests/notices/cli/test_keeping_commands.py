"""Verify, back up, restore and reconcile, typed; and a register that the world has spoilt."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from notices.store.tables import SCHEMA
from tests.commands import Desk, Said
from tests.disks import a_disk, remount

LOOKING = (
    ("status",),
    ("due",),
    ("verify",),
    ("outbox",),
    ("case", "QM-2534-B0172"),
    ("proofs",),
    ("send", "--to-folder", "mails", "--yes"),
    ("record", "QM-2534-B0172", "stopped", "--by", "Mo"),
    ("bulletin",),
)


@pytest.fixture
def sent(desk: Desk) -> Desk:
    """Return a desk at which everything has gone out into a folder."""
    desk.imported()
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")
    return desk


@pytest.fixture
def disk(tmp_path: Path) -> Path:
    place = tmp_path / "disk"
    place.mkdir()
    return place


def ends_in_a_sentence(said: Said) -> bool:
    return said.status == 2 and said.err.startswith("notices: ") and said.err.count("\n") == 1


def spoil(desk: Desk, statement: str) -> None:
    with closing(sqlite3.connect(desk.folder / "register.db")) as connection:
        for name in ("events_never_change", "events_never_go"):
            connection.execute(f"DROP TRIGGER {name}")
        connection.execute(statement)
        connection.commit()


def test_a_record_that_is_whole_is_said_to_be(sent: Desk, disk: Path) -> None:
    before = sent.type("verify")
    backup = sent.type("backup", str(disk))
    after = sent.type("verify", "--format", "json")
    lines = before.out.split("\n")

    assert before.status == backup.status == after.status == 0
    assert lines[0].endswith(" events, 3 cases: everything is there and unchanged.")
    assert lines[1] == "It was never sealed; notices backup does that."
    assert after.json["findings"] == []
    assert f"Seal: {after.json['sealed']['digest']}\n" in backup.out
    assert sent.type("verify").out.split("\n")[1].endswith(after.json["sealed"]["digest"])


def test_a_changed_record_is_a_finding_and_a_status(sent: Desk, disk: Path) -> None:
    spoil(sent, "UPDATE events SET actor = 'nobody' WHERE kind = 'unit_listed'")
    sent.patch.setenv("COLUMNS", "40")
    said = sent.type("verify")
    as_json = sent.type("verify", "--format", "json")
    backup = sent.type("backup", str(disk))

    assert (said.status, as_json.status, backup.status) == (1, 1, 1)
    assert said.out.startswith("register: must mend [event-changed] unit ")
    assert ": 3 faults.\n" in said.out
    assert [one["code"] for one in as_json.json["findings"]] == ["event-changed"] * 3
    assert len(list(disk.iterdir())) == 1


def test_a_case_that_went_astray_is_made_anew(sent: Desk) -> None:
    spoil(sent, "UPDATE cases SET segment = 'unridden'")
    wrong = sent.type("verify")
    mended = sent.type("verify", "--refold")

    assert wrong.out.count("[case-differs]") == 3
    assert (wrong.status, mended.status, sent.type("verify").status) == (1, 0, 0)


def test_a_backup_is_restored_elsewhere_and_says_what_comes_next(
    sent: Desk, disk: Path, tmp_path: Path
) -> None:
    sent.type("backup", str(disk), "--format", "json")
    new = tmp_path / "new"
    said = sent.type("restore", str(disk), "--into", str(new))
    again = sent.type("restore", str(disk), "--into", str(new))
    refused = sent.type("send", "--to-folder", "mails", "--yes", "--campaign", str(new))
    reconciled = sent.type("outbox", "reconcile", "--folder", "mails", "--campaign", str(new))
    sends = sent.type("send", "--to-folder", "mails", "--yes", "--campaign", str(new))

    assert (said.status, again.status, refused.status) == (0, 2, 2)
    assert ": everything is there and unchanged.\nRestored as it was " in said.out
    assert said.out.endswith(
        "Before the next send: notices outbox reconcile. mail.toml is not in a backup: see that it is there.\n"
    )
    assert ends_in_a_sentence(again)
    assert ends_in_a_sentence(refused)
    assert "run notices outbox reconcile first" in refused.err
    assert reconciled.out.startswith(
        "0 messages found and counted as handed over.\n0 messages may have gone out"
    )
    assert sends.status == 0
    assert sent.type("status", "--campaign", str(new), "--format", "json").json["units"]["in_hands"] == 3


def test_a_restore_leaves_the_draft_that_is_there(sent: Desk, disk: Path, tmp_path: Path) -> None:
    sent.type("backup", str(disk))
    new = tmp_path / "new"
    new.mkdir()
    (new / "campaign.yaml").write_text("# newer\n", "utf-8")
    said = sent.type("restore", str(next(disk.iterdir())), "--into", str(new))

    assert said.status == 0
    assert said.err == "notices: campaign.yaml differs from the backup's and was left as it is\n"


def test_a_record_that_was_spoilt_before_its_backup_is_restored_only_when_asked(
    sent: Desk, disk: Path, tmp_path: Path
) -> None:
    spoil(sent, "UPDATE events SET actor = 'nobody' WHERE kind = 'unit_listed'")
    sent.type("backup", str(disk))
    no = sent.type("restore", str(disk), "--into", str(tmp_path / "no"), answer="n\n")
    yes = sent.type("restore", str(disk), "--into", str(tmp_path / "yes"), "--yes")

    assert "[event-changed]" in no.out
    assert no.out.endswith("Restore it all the same? [y/N] Nothing was done.\n")
    assert (no.status, yes.status) == (1, 1)
    assert not (tmp_path / "no" / "campaign.yaml").exists()
    assert (tmp_path / "yes" / "campaign.yaml").exists()


def test_an_older_copy_of_the_register_is_not_sent_from(sent: Desk) -> None:
    desk = sent
    shutil.copy(desk.folder / "register.db", desk.folder / "older.db")
    desk.type("record", "QM-2534-B0172", "email", "anna.new@mail.example", "--by", "Mo")
    desk.imported("order,name,email,country,language\n9,Newly Listed,new@mail.example,DE,de\n")
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")
    shutil.move(desk.folder / "older.db", desk.folder / "register.db")
    for name in ("register.db-wal", "register.db-shm"):
        (desk.folder / name).unlink(missing_ok=True)
    desk.patch.setenv("COLUMNS", "40")
    refused = desk.type("send", "--to-folder", "mails", "--yes")
    settled = desk.type("outbox", "reconcile", "--folder", "mails", "--format", "json")

    assert ends_in_a_sentence(refused)
    assert "this register is older than the mail sent from it (run 1 of 2, try 2 of 3)" in refused.err
    assert settled.json == {"needed": True, "found": 0, "in_doubt": 0, "waiting": 0, "unknown": 1}
    assert desk.type("send", "--to-folder", "mails", "--yes").status in {0, 1}


def test_the_options_of_the_outbox_stand_after_its_word(sent: Desk) -> None:
    said = sent.type("outbox", "--campaign", "elsewhere", "reconcile")

    assert ends_in_a_sentence(said)
    assert said.err == "notices: give the options after the word reconcile\n"


@pytest.mark.parametrize("option", ["--maildir", "--folder"])
def test_a_place_where_no_copies_lie_is_named(option: str, sent: Desk) -> None:
    said = sent.type("outbox", "reconcile", option, "nowhere")

    assert ends_in_a_sentence(said)
    assert "nowhere cannot be looked into" in said.err


def test_the_status_says_what_is_not_well_about_the_backup(sent: Desk, disk: Path) -> None:
    never = sent.type("status")
    sent.type("backup", str(disk))
    there = sent.type("status")
    as_json = sent.type("status", "--format", "json").json

    assert "register: consider [backup-missing] there is no backup of it\n" in never.out
    assert "register: consider [backup-same-disk] its last backup lies on the same disk" in there.out
    assert set(as_json) - {"backup", "held"} == {"on", "revision", "units", "stopped", "grid", "endings"}
    assert (as_json["backup"]["same_disk"], as_json["backup"]["old"]) == (True, False)
    assert "backup" not in sent.type("status", "--on", "2026-03-01").out


def test_the_status_says_nothing_of_a_fresh_backup_on_another_disk(sent: Desk, tmp_path: Path) -> None:
    with a_disk(tmp_path / "stick") as stick:
        backup = sent.type("backup", str(stick))
        status = sent.type("status")

    assert "same disk" not in backup.out
    assert "backup" not in status.out


@pytest.mark.parametrize("words", LOOKING, ids=[words[0] for words in LOOKING])
@pytest.mark.parametrize("spoiling", ["header", "half", "pages", "newer", "folder"])
def test_a_spoilt_register_ends_in_a_sentence_and_is_left_alone(
    spoiling: str, words: tuple[str, ...], sent: Desk
) -> None:
    file = sent.folder / "register.db"
    whole = file.read_bytes()
    if spoiling == "header":
        file.write_bytes(b"\0" * 100 + whole[100:])
    elif spoiling == "half":
        file.write_bytes(whole[: len(whole) // 2])
    elif spoiling == "pages":
        file.write_bytes(whole[:4096] + b"\xa5" * (len(whole) - 4096))
    elif spoiling == "newer":
        with closing(sqlite3.connect(file)) as connection:
            connection.execute("UPDATE meta SET value = ? WHERE name = 'schema'", (str(SCHEMA + 1),))
            connection.commit()
    else:
        file.unlink()
        file.mkdir()
    left = file.read_bytes() if file.is_file() else b""
    sent.patch.setenv("COLUMNS", "40")
    said = sent.type(*words)

    assert ends_in_a_sentence(said), said
    assert "; " in said.err
    assert (file.read_bytes() if file.is_file() else b"") == left


@pytest.mark.parametrize("words", LOOKING, ids=[words[0] for words in LOOKING])
def test_a_disk_that_can_only_be_read_is_named_with_the_way_out(
    words: tuple[str, ...], sent: Desk, tmp_path: Path
) -> None:
    with a_disk(tmp_path / "stick", kilobytes=8192) as stick:
        folder = stick / "campaign"
        shutil.copytree(sent.folder, folder)
        remount(stick, "ro")
        sent.patch.setenv("COLUMNS", "40")
        said = sent.type(*words, "--campaign", str(folder))

    assert ends_in_a_sentence(said), said
    assert "the register can only be read here; give this account the right" in said.err


def test_a_backup_to_a_disk_that_can_only_be_read_is_named(sent: Desk, tmp_path: Path) -> None:
    with a_disk(tmp_path / "stick") as stick:
        remount(stick, "ro")
        said = sent.type("backup", str(stick))

    assert ends_in_a_sentence(said)
    assert (
        "stick: no backup was made (Read-only file system), and older ones are as they were; make room"
        in said.err
    )


def test_a_register_that_another_program_writes_to_can_be_looked_at_meanwhile(sent: Desk) -> None:
    with closing(sqlite3.connect(sent.folder / "register.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        looked = [sent.type(*words).status for words in (("status",), ("due",), ("verify",), ("outbox",))]
        other.execute("ROLLBACK")

    assert looked == [0, 0, 0, 0]


def test_a_register_that_was_emptied_or_taken_away_is_not_sent_from(sent: Desk) -> None:
    for name in ("register.db-wal", "register.db-shm"):
        (sent.folder / name).unlink(missing_ok=True)
    (sent.folder / "register.db").write_bytes(b"")
    emptied = sent.type("send", "--to-folder", "mails", "--yes")
    (sent.folder / "register.db").unlink()
    gone = sent.type("send", "--to-folder", "mails", "--yes")

    assert ends_in_a_sentence(emptied)
    assert ends_in_a_sentence(gone)
    assert (
        "last-run.json tells of another register than this one; run notices outbox reconcile first"
        in gone.err
    )
