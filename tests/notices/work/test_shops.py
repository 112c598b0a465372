"""Shops stand on lists of their own, and on sales lists as those who sold."""

from pathlib import Path

from notices.cases.records import Holding, OwnerRow
from notices.work.shops import shops
from notices.work.units import SHOP
from tests.folders import Desk, a_desk

SHOPS = """name,email,phone,country,language
Harbour Bikes,desk@harbour.example,+442079460101,GB,en
Rad & Tat,laden@radundtat.example,,DE,de
"""
SOLD = """order,code,name,email,country,sold on,shop
1,QM-2534-B0172,Anna Reed,anna@mail.example,GB,2025-09-01,HARBOUR BIKES
2,QM-2520-A0173,Jürgen Ölt,juergen@mail.example,DE,2025-09-02,Quay Cycles
3,QM-2520-A0174,Zoe Quirk,zoe@mail.example,GB,2025-09-03,
"""


def known(desk: Desk) -> dict[str, OwnerRow]:
    with desk.world.register.look() as tx:
        return {owner.name: owner for owner in shops(tx, desk.world).by_name.values()}


def sellers(desk: Desk) -> list[Holding]:
    with desk.world.register.look() as tx:
        return [one for one in tx.units.holdings() if one.role == SHOP]


def test_a_list_of_shops_makes_shops_and_no_units(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        done = desk.take(SHOPS, "dealers", role="shop")
        found = known(desk)
        with desk.world.register.look() as tx:
            units = tx.units.units()
            ways = {row.value for row in tx.people.contacts()[found["Harbour Bikes"].owner_id]}
            came = [row.owner_id for row in tx.lists.rows("dealers")]

    assert (done.new, done.refused, units) == (2, 0, {})
    assert [(one.kind, one.language, one.country) for one in found.values()] == [
        ("shop", "en", "GB"),
        ("shop", "de", "DE"),
    ]
    assert ways == {"desk@harbour.example", "+442079460101"}
    assert came == [found["Harbour Bikes"].owner_id, found["Rad & Tat"].owner_id]


def test_the_same_shops_twice_change_nothing_but_what_is_new(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(SHOPS, "dealers", role="shop")
        before = known(desk)
        done = desk.take(SHOPS.replace(",GB,en", ",IE,en"), "dealers", role="shop")
        after = known(desk)

    assert (done.new, done.same) == (0, 2)
    assert after.keys() == before.keys()
    assert (before["Harbour Bikes"].country, after["Harbour Bikes"].country) == ("GB", "IE")


def test_a_sales_list_says_who_sold_each_unit(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(SHOPS, "dealers", role="shop")
        desk.take(SOLD)
        again = desk.take(SOLD)
        found, sold = known(desk), sellers(desk)

    assert again.same == 3
    assert sorted(found) == ["Harbour Bikes", "Quay Cycles", "Rad & Tat"]
    assert sorted(one.owner_id for one in sold) == sorted(
        found[name].owner_id for name in ("Harbour Bikes", "Quay Cycles")
    )


def test_a_shop_is_sent_nothing_that_owners_are_sent(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(SHOPS, "dealers", role="shop")
        desk.take(SOLD)
        desk.sign()
        desk.post()
        found = desk.states()

    assert sorted(found) == ["anna@mail.example", "juergen@mail.example", "zoe@mail.example"]


def test_a_shop_that_bought_a_unit_itself_is_its_owner_too(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(SHOPS, "dealers", role="shop")
        desk.take(SOLD + "4,QM-2534-B0999,Harbour Bikes,desk@harbour.example,GB,2025-09-04,Harbour Bikes\n")
        found = known(desk)
        keeper = desk.case("QM-2534-B0999").keeper_id

    assert found["Harbour Bikes"].kind == "shop"
    assert keeper not in {None, found["Harbour Bikes"].owner_id}


def test_a_shop_without_a_name_is_named_by_its_row(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        done = desk.take(SHOPS + ",x@shop.example,,GB,en\n", "dealers", role="shop")

    assert (done.new, done.refused) == (2, 1)
    assert [(one.code, one.line) for one in done.findings] == [("shop-without-name", 4)]
