"""The order of release, typed."""

import json
import sqlite3
from contextlib import closing

from tests.commands import Desk

BEFORE = ("sale", "staff", "authorities", "page", "certificate", "mailbox", "phone", "line", "backup")


def code(desk: Desk) -> str:
    """Draw the code that the page shows, and read it where the page does."""
    desk.type("ready", "page")
    with closing(sqlite3.connect(desk.folder / "register.db")) as connection:
        (noted,) = connection.execute("SELECT value FROM meta WHERE name = 'page_code'").fetchone()
    return str(json.loads(noted)["code"])


def test_the_page_is_ticked_only_by_the_code_that_it_shows(desk: Desk) -> None:
    drawn = desk.type("ready", "page")
    shown = code(desk)

    assert "/ready on a telephone outside the house network" in drawn.out
    assert shown not in drawn.out
    for wrong in ("done", "IOIO!"):
        assert "not the code" in desk.type("ready", "page", wrong, "--by", "Mara Quill").err
    assert "page is done" in desk.type("ready", "page", shown.lower(), "--by", "Mara Quill").out


def test_it_lists_the_steps_and_the_one_next_command(desk: Desk) -> None:
    said = desk.type("ready")

    assert said.status == 1
    assert said.out.startswith("open: sale, every place has stopped selling and holds its stock\n")
    assert "then owners: notices send\nopen: shops" in said.out
    assert said.out.endswith("\nNext: notices stop-sale, then notices ready sale done --by NAME\n")
    assert max(map(len, said.out.splitlines())) <= 80


def test_a_step_is_done_by_name_and_overruled_with_a_reason(desk: Desk) -> None:
    done = desk.type("ready", "sale", "done", "--by", "Mara Quill")
    assert (done.status, done.out) == (
        0,
        "sale is done, by Mara Quill. Next: notices ready staff done --by NAME\n",
    )
    desk.type("ready", "staff", "overrule", "--by", "Mara Quill", "--reason", "We are two, and both know.")

    said = desk.type("ready")

    assert "done: sale, " in said.out
    assert "overruled: staff, " in said.out
    assert "We are two, and both know." in " ".join(said.out.split())


def test_once_everything_before_owners_is_settled_send_is_next(desk: Desk) -> None:
    for step in BEFORE:
        word = code(desk) if step == "page" else "done"
        desk.type("ready", step, word, "--by", "Mara Quill")

    said = desk.type("ready", "--format", "json")
    assert (said.status, said.json["open_before_owners"]) == (0, [])
    assert desk.type("ready").out.endswith(
        "\nNext: notices send; then shops: notices ready shops done --by NAME\n"
    )
    for step in ("shops", "statement"):
        desk.type("ready", step, "done", "--by", "Mara Quill")
    assert desk.type("ready").out.endswith("\nEvery step is done or overruled.\n")


def test_the_next_command_is_typed_for_the_folder_that_was_asked(desk: Desk) -> None:
    desk.patch.chdir(desk.folder.parent)

    said = desk.type("ready", "--campaign", "steering-link").out

    assert (
        "Next: notices stop-sale --campaign steering-link, then notices ready sale done --by NAME --campaign"
        in said
    )


def test_a_backup_ticks_its_own_step(desk: Desk) -> None:
    (desk.folder / "kept").mkdir()
    kept = desk.type("backup", "kept")
    assert kept.status == 0, kept.err

    assert "done: backup, " in desk.type("ready").out


def test_a_stop_warning_goes_all_the_same_and_says_what_is_not_ready(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("ready", "sale", "done", "--by", "Mara Quill")

    said = desk.type("send", "--to-folder", "sent", "--yes")

    assert said.status == 0
    assert "Not yet done or overruled before owners are told: staff, authorities," in said.out


def test_what_cannot_be_recorded_says_what_is_missing(desk: Desk) -> None:
    assert "they are: sale, staff," in desk.type("ready", "tea", "done", "--by", "Mara Quill").err
    assert "--by NAME" in desk.type("ready", "sale", "done").err
    assert "--reason" in desk.type("ready", "sale", "overrule", "--by", "Mara Quill").err
    assert desk.type("ready", "sale").status == 2
    assert desk.type("ready", "sale", "perhaps", "--by", "Mara Quill").status == 2
