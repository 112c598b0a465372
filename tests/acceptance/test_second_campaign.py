"""A kettle whose handle comes off: from the questions to the list of affected owners, with all that is not certain.

Everything is invented. A till writes a workbook, a web shop a file in Windows-1252, a hire firm a list of its own,
and one shop says nothing. The codes begin with a letter and end in fixed text; one letter and a range of numbers
decide (common practice, no source).
"""

import csv
from datetime import date
from pathlib import Path

import pytest

from tests.commands import Desk, desk
from tests.workbooks import Value, sheet_xml, xlsx

__all__ = ["desk"]

ANSWERS = """\
product = "Brimble 1.7 kettle"
issuer = "Orrin & Vale"
town = "Kiln Road 4, Hexby"
country = "GB"
role = "importer"
learned = "2026-03-02"
fails = "The handle can come off the kettle"
happens = "Boiling water runs over you and people near you"
worst = "badly"
happened = "A handle came off in a shop's kitchen."
now = "Unplug the kettle and let it cool. Do not lift it again."
units = "code"
codes = ["K0412-BV", "L0771-BV", "K1290-BV", "M0466-BV"]
layout = "yes"
affected = ["line K, number 400-499", "line M"]
code-where = "Printed under the base"
sold = 14
sold-from = "2024-09"
sold-to = "2025-03"
countries = ["GB", "AT", "CH"]
shops = "Copper Lane Stores"
lists = ["till.xlsx", "webshop.csv", "hire.csv"]
unsubscribed = "?"
email = "safety@orrin.example"
phones = ["GB +442079460991", "AT", "CH"]
sunday = "?"
signer = "Ada Orrin"
deputy = "Bo Lund"
shelf = "no"
web-shop = "yes"
hire = "?"
"""
TILL: list[list[Value]] = [
    ["Receipt", "Serial", "Customer", "E-mail", "Country", "Date"],
    ["T-9001", "K0412-BV", "Anna Reed", "anna@mail.example", "GB", date(2024, 9, 14)],
    ["T-9002", "k 0413 bv", "Joe Reed", "joe@mail.example", "GB", date(2024, 9, 15)],
    ["T-9003", "K0700-BV", "Ola Price", "ola@mail.example", "GB", date(2024, 9, 16)],
    ["T-9004", None, "Mo Price", "mo@mail.example", "GB", date(2024, 9, 17)],
    ["T-9005", "K04I9-BV", "Lin Gray", None, "GB", date(2024, 9, 18)],
    ["T-9006", "KX-77", "Al Gray", "al@mail.example", "GB", date(2024, 9, 19)],
]
WEB_SHOP = """\
Bestellnummer;Seriennummer;Name;E-Mail;Land;Kaufdatum
7;M0466-BV;Jürgen Höß;juergen@mail.example;AT;03.02.2025
8;L0771-BV;Zoë Müller;zoe@mail.example;CH;04.02.2025
9;M0467-BV;Für Élise;elise(at)mail.example;AT;05.02.2025
"""
HIRE = """\
order,code,name,email,country,sold on
h1,K0440-BV,Tea Tent Hire,fleet@tent.example,GB,2025-03-01
h2,L0441-BV,Tea Tent Hire,fleet@tent.example,GB,2025-03-01
"""
VERDICTS = {
    # code as given: verdict, name, list and row
    "K0412-BV": ("affected", "Anna Reed", "till:2"),
    "k 0413 bv": ("affected", "Joe Reed", "till:3"),
    "K0700-BV": ("cleared", "Ola Price", "till:4"),
    "": ("missing", "Mo Price", "till:5"),
    "K04I9-BV": ("unreadable", "Lin Gray", "till:6"),
    "KX-77": ("unreadable", "Al Gray", "till:7"),
    "M0466-BV": ("affected", "Jürgen Höß", "webshop:2"),
    "L0771-BV": ("cleared", "Zoë Müller", "webshop:3"),
    "M0467-BV": ("affected", "Für Élise", "webshop:4"),
    "K0440-BV": ("affected", "", "hire:2"),
    "L0441-BV": ("cleared", "", "hire:3"),
}


@pytest.fixture
def kettle(desk: Desk, tmp_path: Path) -> Desk:
    """Begin the campaign, take its three lists in and sign the stop warning."""
    desk.patch.chdir(tmp_path)
    (tmp_path / "answers.toml").write_text(ANSWERS, "utf-8")
    (tmp_path / "till.xlsx").write_bytes(xlsx({"Sales": sheet_xml(TILL)}))
    (tmp_path / "webshop.csv").write_bytes(WEB_SHOP.encode("cp1252"))
    (tmp_path / "hire.csv").write_text(HIRE, "utf-8")
    steps = [
        ("new", "kettle", "--answers", "answers.toml"),
        ("owners", "import", "till.xlsx", "--yes", "--campaign", "kettle"),
        ("owners", "import", "webshop.csv", "--yes", "--campaign", "kettle"),
        ("owners", "import", "hire.csv", "--role", "lessor", "--yes", "--campaign", "kettle"),
        ("proofs", "--campaign", "kettle"),
        ("sign", "--by", "Ada Orrin", "--all", "--unread-too", "--yes", "--campaign", "kettle"),
    ]
    for step in steps:
        said = desk.type(*step)
        assert said.status == 0, (step, said)
    return desk


def test_every_unit_has_its_verdict_and_its_row(kettle: Desk, tmp_path: Path) -> None:
    kettle.type("owners", "export", "units", "--to", "units.csv", "--campaign", "kettle", "--yes")
    rows = list(csv.DictReader((tmp_path / "units.csv").read_text("utf-8-sig").splitlines()))

    assert {row["code"]: (row["verdict"], row["name"], row["list"]) for row in rows} == VERDICTS


def test_who_is_warned_and_by_what_is_listed(kettle: Desk) -> None:
    found = kettle.type("proofs", "--campaign", "kettle", "--format", "json").json
    owners = {one["name"]: one["owners"] for one in found["variants"]}

    assert owners == {
        "stop-affected-unknown-GB-en": 3,
        "stop-affected-unknown-EU-en": 1,
        "stop-missing-unknown-GB-en": 1,
        "stop-unreadable-unknown-GB-en": 1,
    }
    assert found["no_address"] == 2


def test_every_uncertainty_is_named(kettle: Desk) -> None:
    checked = kettle.type("check", "--campaign", "kettle", "--format", "json").json
    due = kettle.type("due", "--campaign", "kettle").out
    gaps = kettle.type("owners", "gaps", "--campaign", "kettle")
    status = kettle.type("status", "--campaign", "kettle", "--format", "json").json

    assert [one["path"] for one in checked["findings"] if one["code"] == "fact-open"] == [
        "contacts", "sale_stop", "owners", "sale_stop",
    ]  # fmt: skip
    assert "Lin Gray" in due
    assert "Für Élise" in due
    assert "14 sold - 11 on the lists = 3 that nobody knows." in gaps.out
    # Three that no list names, and the hired kettle that is affected: nobody knows who has it now.
    assert status["units"] == {
        "sold": 14,
        "in_hands": 7,
        "cleared": 3,
        "put_away": 0,
        "owner_unknown": 4,
    }


def test_a_silent_shop_stands_among_the_places_without_a_word(kettle: Desk) -> None:
    said = kettle.type("stop-sale", "--campaign", "kettle").out

    assert "Copper Lane Stores: no word yet" in said
    assert "0 of 4 places have stopped." in said


def test_a_rule_that_none_of_the_copied_codes_meets_clears_nobody(desk: Desk, tmp_path: Path) -> None:
    desk.patch.chdir(tmp_path)
    desk.write(
        str(tmp_path / "other.toml"),
        ANSWERS.replace("line K, number 400-499", "line K, number 40-49").replace(', "line M"]', "]"),
    )
    desk.type("new", "other", "--answers", "other.toml")
    checked = desk.type("check", "--campaign", "other", "--format", "json").json["findings"]

    assert "not yet known: which codes are affected" in [one["message"] for one in checked]
