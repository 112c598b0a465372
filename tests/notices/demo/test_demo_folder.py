"""What the demo leaves is a real campaign folder; its files alone begin a new campaign."""

import json
import shutil
import tomllib
from pathlib import Path

import pytest

from notices.cli.__main__ import run
from tests.demo_runs import Told


def test_the_folder_holds_everything_a_campaign_has(told: Told) -> None:
    names = {each.name for each in told.folder.iterdir()}
    lists = {each.name for each in (told.folder / "lists").iterdir()}

    assert names >= {
        "campaign.yaml",
        "translations",
        "pictures",
        "lists",
        "mail.toml",
        "register.db",
        "out",
    }
    assert {"web-shop.csv", "shop-port-aldmere.csv", "partner-shop-one.csv"} <= lists
    assert (told.folder / "out" / "proofs" / "index.html").is_file()
    assert (told.folder / "out" / "bulletin" / "index.html").is_file()
    assert tomllib.loads((told.folder / "mail.toml").read_text("utf-8"))["security"] == "none"


def test_the_folder_can_be_moved_for_no_file_of_it_names_a_place_on_this_machine(told: Told) -> None:
    texts = [
        each
        for each in told.folder.rglob("*")
        if each.is_file() and each.suffix in {".yaml", ".po", ".toml", ".csv", ".html", ".txt"}
    ]

    assert len(texts) > 20
    assert [each for each in texts if str(told.folder).encode() in each.read_bytes()] == []


def test_its_files_alone_make_a_new_campaign_of_the_last_revision(
    told: Told, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new = tmp_path / "new"
    for name in ("translations", "pictures", "lists"):
        shutil.copytree(told.folder / name, new / name)
    shutil.copy(told.folder / "campaign.yaml", new)
    at = ("--campaign", str(new))
    imports = [
        run(["owners", "import", str(file), "--yes", *at]) for file in sorted((new / "lists").glob("*.csv"))
    ]
    proved = run(["proofs", *at])
    signed = run(["sign", "--by", "Maeve Corrigan", "--all", "--unread-too", "--yes", *at])
    sent = run(["send", "--to-folder", str(tmp_path / "mails"), "--yes", *at])
    printed = capsys.readouterr()
    shown = run(["status", "--format", "json", *at])
    status = json.loads(capsys.readouterr().out)

    assert (imports, proved, signed, sent, shown) == ([0, 0, 0], 0, 0, 0, 0), printed.err
    assert len(list((tmp_path / "mails").glob("*.eml"))) > 350
    assert status["revision"] == 1
    assert status["units"] == {
        "sold": 480,
        "in_hands": 423,
        "cleared": 43,
        "put_away": 0,
        "owner_unknown": 14,
    }


def test_a_folder_that_is_not_empty_is_left_as_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "letter.txt").write_text("mine", "utf-8")
    status = run(["demo", "--into", str(tmp_path)])

    assert status == 2
    assert capsys.readouterr().err == (
        f"notices: {tmp_path}: is there already and not empty; choose another with --into\n"
    )
    assert [each.name for each in tmp_path.iterdir()] == ["letter.txt"]
