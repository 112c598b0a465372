"""The pages of a shop and a lessor, and the address that they forward."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from notices.cases.case import Stage, Stopped
from notices.cases.events import owner_stream, unit_stream
from notices.cases.records import Holding
from notices.cases.shops import ShopCase
from notices.respond.limits import QUOTAS, TYPED, Limits, Rate
from notices.work import forwarding, importing, shop_standings, stopping
from notices.work.links import link_of
from notices.work.units import SHOP
from tests.owners_pages import BASE, Reader
from tests.owners_world import Owners, owners_world

SHOPS = "name,email,country,language\nHarbour Bikes,desk@harbour.example,GB,en\nRad & Tat,laden@rad.example,DE,de\n"
LEASED = "name,email,country,code\nAldmere Leasing,fleet@leasing.example,GB,QM-2534-B0200\n"


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        take(found, SHOPS, "dealers", "shop")
        yield found


def take(owners: Owners, text: str, name: str, role: str) -> None:
    read = importing.read_list(owners.world, data=text.encode(), file=f"{name}.csv", name=name)
    importing.import_list(owners.world, read, role=role)  # type: ignore[arg-type]  # a test names one that is


def page_of(owners: Owners, name: str = "Harbour Bikes") -> str:
    """Return the signs of a shop's page."""
    (found,) = [one.owner for one in shop_standings.standings(owners.world) if one.owner.name == name]
    return shop_standings.pages(owners.world)[found.owner_id].rpartition("/")[2]


def case_of(owners: Owners, name: str = "Harbour Bikes") -> ShopCase:
    return next(one.case for one in shop_standings.standings(owners.world) if one.owner.name == name)


def events_of(owners: Owners) -> int:
    with owners.world.register.look() as tx:
        return sum(len(list(stream)) for stream in tx.events.streams(""))


def test_a_shop_confirms_with_one_form(owners: Owners) -> None:
    reader = Reader(owners).open(page_of(owners))
    assert "Stop selling it now, and tell us where you stand." in reader.text
    assert "Harbour Bikes" in reader.text

    reader.send("shop", stopped="yes", shelf="3", sold="20", names="handed_over", by="Cy Vale")
    case = case_of(owners)

    assert "Thank you. We have written it down." in reader.text
    assert "Please send us the list of names and addresses today" in reader.text
    assert (case.stopped, case.shelf, case.sold, case.names) == (True, 3, 20, "handed_over")
    assert ("Harbour Bikes", 3) in {(one.place, one.holds) for one in stopping.places(owners.world)}
    assert "You have answered already." in Reader(owners).open(page_of(owners)).text


def test_who_confirmed_stands_apart_from_the_event_and_can_be_erased(owners: Owners) -> None:
    link = page_of(owners)
    Reader(owners).open(link).send("shop", stopped="yes", shelf="3", sold="20", names="forward", by="Cy Vale")
    with owners.world.register.look() as tx:
        event = tx.events.stream(owner_stream(owners.owner_id(link)))[-1]
        text = tx.papers.texts([str(event.payload["text"])])[str(event.payload["text"])]

    assert "Cy Vale" not in str(event)
    assert (text.body, text.owner_id) == ("Cy Vale", owners.owner_id(link))


def test_reading_the_page_changes_nothing(owners: Owners) -> None:
    link = page_of(owners)
    before = events_of(owners)
    Reader(owners).open(link).open(f"{link}?lang=de")

    assert events_of(owners) == before


def test_a_reload_counts_once(owners: Owners) -> None:
    reader = Reader(owners).open(page_of(owners))
    page, address = reader.html, reader.address
    answer = {"stopped": "yes", "shelf": "3", "sold": "20", "names": "forward", "by": "Cy Vale"}
    reader.send("shop", **answer)
    before = events_of(owners)
    reader.html, reader.address = page, address
    reader.send("shop", **answer)

    assert events_of(owners) == before


@pytest.mark.parametrize("lacking", ["stopped", "shelf", "sold", "names", "by"])
def test_what_is_missing_is_asked_for_and_what_was_typed_is_kept(lacking: str, owners: Owners) -> None:
    whole = {"stopped": "yes", "shelf": "31", "sold": "20", "names": "forward", "by": "Cy Vale"}
    reader = Reader(owners).open(page_of(owners)).send("shop", **{**whole, lacking: ""})

    assert "Please fill this in." in reader.text
    assert 'value="31"' in reader.html or lacking == "shelf"
    assert case_of(owners).stopped is None


@pytest.mark.parametrize("number", ["some", "-1", "3.5", "99999999999"])
def test_a_number_is_a_whole_number(number: str, owners: Owners) -> None:
    reader = Reader(owners).open(page_of(owners))
    reader.send("shop", stopped="yes", shelf=number, sold="20", names="forward", by="Cy Vale")

    assert "Please type a whole number, 0 if there is none." in reader.text


def test_a_number_may_be_typed_in_any_digits(owners: Owners) -> None:
    reader = Reader(owners).open(page_of(owners))
    reader.send("shop", stopped="yes", shelf="٣", sold="1 200", names="forward", by="Cy Vale")

    assert (case_of(owners).shelf, case_of(owners).sold) == (3, 1200)


def test_a_shop_that_still_sells_is_called(owners: Owners) -> None:
    reader = Reader(owners).open(page_of(owners))
    reader.send("shop", stopped="no", shelf="3", sold="20", names="forward", by="Cy Vale")
    due = next(one.due for one in shop_standings.standings(owners.world) if one.owner.name == "Harbour Bikes")

    assert "We will call you today or on the next working day." in reader.text
    assert due is not None
    assert (due.step, due.why) == ("shop-call", "has not stopped selling")
    assert all(one.holds is None for one in stopping.places(owners.world))


def test_a_shop_reads_in_its_language(owners: Owners) -> None:
    assert "Haben Sie den Verkauf gestoppt?" in Reader(owners).open(page_of(owners, "Rad & Tat")).text


def test_the_ways_of_owners_are_no_ways_of_shops(owners: Owners) -> None:
    link = page_of(owners)
    reader = Reader(owners).open(link)

    assert not [one for one in reader.page.links if one.endswith(("/gone", "/fixed", "/call", "/another"))]
    assert Reader(owners).open(f"{link}/gone").status == 404
    assert Reader(owners).open(link).post({"do": "stop", "nonce": "x"}).status == 200
    assert case_of(owners).stopped is None


def an_address(owners: Owners, which: str = "Harbour Bikes", count: int | None = 3) -> str:
    return forwarding.make_pack(owners.world, which, count=count, by="Mara Quill").addresses[0].address


def answered(owners: Owners, link: str, code: str) -> Reader:
    reader = Reader(owners).open(link).send("check", code=code)
    return reader.send("claim", press="stopped=yes", name="Ada Vale", phone="020 7946 0123", country="GB")


def test_each_address_is_unguessable_and_of_its_own(owners: Owners) -> None:
    pack = forwarding.make_pack(owners.world, "harbour bikes", count=3, by="Mara Quill")

    assert len({one.address for one in pack.addresses}) == 3
    assert all(len(one.address.rpartition("/")[2]) == 10 for one in pack.addresses)
    assert pack.addresses[0].text == (
        "Stop riding your Drayling 2 now. "
        + pack.addresses[0]
        .text.removeprefix("Stop riding your Drayling 2 now. ")
        .removesuffix(pack.addresses[0].address)
        + pack.addresses[0].address
    )
    assert owners.all_units() == {}  # nothing is known of anybody yet


def test_who_answers_by_a_forwarded_address_is_known_from_then_on(owners: Owners) -> None:
    link = an_address(owners).rpartition("/")[2]
    opened = Reader(owners).open(link)
    assert "Stop riding your Drayling 2 now." in opened.text
    assert "Type the whole code." in opened.text
    assert "I no longer have it" not in opened.text

    answered(owners, link, "QM-2534-B0555")
    ((unit_id, unit),) = owners.all_units().items()
    case = owners.case(unit_id)
    shop = next(one for one in shop_standings.standings(owners.world) if one.owner.name == "Harbour Bikes")

    assert (unit.code, case.stopped, case.verdict) == ("QM-2534-B0555", Stopped.STOPPED, "affected")
    assert case.keeper_id == owners.owner_id(link)
    assert (shop.answered, shop.listed, shop.case.packed) == (1, 0, 3)
    assert "QM-2534-B····" in Reader(owners).open(link).send(press="do=stop").text


def test_the_same_answer_once_more_counts_once(owners: Owners) -> None:
    link = an_address(owners).rpartition("/")[2]
    reader = Reader(owners).open(link).send("check", code="QM-2534-B0555")
    page, address = reader.html, reader.address
    who = {"name": "Ada Vale", "phone": "020 7946 0123", "country": "GB"}
    reader.send("claim", press="stopped=yes", **who)
    reader.html, reader.address = page, address
    reader.send("claim", press="stopped=yes", **who)

    assert len(owners.all_units()) == 1


def test_the_code_of_somebody_else_is_a_hint_and_no_more(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner(), "QM-2534-B0172")
    keeper = owners.case(unit_id).keeper_id
    answered(owners, an_address(owners).rpartition("/")[2], "QM-2534-B0172")

    assert owners.case(unit_id).keeper_id == keeper
    assert owners.kinds(unit_id) == ["answer_set_aside"]


def test_help_asked_by_a_forwarded_address_reaches_a_person(owners: Owners) -> None:
    link = an_address(owners).rpartition("/")[2]
    Reader(owners).open(f"{link}/call").send(name="Ada Vale", phone="020 7946 0123")
    (unit_id,) = owners.all_units()

    assert owners.due(unit_id) == "call-back"


def test_codes_tried_by_a_forwarded_address_are_limited(owners: Owners) -> None:
    link = an_address(owners).rpartition("/")[2]
    few = replace(QUOTAS[TYPED], each=Rate(burst=3, every=60))
    limits = Limits(key=b"k" * 32, now=owners.clock, quotas={**QUOTAS, TYPED: few})
    statuses = [
        Reader(owners, limits=limits).open(link).send("check", code=f"QM-2534-B000{n}").status
        for n in range(4)
    ]

    assert statuses == [200, 200, 200, 429]


@pytest.fixture
def leased(owners: Owners) -> Owners:
    take(owners, LEASED, "fleet", "lessor")
    return owners


def lessor_link(owners: Owners) -> str:
    with owners.world.register.change() as tx:
        (mine,) = tx.people.find("email", "fleet@leasing.example")
        return link_of(tx, mine.owner_id)


def test_a_lessor_answers_for_no_unit_and_says_how_many_it_forwarded(leased: Owners) -> None:
    (unit_id,) = leased.all_units()
    link = lessor_link(leased)
    reader = Reader(leased).open(link)
    assert "By our records you let one unit to others." in reader.text
    assert "do=stop" not in reader.html

    reader.send("forwarded", units="1", by="Kim Lane")
    with leased.world.register.look() as tx:
        event = tx.events.stream(owner_stream(leased.owner_id(link)))[-1]

    assert (event.kind, event.payload["units"]) == ("forwarded", 1)
    assert (leased.case(unit_id).stage, leased.case(unit_id).stopped) == (Stage.LISTED, Stopped.NO_WORD)
    assert leased.kinds(unit_id) == ["holder_added"]


@pytest.mark.parametrize(("units", "said"), [("", "Please fill this in."), ("many", "a whole number")])
def test_a_lessors_count_is_a_number(units: str, said: str, leased: Owners) -> None:
    assert said in Reader(leased).open(lessor_link(leased)).send("forwarded", units=units, by="Kim").text


def test_a_lessors_pack_has_an_address_for_each_unit_with_its_code(leased: Owners) -> None:
    pack = forwarding.make_pack(leased.world, "fleet@leasing.example", count=None, by="Mara Quill")

    (unit_id,) = leased.all_units()

    assert [(one.code, one.reference) for one in pack.addresses] == [("QM-2534-B0200", unit_id)]


def test_the_rider_of_a_leased_unit_becomes_its_keeper_by_its_code(leased: Owners) -> None:
    (unit_id,) = leased.all_units()
    link = an_address(leased, "fleet@leasing.example", None).rpartition("/")[2]
    reader = Reader(leased).open(link).send("check", code="QM-2534-B0200")
    page, address = reader.html, reader.address
    who = {"name": "Ada Vale", "phone": "020 7946 0123", "country": "GB"}
    reader.send("claim", press="stopped=yes", **who)
    once = leased.kinds(unit_id)
    reader.html, reader.address = page, address
    reader.send("claim", press="stopped=yes", **who)

    assert leased.case(unit_id).keeper_id == leased.owner_id(link)
    assert leased.case(unit_id).stopped is Stopped.STOPPED
    assert list(leased.all_units()) == [unit_id]
    assert leased.kinds(unit_id) == once
    with leased.world.register.look() as tx:
        roles = sorted(one.role for one in tx.units.holdings(unit_ids=[unit_id]))
    assert roles == ["keeper", "lessor"]


def test_a_shops_units_are_not_shown_by_its_link(owners: Owners) -> None:
    link = page_of(owners)
    unit_id = owners.unit(owners.owner(), "QM-2534-B0172")
    with owners.world.register.change() as tx:
        seq = len(tx.events.stream(unit_stream(unit_id)))
        tx.units.put_holdings(
            [Holding(unit_id=unit_id, owner_id=owners.owner_id(link), role=SHOP, from_seq=seq)]
        )

    assert "QM-2534" not in Reader(owners).open(link).html
    assert BASE in Reader(owners).open(link).address
