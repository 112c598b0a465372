"""A list with rotten rows, typed: the good ones go in, the others are told, mended and go in too."""

import csv

from tests.commands import Desk

HEADINGS = "sale no,code,name,email,phone,country"
NAME, MAIL = "Wilhelmina", "wilhelmina.privat"  # in every cell that is bad


def rows(count: int) -> list[str]:
    """Return good rows."""
    return [
        f"{number},QM-2534-C{number:04},{NAME} {number},{MAIL}{number}@mail.example,,GB"
        for number in range(1, count + 1)
    ]


def rotten(good: list[str]) -> list[bytes]:
    """Return the rows, one in twenty of them broken: cells lost, a quote left open, bytes of another character set."""
    found = [row.encode() for row in good]
    for place in range(0, len(found), 20):
        row = good[place]
        breaks = (row.rpartition(",")[0].encode(), f'"{row}'.encode(), row.encode() + b"\xff\xfe")
        found[place] = breaks[place // 20 % 3]
    return found


def test_the_ninety_five_in_a_hundred_go_in_and_the_five_once_they_are_mended(desk: Desk) -> None:
    good = rows(1000)
    path = desk.folder / "sales.csv"
    path.write_bytes(
        b"\n".join([HEADINGS.encode(), "0,,Jürgen Ölt,j@mail.example,,DE".encode(), *rotten(good)])
    )
    first = desk.type("owners", "import", str(path), "--yes")
    again = desk.type("owners", "import", str(path), "--yes")
    desk.write("sales.csv", "\n".join([HEADINGS, "0,,Jürgen Ölt,j@mail.example,,DE", *good]))
    mended = desk.type("owners", "import", str(path), "--yes")

    assert first.status == 1
    assert "951 new, 0 changed, 0 as before, 50 refused.\n" in first.out
    assert (
        "Mend the refused rows in the list and import it again; what went in stays as it is.\n" in first.out
    )
    assert "0 new, 0 changed, 951 as before, 50 refused.\n" in again.out
    assert mended.status == 0
    assert "50 new, 0 changed, 951 as before, 0 refused.\n" in mended.out


def test_thousands_alike_are_one_line_and_a_file_of_all_of_them(desk: Desk) -> None:
    bad = [row.replace("@", "(at)").replace(",,GB", ",123,GB") for row in rows(4000)]
    said = desk.imported("\n".join([HEADINGS, *bad]))
    asked = desk.type("owners", "import", str(desk.folder / "sales.csv"), "--yes", "--format", "json").json
    with (desk.folder / "out" / "findings" / "sales.csv").open(encoding="utf-8-sig", newline="") as file:
        kept = list(csv.DictReader(file))

    assert (
        "sales.csv:2: consider [email-unusable] email: the e-mail address cannot be used: it has no @; the owner stays"
        " listed; so in 4,000 rows, first rows 2, 3, 4\n"
    ) in said.out
    assert "Every row of them: out/findings/sales.csv\n" in said.out
    assert len(said.out.split("\n")) < 30
    assert [one["code"] for one in asked["findings"]] == ["email-unusable", "phone-unusable"]
    assert asked["all_findings"] == "out/findings/sales.csv"
    assert len(kept) == 8000
    assert kept[0] | {"what": ""} == {
        "file": "sales.csv",
        "row": "2",
        "column": "email",
        "severity": "consider",
        "what": "",
        "code": "email-unusable",
        "mend": "ask for the address, or go by letter or telephone",
    }
    everything = said.out + (desk.folder / "out" / "findings" / "sales.csv").read_text("utf-8-sig")
    assert NAME not in everything
    assert MAIL not in everything


def test_a_few_findings_need_no_file(desk: Desk) -> None:
    desk.imported("\n".join([HEADINGS, *(row.replace("@", "(at)") for row in rows(3))]))
    asked = desk.type("owners", "import", str(desk.folder / "sales.csv"), "--yes", "--format", "json").json

    assert [one["line"] for one in asked["findings"]] == [2, 3, 4]
    assert asked["all_findings"] is None
    assert not (desk.folder / "out" / "findings").exists()
