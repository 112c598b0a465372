"""Shops, typed: where each stands, what it says on the telephone, and the addresses that it forwards."""

import csv
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.commands import Desk

SHOPS = """name,email,phone,country
Harbour Bikes,desk@harbour.example,+441632960101,GB
Rad & Tat,laden@rad.example,,DE
"""
LEASED = "name,email,country,code\nAldmere Leasing,fleet@leasing.example,GB,QM-2534-B0200\n"
TODAY = datetime.now(UTC).date().isoformat()


@pytest.fixture
def shops(desk: Desk) -> Desk:
    """Return a desk with two shops, a leased unit and everything signed."""
    desk.type("owners", "import", str(desk.write("dealers.csv", SHOPS)), "--role", "shop", "--yes")
    desk.type("owners", "import", str(desk.write("fleet.csv", LEASED)), "--role", "lessor", "--yes")
    desk.imported()
    desk.signed()
    return desk


def confirm(desk: Desk, *words: str) -> None:
    said = desk.type(
        "owners", "shops", "harbour bikes", *words, "--shelf", "3", "--sold", "20", "--by", "Cy Vale"
    )
    assert said.status == 0, said.err


def addresses(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8-sig", newline="") as opened:
        return list(csv.DictReader(opened))


def test_a_silent_shop_is_due_for_a_call_from_day_one(shops: Desk) -> None:
    said = shops.type("owners", "shops")
    due = shops.type("due")

    assert said.out == (
        f"Harbour Bikes: no word; 0 on the lists; due {TODAY}: shop-call by phone\n"
        f"Rad & Tat: no word; 0 on the lists; due {TODAY}: shop-call by phone\n"
        f"Aldmere Leasing: lets 1, 1 without an answer; due {TODAY}: forward-pack by email\n"
        "2 shops, 2 without a word.\n"
    )
    assert due.out.startswith(
        f"{TODAY}  lessor    forward-pack by email: the riders of 1 of its units are not known, and it has no addresses"
        " for them yet (Aldmere Leasing; fleet@leasing.example)\n"
        f"{TODAY}  shop      shop-call by phone: no word that it has stopped selling (Harbour Bikes; +441632960101)\n"
        f"{TODAY}  shop      shop-call by phone: no word that it has stopped selling (Rad & Tat; no usable way)\n"
    )
    assert [one["shop"] for one in shops.type("due", "--format", "json").json["shops"]] == [
        "Aldmere Leasing",
        "Harbour Bikes",
        "Rad & Tat",
    ]


def test_what_a_shop_says_on_the_telephone_is_written_down(shops: Desk) -> None:
    confirm(shops, "--stopped", "--names", "handed-over")
    found = shops.type("owners", "shops", "--format", "json").json

    assert found["silent"] == 1
    assert found["shops"][0] == {
        "shop": "Harbour Bikes",
        "lets": None,
        "stopped": True,
        "shelf": 3,
        "sold": 20,
        "names": "handed_over",
        "listed": 0,
        "addresses": 0,
        "forwarded": None,
        "answered": 0,
        "due": None,
        "to": [],
    }
    assert "Harbour Bikes: holds 3, says Cy Vale" in shops.type("stop-sale").out


def test_a_word_taken_with_all_places_counts_for_the_shop(shops: Desk) -> None:
    shops.type("stop-sale", "rad & tat", "--holds", "2", "--by", "Lene Ohm")
    found = shops.type("owners", "shops", "--format", "json").json["shops"][1]

    assert (found["stopped"], found["shelf"], found["due"]["step"]) == (True, 2, "shop-names")


def test_where_shops_stand_can_be_handed_on(shops: Desk) -> None:
    confirm(shops, "--still-selling", "--names", "forward")
    shops.type("owners", "export", "shops", "--to", "shops.csv")
    rows = addresses(shops.folder / "shops.csv")

    assert [(row["name"], row["role"], row["stopped"], row["due"]) for row in rows] == [
        ("Harbour Bikes", "shop", "no", "shop-call"),
        ("Rad & Tat", "shop", "no word", "shop-call"),
        ("Aldmere Leasing", "lessor", "", "forward-pack"),
    ]
    assert (rows[0]["on the shelf"], rows[0]["says it sold"], rows[0]["names"]) == ("3", "20", "forward")


def test_a_call_takes_the_next_step(shops: Desk) -> None:
    first = shops.type("owners", "shops", "Rad & Tat", "--called", "no-answer", "--by", "Mo")
    for _ in range(3):
        shops.type("owners", "shops", "Rad & Tat", "--called", "no-answer", "--by", "Mo")
    last = shops.type("owners", "shops", "Rad & Tat", "--called", "no-answer", "--by", "Mo")

    assert first.out.startswith("Written down: shop-call, no-answer.\n")
    assert (last.status, last.err) == (
        1,
        "notices: every step to Rad & Tat was taken: somebody must go there and see\n",
    )


def test_each_shop_and_lessor_has_a_page_of_its_own(shops: Desk) -> None:
    shown = shops.type("owners", "shops", "--pages").out
    again = shops.type("owners", "shops", "--pages", "--format", "json").json["shops"]
    found = re.findall(r"^    (https://aldmere\.example/\S+/[0-9A-Z]{10})$", shown, re.MULTILINE)

    assert len(set(found)) == 3
    assert [one["page"] for one in again] == found


def test_a_shop_forwards_addresses_and_says_how_many(shops: Desk) -> None:
    confirm(shops, "--stopped", "--names", "forward")
    asked = shops.type("due").out
    made = shops.type(
        "owners", "shops", "--forward-pack", "Harbour Bikes", "--count", "4", "--to", "pack.csv"
    )
    rows = addresses(shops.folder / "pack.csv")
    counted = shops.type("record", "Harbour Bikes", "forwarded", "3", "--by", "Mo")
    said = shops.type("owners", "shops").out

    assert "forward-pack by email: forwards to its customers, and has no addresses for it yet" in asked
    assert made.out == (
        "4 addresses for Harbour Bikes in pack.csv: send it to nobody else.\n"
        'When they are forwarded: notices record "Harbour Bikes" forwarded N --by NAME\n'
    )
    assert [row["number"] for row in rows] == ["1", "2", "3", "4"]
    assert len({row["address"] for row in rows}) == 4
    assert all(row["text"].endswith(row["address"]) for row in rows)
    assert counted.out == "Written down for Harbour Bikes: 3 forwarded.\n"
    assert "forwards by itself; 4 addresses made, 3 forwarded, 0 answered" in said


def test_a_lessor_gets_an_address_for_each_unit_it_lets(shops: Desk) -> None:
    made = shops.type(
        "owners",
        "shops",
        "--forward-pack",
        "fleet@leasing.example",
        "--to",
        "pack.xlsx",
        "--format",
        "json",
    )
    shops.type("record", "fleet@leasing.example", "forwarded", "1", "--by", "Mo", "--via", "mail")
    status = shops.type("status", "--format", "json").json

    assert made.json == {"to": "Aldmere Leasing", "file": "pack.xlsx", "addresses": 1}
    assert sum(row["notified"] for row in status["grid"].values()) == 0
    assert status["units"]["in_hands"] == 3


@pytest.mark.parametrize(
    ("words", "status", "sentence"),
    [
        (("Nobody", "--called", "spoke", "--by", "Mo"), 1, "no shop is called Nobody"),
        (("fleet@leasing.example", "--called", "spoke", "--by", "Mo"), 1, "fleet@leasing.example is no shop"),
        (("Harbour Bikes", "--called", "perhaps", "--by", "Mo"), 2, "the outcome of a call is one of"),
        (("Harbour Bikes", "--called", "spoke"), 2, "say which shop, and who"),
        (("Harbour Bikes", "--stopped", "--by", "Mo"), 2, "say --stopped or --still-selling, --shelf N"),
        (("--forward-pack", "Harbour Bikes", "--count", "3"), 2, "say which file the addresses go into"),
        (("--forward-pack", "Harbour Bikes", "--to", "p.csv"), 1, "say how many addresses, from 1 to 10000"),
        (("--forward-pack", "Nobody", "--count", "3", "--to", "p.csv"), 1, "no shop is called Nobody"),
    ],
)
def test_what_cannot_be_done_is_said(words: tuple[str, ...], status: int, sentence: str, shops: Desk) -> None:
    said = shops.type("owners", "shops", *words)

    assert said.status == status
    assert said.err.startswith(f"notices: {sentence}")


def test_a_count_is_a_number(shops: Desk) -> None:
    said = shops.type("record", "Harbour Bikes", "forwarded", "some", "--by", "Mo")

    assert (said.status, said.err) == (1, "notices: forwarded needs how many, as a number\n")


def test_addresses_need_a_page_to_answer_on(desk: Desk) -> None:
    desk.type("owners", "import", str(desk.write("dealers.csv", SHOPS)), "--role", "shop", "--yes")
    said = desk.type("owners", "shops", "--forward-pack", "Harbour Bikes", "--count", "1", "--to", "pack.csv")

    assert said.status == 1
    assert said.err == "notices: an address to forward needs a signed revision with issuer.answers in it\n"
    assert desk.type("owners", "shops", "--pages", "--format", "json").json["shops"][0]["page"] is None


def test_a_pack_does_not_go_over_another_file_unasked(shops: Desk) -> None:
    said = shops.type(
        "owners",
        "shops",
        "--forward-pack",
        "Harbour Bikes",
        "--count",
        "1",
        "--to",
        "dealers.csv",
        answer="n\n",
    )

    assert (said.status, (shops.folder / "dealers.csv").read_text("utf-8")) == (1, SHOPS)


def test_a_day_before_the_shops_were_listed_knows_none(shops: Desk) -> None:
    assert shops.type("owners", "shops", "--on", "2020-01-01").out == "0 shops, 0 without a word.\n"


def test_a_role_is_one_that_is_known(desk: Desk) -> None:
    said = desk.type("owners", "import", str(desk.write("x.csv", SHOPS)), "--role", "cousin", "--yes")

    assert (said.status, said.err) == (
        2,
        "notices: a role is one of: keeper, buyer, rider, lessor, guardian, helper, shop\n",
    )
