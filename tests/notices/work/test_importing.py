"""A list on its way into the register: the same twice changes nothing, a newer one updates, none takes away."""

from pathlib import Path

import pytest

from audiences.findings import Severity
from audiences.list_faults import LARGEST_LIST
from notices.work import importing
from notices.work.lists import Imported
from notices.work.taking import REPLACED
from tests.folders import LIST, a_desk
from tests.workbooks import Value, sheet_xml, xlsx


def test_rows_become_units_of_their_owners_and_a_repeated_sale_counts_once(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        again = LIST + "4,Bernd Müller,bernd@post.example,030 23125010,,,DE,de,QM-2541-B0999,2025-10-10,DE\n"
        imported = desk.take(again)
        with desk.world.register.look() as tx:
            owners, units = tx.people.owners(), tx.units.units()

    assert (imported.new, imported.same, imported.refused) == (5, 1, 0)
    assert [(one.code, one.line) for one in imported.findings] == [("row-repeats-unit", 7)]
    assert (len(owners), len(units)) == (4, 5)


def test_the_same_list_twice_changes_nothing(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        with desk.world.register.look() as tx:
            before = ([list(one) for one in tx.events.streams("")], tx.people.owners(), tx.people.contacts())
        imported = desk.take()
        with desk.world.register.look() as tx:
            after = ([list(one) for one in tx.events.streams("")], tx.people.owners(), tx.people.contacts())

    assert (imported.new, imported.changed, imported.same) == (0, 0, 5)
    assert after == before


def test_a_newer_list_updates_and_a_missing_row_takes_nothing_away(tmp_path: Path) -> None:
    newer = LIST.replace("anna@mail.example", "anna@new.example").replace(
        "3,سمير,samir@post.example,,,,DE,ar,,2025-10-10,DE\n", ""
    )
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        imported = desk.take(newer)
        with desk.world.register.look() as tx:
            units = tx.units.units()
            contacts = [
                row for rows in tx.people.contacts().values() for row in rows if row.channel == "email"
            ]
    mails = {row.value: row.fault for row in contacts}

    assert (imported.new, imported.changed, imported.missing) == (0, 1, 1)
    assert [(one.code, one.line, one.severity) for one in imported.findings] == [
        ("list-lacks-rows", 1, Severity.CONSIDER)
    ]
    assert len(units) == 5
    assert (mails["anna@mail.example"], mails["anna@new.example"]) == (REPLACED, None)


def test_before_the_first_signature_nothing_is_judged_and_afterwards_at_once(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take()
        before = desk.case("QM-2534-B0172").verdict
        desk.sign()
        desk.take(
            LIST.splitlines()[0] + "\n9,Ola Nord,ola@mail.example,,,,GB,en,QM-2530-A0001,2025-09-01,GB\n",
            "second",
        )

        assert (before, desk.case("QM-2534-B0172").verdict) == (None, "affected")
        assert desk.case("QM-2530-A0001").verdict == "cleared"


def test_two_owners_with_one_code_are_both_kept_and_pointed_out(tmp_path: Path) -> None:
    row = "8,Somebody Else,else@mail.example,,,,GB,en,QM-2534-B0172,2025-09-02,GB\n"
    with a_desk(tmp_path / "c") as desk:
        imported = desk.take(LIST + row)
        with desk.world.register.look() as tx:
            same_code = tx.units.by_code("QM2534B0172")

    assert len(same_code) == 2
    assert [(one.code, one.line) for one in imported.findings] == [("row-code-of-another", 7)]


def test_the_file_and_its_columns_are_kept_beside_each_other(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()

        assert (desk.root / "lists" / "shop.csv").read_text(encoding="utf-8") == LIST
        assert "sale no" in (desk.root / "lists" / "shop.columns.toml").read_text(encoding="utf-8")


def test_an_owner_known_by_name_and_address_keeps_two_units_from_two_lists(tmp_path: Path) -> None:
    other = "Name,E-Mail,Seriennummer,Land\nBernd Müller,BERND@post.example,QM-2520-B0007,DE\n"
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        imported = desk.take(other, "laden")
        with desk.world.register.look() as tx:
            owners = tx.people.owners()

    assert imported.new == 1
    assert len(owners) == 4


def test_a_list_of_which_no_row_can_be_read_is_refused_whole(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        imported = desk.take("what,ever\n1,2\n", "odd")

    assert (imported.new, imported.refused) == (0, 1)
    assert imported.findings


HEAD = LIST.splitlines()[0] + "\n"


def _sold(root: Path, *lists: str) -> tuple[list[Imported], list[tuple[str, str | None]]]:
    """Return what each import said, and afterwards who keeps which code."""
    with a_desk(root / "c") as desk:
        done = [desk.take(HEAD + each) for each in lists]
        with desk.world.register.look() as tx:
            owners, units = tx.people.owners(), tx.units.units()
            kept = [(owners[one.owner_id].name, units[one.unit_id].code) for one in tx.units.holdings()]
    return done, sorted(kept, key=str)


def test_an_order_of_two_units_makes_two(tmp_path: Path) -> None:
    rows = (
        "7,Ola Nord,ola@mail.example,,,,GB,en,QM-2534-B0001,,\n"
        "7,Ola Nord,ola@mail.example,,,,GB,en,QM-2534-B0002,,\n"
    )
    (first, again, turned), kept = _sold(
        tmp_path, rows, rows, "".join(reversed(rows.splitlines(keepends=True)))
    )

    assert kept == [("Ola Nord", "QM-2534-B0001"), ("Ola Nord", "QM-2534-B0002")]
    assert [(one.new, one.same) for one in (first, again, turned)] == [(2, 0), (0, 2), (0, 2)]
    assert [(one.code, one.line) for one in first.findings] == [("list-shares-sales", 3)]


def test_one_gs1_unit_in_two_spellings_is_one_unit(tmp_path: Path) -> None:
    """Hold an element string and an address against each other (GS1 Digital Link: URI Syntax, its own GTIN)."""
    printed = "(01)09506000134352(21)12345"
    address = "https://id.example.com/01/09506000134352/21/12345"
    (first, again), kept = _sold(
        tmp_path,
        f",Ola Nord,o@mail.example,,,,GB,en,{printed},,\n",
        f",Ola Nord,o@mail.example,,,,GB,en,{address},,\n",
    )

    assert [(one.new, one.changed + one.same) for one in (first, again)] == [(1, 0), (0, 1)]
    assert len(kept) == 1


def test_two_shops_that_count_alike_lose_no_owner(tmp_path: Path) -> None:
    rows = "7,Ola Nord,ola@mail.example,,,,GB,en,,,\n7,Pim Süd,pim@mail.example,,,,GB,en,,,\n"
    (first, again), kept = _sold(tmp_path, rows, rows)

    assert kept == [("Ola Nord", None), ("Pim Süd", None)]
    assert [(one.new, one.same) for one in (first, again)] == [(2, 0), (0, 2)]


def test_a_code_or_an_owner_that_is_mended_stays_the_same_unit(tmp_path: Path) -> None:
    (_, code, owner), kept = _sold(
        tmp_path,
        "7,Ola Nord,ola@mail.example,,,,GB,en,QM-2534-B0001,,\n",
        "7,Ola Nord,ola@mail.example,,,,GB,en,QM-2534-B0007,,\n",
        "7,Ole Nord,ola@mail.example,,,,GB,en,QM-2534-B0007,,\n",
    )

    assert kept == [("Ole Nord", "QM-2534-B0007")]
    assert (code.changed, owner.changed) == (1, 1)


def test_owners_without_a_usable_address_are_not_taken_for_one_another(tmp_path: Path) -> None:
    rows = (
        ",Ola Nord,none,none,,,GB,en,QM-2534-B0001,,\n"
        ",Ola Nord,none,none,,,GB,en,QM-2534-B0002,,\n"
        ",,none,,,,GB,en,,,\n"
        ",,none,,,,GB,en,,,\n"
    )
    (first, again), kept = _sold(tmp_path, rows, rows)

    assert len(kept) == 4
    assert [(one.new, one.same, one.missing) for one in (first, again)] == [(4, 0, 0), (0, 4, 0)]


def test_a_spreadsheet_is_kept_as_it_came_and_its_sheet_is_remembered(tmp_path: Path) -> None:
    cells = [row.split(",") for row in LIST.splitlines()]
    other: list[list[Value]] = [["code", "email"], ["QM-2534-B0009", "zoe@mail.example"]]
    data = xlsx({"Notes": sheet_xml(other), "Sales": sheet_xml(cells)})
    with a_desk(tmp_path / "c") as desk:
        read = importing.read_list(desk.world, data=data, file="Shop.XLSX", name="shop", sheet="Sales")
        done = importing.import_list(desk.world, read)
        again = importing.import_list(
            desk.world, importing.read_list(desk.world, data=data, file="Shop.XLSX", name="shop")
        )

        assert (desk.root / "lists/shop.xlsx").read_bytes() == data
        assert 'sheet = "Sales"' in (desk.root / "lists/shop.columns.toml").read_text("utf-8")
    assert (done.new, again.new, again.same) == (5, 0, 5)
    assert [(one.code, one.line) for one in done.findings] == [("sheet-one-of-several", 1)]


def test_a_list_never_takes_the_place_of_another_file(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        read = importing.read_list(
            desk.world, data=LIST.encode(), file="shop.columns.toml", name="shop.columns"
        )
        importing.import_list(desk.world, read)

        assert sorted(path.name for path in (desk.root / "lists").iterdir()) == [
            "shop.columns.columns.toml",
            "shop.columns.csv",
        ]


@pytest.mark.parametrize(
    ("text", "found", "new"),
    [
        ("", [("list-empty", None)], None),
        (HEAD, [("list-without-rows", 1)], 0),
        ("colour,size\nred,L\n", [("column-needed", 1)], None),
        ("name,code\nAnna,QM-2534-B0001\n", [("column-needed", 1)], 1),
        ("email\nanna@mail.example\n", [("column-wanted", 1), ("column-wanted", 1)], 1),
    ],
)
def test_a_list_without_what_it_needs_is_found_at_its_headings(
    tmp_path: Path, text: str, found: list[tuple[str, int | None]], new: int | None
) -> None:
    with a_desk(tmp_path / "c") as desk:
        read = importing.read_list(desk.world, data=text.encode(), file="odd.csv", name="odd")
        done = importing.import_list(desk.world, read)

    assert [(one.code, one.line) for one in read.findings] == found
    assert (None if read.columns is None else done.new) == new


def test_a_file_larger_than_any_list_is_one_finding(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        read = importing.read_list(desk.world, data=bytes(LARGEST_LIST + 1), file="x.csv", name="x")

    assert [(one.code, one.line) for one in read.findings] == [("list-too-large", None)]
