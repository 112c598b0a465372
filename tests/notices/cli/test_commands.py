"""What every command does with wrong calls, wrong folders and a world that is not as it should be."""

from pathlib import Path

import pytest

from notices.cli.__main__ import run
from notices.cli.saying import shown
from tests.commands import Desk

READING = (
    ("check",),
    ("status",),
    ("due",),
    ("outbox",),
    ("case", "QM-2534-B0172"),
    ("proofs",),
    ("sign", "--by", "Mara", "--all", "--unread-too", "--yes"),
    ("send", "--to-folder", "mails", "--yes"),
    ("bulletin",),
    ("stop-sale",),
    ("record", "QM-2534-B0172", "stopped", "--by", "Mo"),
    ("serve", "--port", "0"),
)


@pytest.mark.parametrize("words", READING, ids=[words[0] for words in READING])
def test_a_folder_without_a_campaign_is_named_in_one_line(
    words: tuple[str, ...], tmp_path: Path, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    monkeypatch.setenv("COLUMNS", "40")
    said = desk.type(*words, "--campaign", str(empty))

    assert (said.status, said.out) == (2, "")
    assert (
        said.err == "notices: empty holds no campaign.yaml; give --campaign DIR, or begin with notices new\n"
    )
    assert list(empty.iterdir()) == []


@pytest.mark.parametrize("words", READING, ids=[words[0] for words in READING])
def test_a_folder_that_is_none_is_named_in_one_line(words: tuple[str, ...], desk: Desk) -> None:
    said = desk.type(*words, "--campaign", "nowhere")

    assert (said.status, said.out) == (2, "")
    assert said.err == "notices: nowhere is no folder; give the campaign's with --campaign DIR\n"


@pytest.mark.parametrize("words", READING[1:5], ids=[words[0] for words in READING[1:5]])
def test_a_register_that_is_none_ends_in_a_sentence(words: tuple[str, ...], desk: Desk) -> None:
    desk.write("register.db", "This is a shopping list. " * 400)
    said = desk.type(*words)

    assert (said.status, said.out) == (2, "")
    assert said.err.startswith("notices: ")
    assert said.err.count("\n") == 1


def test_a_campaign_that_cannot_be_read_stops_checking_and_nothing_else(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.write("campaign.yaml", "issuer: {name: A\nproduct: [")
    checked = desk.type("check")

    assert checked.status == 1
    assert checked.out.startswith("campaign.yaml:")
    assert desk.type("status").status == 0
    assert desk.type("send", "--to-folder", "mails", "--yes").status == 0


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("sing",), "No such command 'sing'"),
        (("status", "--on", "12.03.2026"), "a day is written YYYY-MM-DD"),
        (("status", "--format", "xml"), "'xml' is not one of"),
        (("sign", "--all"), "Missing option '--by'"),
        (("sign", "--by", "Mara"), "say which variants to sign, or --all"),
        (("sign", "--by", " ", "--all"), "a signature needs a name"),
        (("send", "--to-folder", "mails", "--pace", "quickly"), "'quickly' is no pace"),
        (("send", "--to-folder", "mails", "--test", "nobody"), "nobody: this is no address"),
        (("owners", "import", "nowhere.csv"), "nowhere.csv is no file"),
        (("owners", "import", "campaign.yaml", "--as", "../x"), "a list's name holds letters"),
        (("stop-sale", "web shop"), "--holds N --by NAME"),
        (("stop-sale", "--holds", "3"), "say which place"),
        (("explain", "nothing-singed"), "did you mean nothing-signed?"),
        (("new", "."), "is there already and not empty"),
    ],
)
def test_a_wrong_call_says_what_is_wrong(words: tuple[str, ...], complaint: str, desk: Desk) -> None:
    said = desk.type(*words)

    assert (said.status, said.out) == (2, "")
    assert complaint in said.err
    assert "Traceback" not in said.err


def test_a_mail_server_that_is_not_there_ends_in_a_sentence_and_loses_nothing(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.write("mail.toml", 'host = "localhost"\nport = 1\nsecurity = "none"\n')
    said = desk.type("send")

    assert said.status == 2
    assert said.err.count("\n") == 1
    assert desk.type("outbox", "--format", "json").json["waiting"] == 2


def test_without_mail_settings_the_way_to_write_them_is_named(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    said = desk.type("send")
    line = said.out.split("\n")[0]

    assert said.status == 1
    assert line == (
        "mail.toml: must mend [mail-settings-missing] the campaign folder does not say which mail server to use"
    )


def test_what_stands_in_the_way_of_a_file_is_named(desk: Desk) -> None:
    desk.write("out", "a file, not a folder")
    said = desk.type("stop-sale")

    assert (said.status, said.out) == (2, "")
    assert "out" in said.err
    assert said.err.count("\n") == 1


def test_a_check_leaves_no_register_behind(desk: Desk) -> None:
    desk.type("check")

    assert not (desk.folder / "register.db").exists()


def test_a_finding_is_one_plain_line_and_its_mend_however_narrow_the_window(desk: Desk) -> None:
    desk.patch.setenv("COLUMNS", "40")
    text = (desk.folder / "campaign.yaml").read_text("utf-8")
    desk.write("campaign.yaml", text.replace("hazard:", "hazrad:", 1))
    lines = desk.type("check").out.split("\n")
    fault = next(place for place, line in enumerate(lines) if "hazrad" in line)

    assert lines[fault].startswith("campaign.yaml:")
    assert ": must mend [" in lines[fault]
    assert lines[fault + 1].startswith("    mend: ")


def test_every_code_can_be_explained_with_or_without_its_brackets(desk: Desk) -> None:
    plain = desk.type("explain", "nothing-signed")

    assert plain.out.startswith("nothing-signed\n\nPublic pages and answer pages show the signed revision")
    assert desk.type("explain", "[nothing-signed]") == plain
    assert "nothing-signed\n" in desk.type("explain").out


def test_control_signs_are_spelled_out() -> None:
    assert shown("a\x1b[2Jb\u202ec\ud800d\x00") == "a\\x1b[2Jb\\u202ec\\ud800d\\x00"
    assert shown("Jürgen · \u00a0 عربي می\u200cشود") == "Jürgen · \u00a0 عربي می\u200cشود"


def test_the_version_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    status = run(["--version"])

    assert (status, capsys.readouterr().out) == (0, "notices 0.1.0\n")


def test_nothing_typed_shows_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    status = run([])
    said = capsys.readouterr()

    assert status == 2
    assert "Commands:" in said.out + said.err


def test_a_folder_with_a_register_and_no_campaign_says_what_is_missing(desk: Desk) -> None:
    desk.imported()
    (desk.folder / "campaign.yaml").unlink()
    found = desk.type("check", "--format", "json").json["findings"]

    assert [(one["code"], one["file"], one["line"]) for one in found] == [
        ("campaign-absent", "campaign.yaml", 1)
    ]


def test_the_line_that_is_not_utf8_is_named(desk: Desk) -> None:
    text = (desk.folder / "campaign.yaml").read_text("utf-8").replace("Port Aldmere]", "Pört Aldmere]", 1)
    line = next(number for number, each in enumerate(text.split("\n"), 1) if "Pört" in each)
    (desk.folder / "campaign.yaml").write_bytes(text.encode("latin-1", "replace"))
    found = desk.type("check", "--format", "json").json["findings"]

    assert [(one["code"], one["line"]) for one in found] == [("campaign-not-utf8", line)]


def test_a_lot_is_withdrawn_by_its_name_with_a_reason(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    by = ("--by", "Tom Byrne")
    sent = desk.type("record", "QM-2534-B0172", "parts", "QL-204", "--lot", "K3", *by)
    nobody = desk.type("record", "K9", "lot-withdrawn", "--text", "Wrong thread.", *by)
    done = desk.type("record", "k 3", "lot-withdrawn", "--text", "Wrong thread.", *by)
    again = desk.type("record", "K3", "lot-withdrawn", "--text", "Wrong thread.", *by)
    case = desk.type("case", "QM-2534-B0172")
    read = desk.type("case", "QM-2534-B0172", "--format", "json").json[0]["events"][-1]

    assert (sent.status, nobody.status, done.status, again.status) == (0, 1, 0, 0)
    assert nobody.err == "notices: no unit got parts of lot K9; lots known: K3\n"
    assert done.out == (
        "Lot K3 is withdrawn: 1 unit got parts of it.\n"
        "Call their owners today (notices due). Next: notices proofs, sign and send\n"
    )
    assert again.out == "Lot K3 is withdrawn: 0 units got parts of it.\n"
    assert "lot withdrawn by Tom Byrne, command: lot K3\n      \u201cWrong thread.\u201d" in case.out
    assert (read["kind"], read["lot"], read["why"]) == ("lot_withdrawn", "K3", "Wrong thread.")


def test_a_withdrawn_lot_names_the_cases_that_are_open_again(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    by = ("--by", "Tom Byrne")
    unit = desk.type("record", "QM-2534-B0172", "done", "K3", *by).out.split()[-1]
    desk.type("record", "QM-2534-B0172", "confirmed", *by)
    done = desk.type("record", "K3", "lot-withdrawn", "--text", "Wrong thread.", *by)

    assert done.out.splitlines()[1] == f"  open again: {unit}"


def test_a_check_compares_the_draft_with_a_signed_revision(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    text = (desk.folder / "campaign.yaml").read_text("utf-8")
    desk.write(
        "campaign.yaml",
        text.replace("saying: 1", "saying: 2") if "saying: 1" in text else f"{text}\nsaying: 2\n",
    )
    number = desk.type("status", "--format", "json").json["revision"]
    said = desk.type("check", "--against", str(number))
    found = desk.type("check", "--against", str(number), "--format", "json").json["against"]

    assert f"Between revision {number} and the draft (revision {number}):\n  saying: 1 -> 2\n" in said.out
    assert (found["before"], found["after"], found["draft"]) == (number, number, True)
    assert found["changes"] == [{"path": "saying", "before": 1, "after": 2}]
    assert found["counts"]["other"] == len(found["units"]) > 0


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("--against", "9"), "notices: no revision 9 is signed; signed so far: none\n"),
        (("--revision", "1"), "notices: --revision needs --against: two revisions are compared\n"),
    ],
)
def test_a_check_against_what_nobody_signed_says_so(
    desk: Desk, words: tuple[str, ...], complaint: str
) -> None:
    said = desk.type("check", *words)

    assert (said.status, said.out, said.err) == (2, "", complaint)
