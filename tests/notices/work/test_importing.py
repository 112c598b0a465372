"""A list on its way into the register: the same twice changes nothing, a newer one updates, none takes away."""

from pathlib import Path

from audiences.findings import Severity
from notices.work.taking import REPLACED
from tests.folders import LIST, a_desk


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
