"""Files that are no list, or a bad one, at the command: one line or findings, an exit status, never a traceback."""

import os
from pathlib import Path

import pytest

from tests.commands import LIST, Desk, Said
from tests.hostile import HOSTILE_WRITABLE
from tests.workbooks import compound, ods, sheet_xml, xls, xlsx, zipped

ROWS = [line.split(",") for line in LIST.splitlines()]
LAST = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'
FAR = sheet_xml(ROWS).replace("</sheetData>", f"{LAST}</sheetData>")
BOMB = xlsx({"S": sheet_xml(ROWS)}, more={"xl/media/image1.png": bytes(300 << 20)})

BAD_FILES: tuple[tuple[str, bytes, str], ...] = (
    ("empty.csv", b"", "empty.csv: must mend [list-empty]"),
    ("blank.csv", b"\n\n,,\n", "blank.csv: must mend [list-empty]"),
    ("heads.csv", b"code,email\n", "heads.csv:1: must mend [list-without-rows]"),
    ("twice.csv", b"code,email\ncode,email\n", "twice.csv:2: consider [row-is-headings]"),
    ("odd.csv", b"colour,size\nred,L\n", "odd.csv:1: must mend [column-needed]"),
    ("page.xls", b"<html><table><tr><td>code", "page.xls:1: must mend [list-is-no-list]"),
    ("wide.csv", "code\n".encode("utf-32"), "wide.csv: must mend [list-not-utf-8]"),
    ("quote.csv", b'"code,email\nA1,a@mail.example\n', "quote.csv:1: must mend [list-headings-broken]"),
    ("bomb.xlsx", BOMB, "bomb.xlsx: must mend [workbook-too-large]"),
    ("far.xlsx", xlsx({"S": FAR}), "far.xlsx: must mend [workbook-too-large]"),
    ("locked.xlsx", compound({"EncryptedPackage": b"x"}), "locked.xlsx: must mend [workbook-encrypted]"),
    ("cut.xlsx", xlsx({"S": sheet_xml(ROWS)})[:-40], "cut.xlsx: must mend [workbook-broken]"),
    ("cut.xls", xls([["code"]])[:1500], "cut.xls: must mend [workbook-broken]"),
    ("other.xlsx", zipped({"a.txt": b"x"}), "other.xlsx: must mend [workbook-broken]"),
    ("bare.xlsx", xlsx({"S": sheet_xml([])}), "bare.xlsx: must mend [workbook-without-sheet]"),
)


def _import(desk: Desk, name: str, data: bytes, *more: str) -> Said:
    (desk.folder / name).write_bytes(data)
    return desk.type("owners", "import", name, "--yes", *more)


@pytest.mark.parametrize("columns", ["40", "80"])
@pytest.mark.parametrize(("name", "data", "said"), BAD_FILES, ids=[name for name, _, _ in BAD_FILES])
def test_a_bad_file_is_a_finding_and_nothing_is_taken_in(
    desk: Desk, name: str, data: bytes, said: str, columns: str
) -> None:
    desk.patch.setenv("COLUMNS", columns)
    found = _import(desk, name, data)

    assert (found.status, found.err) == (1, "")
    assert said in found.out
    assert "    mend: " in found.out
    assert "Traceback" not in found.out
    assert not (desk.folder / "lists").exists()


def test_what_is_wrong_with_a_bad_file_is_json_for_programs(desk: Desk) -> None:
    found = _import(desk, "empty.csv", b"", "--format", "json").json

    assert [(one["code"], one["line"]) for one in found["findings"]] == [("list-empty", None)]
    assert (found["list"], found["new"]) == ("empty", 0)


def test_a_file_that_is_none_is_one_line(desk: Desk) -> None:
    (desk.folder / "folder.csv").mkdir()
    os.mkfifo(desk.folder / "pipe.csv")
    (desk.folder / "round.csv").symlink_to("round.csv")
    for name in ("folder.csv", "pipe.csv", "round.csv", "none.csv"):
        found = desk.type("owners", "import", name, "--yes")

        assert (found.status, found.out, found.err) == (2, "", f"notices: {name} is no file\n")


@pytest.mark.skipif(
    not Path("/proc/self/mem").exists(), reason="only Linux has a file that cannot be read by its owner"
)
def test_a_file_that_cannot_be_read_is_one_line(desk: Desk) -> None:
    found = desk.type("owners", "import", "/proc/self/mem", "--yes")

    assert (found.status, found.out) == (2, "")
    assert found.err.startswith("notices: ")
    assert found.err.count("\n") == 1


def test_a_file_larger_than_any_list_is_not_read(desk: Desk) -> None:
    with (desk.folder / "huge.csv").open("wb") as file:
        file.truncate(300 << 20)
    found = desk.type("owners", "import", "huge.csv", "--yes")

    assert found.status == 1
    assert found.out.startswith("huge.csv: must mend [list-too-large]")


@pytest.mark.parametrize(
    "name", ["a\nb.csv", "a\x1b[2Jb.csv", "a\u202eb.csv", "a\udce4b.csv", "%s {{x}}.csv", "..csv"]
)
def test_a_hostile_file_name_is_refused_or_taken_and_shown_on_its_line(desk: Desk, name: str) -> None:
    (desk.folder / name).write_text(LIST, "utf-8")
    refused = desk.type("owners", "import", name, "--yes")
    taken = desk.type("owners", "import", name, "--yes", "--as", "shop")

    assert (refused.status, taken.status) == (2, 0)
    assert refused.err.count("\n") == 1
    assert all(sign.isprintable() for sign in (taken.out + refused.err).replace("\n", ""))
    assert taken.out.endswith(
        "3 new, 0 changed, 0 as before, 0 refused.\nNext, when all lists are in: notices proofs\n"
    )


@pytest.mark.parametrize(
    "text", [text for text in HOSTILE_WRITABLE if text and "\0" not in text and len(text) < 400]
)
def test_no_option_of_the_import_breaks_it(desk: Desk, text: str) -> None:
    data = xlsx({"S": sheet_xml(ROWS)})
    (desk.folder / "list.xlsx").write_bytes(data)
    for option in ("--as", "--sheet"):
        found = desk.type("owners", "import", "list.xlsx", "--yes", f"{option}={text}")

        assert found.status in {0, 1, 2}
        assert "Traceback" not in found.out + found.err
        assert all(
            sign.isprintable()
            for sign in (found.out + found.err).replace("\n", "")
            if sign not in "\u200c\u200d"
        )


def test_a_spreadsheet_is_taken_in_like_a_list_and_says_which_sheet(desk: Desk) -> None:
    found = _import(desk, "sales.xlsx", xlsx({"Sales": sheet_xml(ROWS), "Old": sheet_xml([["x"]])}))
    again = _import(desk, "sales.ods", ods(ROWS), "--as", "other")
    asked = desk.type("owners", "import", "sales.xlsx", "--yes", "--sheet", "New")

    assert "3 rows in sales.xlsx: sheet “Sales”.\n" in found.out
    assert "sales.xlsx:1: consider [sheet-one-of-several] sheet “Sales” is read; “Old” is not\n" in found.out
    assert (found.status, again.status, asked.status) == (0, 0, 1)
    assert asked.out == (
        "sales.xlsx: must mend [sheet-unknown] the spreadsheet has no sheet of that name\n"
        "    mend: choose with --sheet NAME one of: “Sales”, “Old”\n"
    )
    assert (desk.folder / "lists/sales.xlsx").is_file()


def test_the_encoding_and_the_separator_are_said_and_remembered(desk: Desk) -> None:
    found = _import(desk, "sales.csv", LIST.replace(",", ";").encode("cp1252"))

    assert "3 rows in sales.csv: Windows-1252 (Western European), parted by semicolons.\n" in found.out
    assert "sales.csv:1: consider [list-encoding-guessed]" in found.out
    kept = (desk.folder / "lists/sales.columns.toml").read_text("utf-8")
    assert 'encoding = "windows-1252"\nseparator = "semicolon"\n' in kept


def test_ten_thousand_columns_are_not_all_printed(desk: Desk) -> None:
    wide = ",".join(f"h{number}" for number in range(10_000))
    found = _import(desk, "wide.csv", f"code,email,{wide}\nA1,a@mail.example,{wide}\n".encode())

    assert found.status == 0
    assert "h19 and 9980 more\n" in found.out
    assert max(map(len, found.out.splitlines())) < 400
