"""How many units nobody knows, typed."""

import pytest

from tests.commands import LIST, Desk

SOLD = """\
  sold:
    units: 9
    from: 2025-08
    to: 2025-09
    by: Aldmere Trading and partner shops
    by_shop:
      Harbour Bikes: {2025-08: 2, 2025-09: 4}
      Web shop: {2025-09: 3}
"""
SHOPS = """\
order,code,name,email,country,sold on,shop
1,QM-2534-B0172,Anna Reed,anna@mail.example,GB,2025-09-01,Harbour Bikes
2,QM-2520-A0173,Jürgen Ölt,juergen@mail.example,DE,2025-09-02,harbour bikes
3,,Zoe Quirk,zoe@mail.example,GB,,
"""


@pytest.fixture
def counted(desk: Desk) -> Desk:
    """Return a desk whose draft says what each shop sold."""
    draft = desk.folder / "campaign.yaml"
    line = "  sold: {units: 480, from: 2025-05, to: 2025-12, by: Aldmere Trading and partner shops}\n"
    text = draft.read_text("utf-8")
    assert line in text
    draft.write_text(text.replace(line, SOLD), "utf-8")
    return desk


def test_the_sum_and_every_shop_and_month_stand_there(counted: Desk) -> None:
    counted.imported(SHOPS)
    said = counted.type("owners", "gaps")

    assert said.status == 0
    assert said.out.startswith(
        "9 sold - 3 on the lists = 6 that nobody knows.\n"
        "\n"
        "sold by        month           sold  listed  unknown\n"
        "Harbour Bikes  2025-08            2       0        2\n"
        "Harbour Bikes  2025-09            4       2        2\n"
        "Harbour Bikes  all                6       2        4\n"
        "Web shop       2025-09            3       0        3\n"
        "sales          no day of sale     -       1        -\n"
        "\n"
        "Where such units usually turn up (common practice, no source):\n"
        "  mail lists: the unsubscribed,"
    )


def test_json_holds_the_same_and_the_places_to_look(counted: Desk) -> None:
    counted.imported(SHOPS)
    found = counted.type("owners", "gaps", "--format", "json").json

    assert (found["sold"], found["listed"], found["unknown"]) == (9, 3, 6)
    assert found["shops"][0] == {
        "shop": "Harbour Bikes",
        "sold": 6,
        "listed": 2,
        "unknown": 4,
        "by_word": False,
    }
    assert found["months"][1]["month"] == "2025-09"
    assert {place["source"] for place in found["look_in"]} == {"common practice, no source"}
    assert found["findings"] == []


def test_a_list_without_a_column_for_it_is_the_shop(counted: Desk) -> None:
    counted.type("owners", "import", str(counted.write("x.csv", LIST)), "--as", "Web shop", "--yes")
    found = counted.type("owners", "gaps", "--format", "json").json

    assert found["shops"][1] == {"shop": "Web shop", "sold": 3, "listed": 3, "unknown": 0, "by_word": False}


def test_more_listed_than_sold_is_said(counted: Desk) -> None:
    rows = "".join(f"{n},,Anna {n},a{n}@mail.example,GB,2025-09-01,Web shop\n" for n in range(1, 12))
    counted.imported(SHOPS.split("\n", 1)[0] + "\n" + rows)
    said = counted.type("owners", "gaps")
    (finding,) = counted.type("owners", "gaps", "--format", "json").json["findings"]

    assert said.out.startswith("11 units stand on the lists, 2 more than the 9 sold.\n")
    assert (finding["code"], finding["line"], finding["path"]) == (
        "shop-lists-more",
        None,
        "product.sold.by_shop.Web shop",
    )


def test_shops_that_do_not_add_up_are_said(counted: Desk) -> None:
    draft = counted.folder / "campaign.yaml"
    draft.write_text(draft.read_text("utf-8").replace("units: 9", "units: 12"), "utf-8")
    (finding,) = counted.type("owners", "gaps", "--format", "json").json["findings"]

    assert (finding["code"], finding["line"]) == ("sold-by-shop-differs", None)
    assert finding["message"] == "the shops' numbers add up to 9, and 12 were sold in all"


def test_a_number_that_nobody_has_said_is_asked_for(desk: Desk) -> None:
    draft = desk.folder / "campaign.yaml"
    draft.write_text(draft.read_text("utf-8").replace("units: 480, ", ""), "utf-8")
    desk.imported()
    said = desk.type("owners", "gaps")
    (finding,) = desk.type("owners", "gaps", "--format", "json").json["findings"]

    assert said.out.startswith("3 units stand on the lists; how many were sold is not known.\n")
    assert (finding["code"], finding["line"]) == ("sold-not-stated", None)


def test_a_wrong_month_is_named_with_its_line(counted: Desk) -> None:
    draft = counted.folder / "campaign.yaml"
    text = draft.read_text("utf-8").replace("2025-08: 2,", "August: 2,")
    draft.write_text(text, "utf-8")
    line = next(number for number, each in enumerate(text.split("\n"), 1) if "August" in each)
    said = counted.type("check")

    assert f"campaign.yaml:{line}: must mend [" in said.out
    assert "write year and month, as 2025-05" in said.out


def test_gaps_can_be_handed_on(counted: Desk) -> None:
    counted.imported(SHOPS)
    counted.type("owners", "export", "gaps", "--to", "gaps.csv")

    assert (counted.folder / "gaps.csv").read_text("utf-8-sig").split("\n")[1:3] == [
        '"Harbour Bikes","2025-08",2,0,2',
        '"Harbour Bikes","2025-09",4,2,2',
    ]


def test_what_a_shop_says_it_sold_is_held_against_the_lists(counted: Desk) -> None:
    counted.imported(SHOPS.replace("Harbour Bikes", "Quay Cycles").replace("harbour bikes", "quay cycles"))
    words = ("--stopped", "--shelf", "1", "--sold", "7", "--names", "forward", "--by", "Cy Vale")
    counted.type("owners", "shops", "Quay Cycles", *words)
    said = counted.type("owners", "gaps").out

    assert "Quay Cycles    2025-09            -       2        -\n" in said
    assert "Quay Cycles    all, it says       7       2        5\n" in said
