"""The campaign folder on a disk, the late register, and the shipped texts."""

from pathlib import Path

import pytest

from notices import assembly, settings
from notices.cases.outgoing import Pace, RegisterError
from notices.settings import Settings


def test_a_file_is_written_whole_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    folder = assembly.DiskFolder(tmp_path)
    folder.write("out/proofs/a.html", b"one")
    folder.write("out/proofs/a.html", b"two")

    assert folder.read("out/proofs/a.html") == b"two"
    assert folder.names("out") == ["out/proofs/a.html"]
    assert [each.name for each in (tmp_path / "out/proofs").iterdir()] == ["a.html"]


def test_a_write_that_fails_leaves_the_old_file(tmp_path: Path) -> None:
    folder = assembly.DiskFolder(tmp_path)
    (tmp_path / "taken").mkdir()

    with pytest.raises(OSError, match="taken"):
        folder.write("taken", b"new")
    assert [each.name for each in tmp_path.iterdir()] == ["taken"]


@pytest.mark.parametrize(
    "name", ["../secret", "pictures/../../secret", "/etc/hostname", "a\0b", "..\\secret", "pictures/.."]
)
def test_a_name_that_leads_out_of_the_folder_names_nothing(name: str, tmp_path: Path) -> None:
    (tmp_path / "secret").write_bytes(b"not yours")
    folder = assembly.DiskFolder(tmp_path / "campaign")

    assert (folder.read(name), folder.names(name)) == (None, [])
    with pytest.raises(ValueError, match="leads out"):
        folder.write(name, b"mine")


def test_what_is_not_there_is_none_and_an_empty_list(tmp_path: Path) -> None:
    folder = assembly.DiskFolder(tmp_path)

    assert (folder.read("pictures/none.png"), folder.read("."), folder.names("pictures")) == (None, None, [])


def test_a_register_is_made_only_when_it_is_asked(tmp_path: Path) -> None:
    with assembly.opened(tmp_path, Settings()) as world:
        before = list(tmp_path.iterdir())
        with world.register.look() as tx:
            revision = tx.papers.revision()

    assert (before, revision) == ([], None)
    assert (tmp_path / "register.db").is_file()


def test_the_environment_may_name_another_register(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere.db"
    with assembly.opened(tmp_path, Settings(register=str(elsewhere))) as world, world.register.look():
        pass

    assert [each.name for each in tmp_path.glob("*.db")] == ["elsewhere.db"]


def test_a_register_that_cannot_be_opened_says_so(tmp_path: Path) -> None:
    with (
        assembly.opened(tmp_path, Settings(register="ftp://somewhere")) as world,
        pytest.raises(RegisterError, match="a register is not kept at ftp"),
        world.register.look(),
    ):
        pass


def test_the_dice_and_the_clock_are_the_worlds(tmp_path: Path) -> None:
    with assembly.opened(tmp_path, Settings()) as world:
        drawn = {world.draw(6) for _ in range(500)}

    assert drawn == set(range(6))
    assert world.now().tzinfo is not None


def test_the_shipped_texts_are_found() -> None:
    assert "mail.mjml" in assembly.templates()
    assert {"en/notices", "de/notices", "ar/notices", "en/bureau"} <= assembly.catalogues().keys()


def test_the_settings_are_read_from_the_environment() -> None:
    read = settings.from_environment(
        {"NOTICES_REGISTER": "postgresql://db/x", "NOTICES_MAIL_PASSWORD": "s", "NOTICES_BY": "Mara Quill"}
    )

    assert read == Settings(register="postgresql://db/x", mail_password="s", by="Mara Quill")  # noqa: S106 - not a real one
    assert settings.from_environment({"NOTICES_REGISTER": "", "LOGNAME": "mara"}) == Settings(by="mara")


def test_no_password_is_shown_where_settings_are_printed() -> None:
    assert "hush" not in repr(Settings(mail_password="hush"))  # noqa: S106 - not a real one


def test_mail_settings_come_with_their_findings(tmp_path: Path) -> None:
    with assembly.opened(tmp_path, Settings()) as world:
        none, missing = assembly.mail_post(world, Settings())
        world.folder.write(
            "mail.toml", b'host = "localhost"\nsecurity = "none"\nconnections = 2\npace = "60/s"\n'
        )
        post, found = assembly.mail_post(world, Settings())
        slower, _ = assembly.mail_post(world, Settings(), pace=Pace(text="1/s", gap=1.0))
        world.folder.write("mail.toml", b"hots = 1")
        wrong, faults = assembly.mail_post(world, Settings())

    assert (none, [(one.code, one.file, one.line) for one in missing]) == (
        None,
        [("mail-settings-missing", "mail.toml", None)],
    )
    assert post is not None
    assert (post.connections, post.pace.text, found) == (2, "60/s", ())
    assert slower is not None
    assert slower.pace.gap == 1.0
    assert wrong is None
    assert faults
