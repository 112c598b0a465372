"""Views of the register, handed on as files."""

import csv
import json
import stat
from pathlib import Path

import pytest

from audiences.guarding import bare
from notices.spreadsheets.reading import read_sheet
from tests.commands import LIST, Desk

HOSTILE_LIST = (
    LIST + '4,=QM-1,"=HYPERLINK(""https://mail.example"")",ada@mail.example,+441632960961,GB,en,2025-09-04\n'
)


def rows(file: Path) -> list[dict[str, str]]:
    """Read an export as any program would."""
    with file.open(encoding="utf-8-sig", newline="") as opened:
        return list(csv.DictReader(opened))


def test_units_are_written_with_who_keeps_them_and_where_they_came_from(desk: Desk) -> None:
    desk.imported()
    said = desk.type("owners", "export", "units", "--to", "units.csv")
    found = {row["name"]: row for row in rows(desk.folder / "units.csv")}

    assert (said.status, said.out) == (0, "3 rows of units in units.csv.\n")
    assert found["Anna Reed"] | {"unit": ""} == {
        "unit": "",
        "code": "QM-2534-B0172",
        "sold on": "2025-09-01",
        "sold in": "",
        "verdict": "not judged",
        "use": "unknown",
        "stopped": "no_word",
        "stage": "listed",
        "ending": "",
        "where": "in_hands",
        "list": "sales:2",
        "name": "Anna Reed",
        "email": "anna@mail.example",
        "phone": "",
        "address": "",
        "country": "GB",
        "language": "en",
    }


def test_only_this_account_may_read_an_export(desk: Desk) -> None:
    desk.imported()
    desk.type("owners", "export", "owners", "--to", "kept/owners.xlsx")

    assert stat.S_IMODE((desk.folder / "kept/owners.xlsx").stat().st_mode) == 0o600
    assert [path.name for path in (desk.folder / "kept").iterdir()] == ["owners.xlsx"]


@pytest.mark.parametrize("name", ["owners.csv", "owners.xlsx"])
def test_an_export_can_be_taken_in_again_and_says_the_same(desk: Desk, name: str) -> None:
    desk.imported(HOSTILE_LIST)
    desk.type("owners", "export", "units", "--to", name)
    before = desk.type("owners", "export", "units", "--to", "before.csv")
    again = desk.type("owners", "import", name, "--as", "again", "--yes", "--format", "json")
    desk.type("owners", "export", "units", "--to", "after.csv")

    assert before.status == 0
    assert [again.json[key] for key in ("new", "changed", "refused")] == [
        1,
        0,
        0,
    ]  # the one without code or address
    assert {row["name"] for row in rows(desk.folder / "before.csv")} == {
        row["name"] for row in rows(desk.folder / "after.csv")
    }


def test_nothing_in_an_export_runs(desk: Desk) -> None:
    desk.imported(HOSTILE_LIST)
    desk.type("owners", "export", "units", "--to", "units.csv")
    desk.type("owners", "export", "units", "--to", "units.xlsx")
    hostile = next(row for row in rows(desk.folder / "units.csv") if "HYPERLINK" in row["name"])
    sheet = read_sheet((desk.folder / "units.xlsx").read_bytes())

    assert hostile["name"] == '\'=HYPERLINK("https://mail.example")'
    assert (hostile["code"], hostile["phone"]) == ("'=QM-1", "'+441632960961")
    assert any(bare(cell) == "+441632960961" for row in sheet.rows for cell in row.cells)
    assert {sign for row in sheet.rows for sign in row.stored} == {"t"}


def test_who_is_not_reached_stands_there_with_why(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")
    said = desk.type("owners", "export", "not-reached", "--to", "left.csv", "--format", "json")
    (zoe,) = rows(desk.folder / "left.csv")

    assert (said.json["view"], said.json["file"], said.json["rows"]) == ("not-reached", "left.csv", 1)
    assert (zoe["name"], zoe["why"]) == ("Zoe Quirk", "email: it has no @")


def test_nobody_is_not_reached_for_want_of_a_sending(desk: Desk) -> None:
    desk.imported(LIST + "4,,Ada Vale,,,,,2025-09-04\n")
    desk.type("owners", "export", "not-reached", "--to", "left.csv")
    found = {row["name"]: row["why"] for row in rows(desk.folder / "left.csv")}

    assert found["Anna Reed"] == "nothing has gone out yet"
    assert found["Ada Vale"] == "no address or number is known"


def test_what_is_due_is_written_in_its_order(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("record", "QM-2534-B0172", "in-use", "--by", "Mo")
    desk.type("owners", "export", "due", "--to", "due.csv")
    first = rows(desk.folder / "due.csv")[0]
    shown = desk.type("due", "--format", "json").json["due"][0]

    assert (first["unit"], first["step"], first["why"]) == (shown["unit"], "call-now", "still in use")


def test_a_file_that_is_there_is_asked_about(desk: Desk) -> None:
    desk.imported()
    refused = desk.type("owners", "export", "units", "--to", "sales.csv", answer="n\n")

    assert (refused.status, (desk.folder / "sales.csv").read_text("utf-8")) == (1, LIST)
    assert desk.type("owners", "export", "units", "--to", "sales.csv", "--yes").status == 0


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("everything", "--to", "x.csv"), "a view is one of: owners, units, due, not-reached"),
        (("owners", "--to", "x.pdf"), "x.pdf ends neither in .csv nor in .xlsx"),
        (("owners", "--to", "register.db"), "register.db ends neither in .csv nor in .xlsx"),
    ],
)
def test_what_cannot_be_written_is_said(words: tuple[str, ...], sentence: str, desk: Desk) -> None:
    said = desk.type("owners", "export", *words)

    assert said.status == 2
    assert said.err.startswith(f"notices: {sentence}")


def test_json_says_what_was_written(desk: Desk) -> None:
    desk.imported()
    said = desk.type("owners", "export", "owners", "--to", "owners.csv", "--format", "json")

    assert json.loads(said.out) == {
        "view": "owners",
        "file": "owners.csv",
        "rows": 3,
        "columns": list(rows(desk.folder / "owners.csv")[0]),
    }
