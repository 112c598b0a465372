"""One contract for the register on every engine: what each table keeps, replaces and returns, and in which order."""

from dataclasses import fields, replace
from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import pytest
from sqlalchemy import text

from audiences.segments import Segment
from notices.cases.case import Case, Stage, Stopped, Whereabouts
from notices.cases.due import CaseRow, Due
from notices.cases.records import (
    ContactRow,
    Holding,
    OwnerRow,
    RevisionRow,
    Run,
    Secret,
    Signature,
    Source,
    SourceRow,
    TextRow,
)
from notices.store import SqlRegister
from notices.work import ports
from tests.registers import BROKEN, NOW, a_saying, a_unit, a_variant, an_event, an_owner, furnish

# Sorted by code point, as SQLite's BINARY and PostgreSQL's "C" do; a dictionary would order them otherwise.
BY_CODE_POINT = ["A", "Z", "_", "a", "z", "ä", "ش", "🛴"]


def test_the_register_is_what_the_use_cases_ask_for(register: SqlRegister) -> None:
    asked: ports.Register = register

    with asked.look() as tx:
        assert tx.safe.note("schema") == "1"


def test_what_is_written_together_is_there_afterwards(register: SqlRegister) -> None:
    with register.change() as tx:
        furnish(tx)
        tx.events.append([an_event()], recorded_at=NOW)

    with register.look() as tx:
        assert tx.people.owners() == {"OWNER1": an_owner()}
        assert [event.seq for event in tx.events.stream("unit:U1")] == [1]


def test_a_transaction_that_fails_stores_nothing(register: SqlRegister) -> None:
    def fail() -> None:
        with register.change() as tx:
            furnish(tx)
            tx.events.append([an_event()], recorded_at=NOW)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()

    with register.look() as tx:
        assert (tx.people.owners(), tx.units.units(), list(tx.events.streams(""))) == ({}, {}, [])


def test_a_look_stays_as_it_began_while_others_write(register: SqlRegister) -> None:
    with register.look() as seen:
        before = seen.people.owners()
        with register.change() as tx:
            tx.people.put_owners([an_owner()])
        during = seen.people.owners()
    with register.look() as seen:
        after = seen.people.owners()

    assert (before, during, list(after)) == ({}, {}, ["OWNER1"])


def test_owners_are_replaced_and_returned_by_id(register: SqlRegister) -> None:
    away = an_owner("B", away_until=date(2026, 4, 1), erased_at=NOW, country="DE", region="BY")
    with register.change() as tx:
        tx.people.put_owners([an_owner("C"), an_owner("B", name="old"), an_owner("A")])
        tx.people.put_owners([away])

    with register.look() as tx:
        assert list(tx.people.owners()) == ["A", "B", "C"]
        assert tx.people.owners(["B", "nobody", "B"]) == {"B": away}
        assert tx.people.owners([]) == {}


def test_contacts_are_kept_by_owner_channel_and_value(register: SqlRegister) -> None:
    mail = ContactRow(owner_id="A", channel="email", value_key="a@example.org", value="A@example.org")
    dead = replace(mail, fault="bounced")
    phone = ContactRow(owner_id="A", channel="phone", value_key="+4930", value="+4930")
    other = replace(mail, owner_id="B")
    with register.change() as tx:
        tx.people.put_owners([an_owner("A"), an_owner("B")])
        tx.people.put_contacts([phone, mail, other])
        tx.people.put_contacts([dead])

    with register.look() as tx:
        assert tx.people.contacts() == {"A": [dead, phone], "B": [other]}
        assert tx.people.contacts(["B"]) == {"B": [other]}
        assert tx.people.find("email", "a@example.org") == [dead, other]
        assert tx.people.find("phone", "a@example.org") == []


def test_two_units_may_bear_the_same_code(register: SqlRegister) -> None:
    one = a_unit("U1", code="QM-1", code_key="QM1", sold_on=date(2025, 5, 1), sold_in="DE")
    two = a_unit("U2", code="qm 1", code_key="QM1")
    with register.change() as tx:
        tx.units.put([two, a_unit("U3"), one])

    with register.look() as tx:
        assert tx.units.by_code("QM1") == [one, two]
        assert tx.units.units(["U2"]) == {"U2": two}
        assert list(tx.units.units()) == ["U1", "U2", "U3"]


def test_two_units_cannot_bear_the_same_key(register: SqlRegister) -> None:
    with pytest.raises(BROKEN), register.change() as tx:
        tx.units.put([a_unit("U1", unit_key="S"), a_unit("U2", unit_key="S")])


def test_a_keeper_follows_another_in_one_step_whatever_the_order(register: SqlRegister) -> None:
    first = Holding(unit_id="U1", owner_id="A", role="keeper", from_seq=1)
    ended = replace(first, to_seq=4)
    second = Holding(unit_id="U1", owner_id="B", role="keeper", from_seq=4)
    with register.change() as tx:
        tx.people.put_owners([an_owner("A"), an_owner("B")])
        tx.units.put([a_unit("U1")])
        tx.units.put_holdings([first])
        tx.units.put_holdings([second, ended])

    with register.look() as tx:
        assert tx.units.holdings() == [ended, second]
        assert tx.units.holdings(unit_ids=["U1"]) == [ended, second]
        assert tx.units.holdings(owner_ids=["B"]) == [second]
        assert tx.units.holdings(unit_ids=[]) == []


def test_a_unit_has_one_keeper_at_a_time(register: SqlRegister) -> None:
    two = [Holding(unit_id="U1", owner_id=owner, role="keeper", from_seq=1) for owner in "AB"]

    with register.change() as tx:
        tx.people.put_owners([an_owner("A"), an_owner("B")])
        tx.units.put([a_unit("U1")])

    with pytest.raises(BROKEN), register.change() as tx:
        tx.units.put_holdings(two)


def test_a_row_that_names_nobody_is_refused_when_all_is_written(register: SqlRegister) -> None:
    with pytest.raises(BROKEN), register.change() as tx:
        tx.people.put_contacts([ContactRow(owner_id="nobody", channel="email", value_key="a", value="a")])


def test_lists_are_returned_by_name_and_their_rows_in_order(register: SqlRegister) -> None:
    source = Source(source_id="b.csv", file="b.csv", digest="d", mapping="", imported_at=NOW)
    rows = [SourceRow(source_id="b.csv", row_no=n, unit_id=None, owner_id=None, raw="[]") for n in (10, 2, 1)]
    with register.change() as tx:
        tx.lists.put_rows(rows)
        for one in (source, replace(source, source_id="a.csv"), replace(source, digest="e")):
            tx.lists.put_source(one)
        tx.lists.put_rows([replace(rows[0], unit_id="U1", owner_id="A")])

    with register.look() as tx:
        assert tx.lists.sources() == [replace(source, source_id="a.csv"), replace(source, digest="e")]
        assert tx.lists.rows("b.csv") == [rows[2], rows[1], replace(rows[0], unit_id="U1", owner_id="A")]
        assert tx.lists.rows("a.csv") == []


def test_the_last_revision_is_the_one_with_the_highest_number(register: SqlRegister) -> None:
    two = RevisionRow(number=2, adopted_at=NOW, adopted_by="Kit", content="{}", digest="d")
    ten = replace(two, number=10)
    with register.change() as tx:
        none = tx.papers.revision()
        for row in (ten, two, replace(two, content='{"a":1}')):
            tx.papers.put_revision(row)

    with register.look() as tx:
        assert none is None
        assert tx.papers.revision() == ten
        assert tx.papers.revision(2) == replace(two, content='{"a":1}')
        assert tx.papers.revision(3) is None
        assert tx.papers.revisions() == [replace(two, content='{"a":1}'), ten]


def test_free_texts_can_be_emptied(register: SqlRegister) -> None:
    row = TextRow(text_id="T1", owner_id="A", body="It wobbles, 100 % sure; call O'Neil? :name")
    with register.change() as tx:
        tx.papers.put_text(row)
        kept = tx.papers.texts(["T1", "T2"])
        tx.papers.put_text(replace(row, body=""))

    with register.look() as tx:
        assert kept == {"T1": row}
        assert tx.papers.texts(["T1"]) == {"T1": replace(row, body="")}


def test_a_variant_that_stands_stays_as_it_is(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.variants.put([a_variant("F1"), a_variant("F2", said="")], sayings=[a_saying()])
        tx.variants.put([replace(a_variant("F1"), content="other")], sayings=[a_saying(level=3)])

    with register.look() as tx:
        assert tx.variants.get(["F2", "F1", "F3"]) == {"F1": a_variant("F1"), "F2": a_variant("F2", said="")}


def test_a_variant_cannot_stand_without_its_saying(register: SqlRegister) -> None:
    with pytest.raises(BROKEN), register.change() as tx:
        tx.variants.put([a_variant()])


def test_signatures_are_kept_by_signer_and_can_be_taken_back(register: SqlRegister) -> None:
    first = Signature(fingerprint="F2", signed_by="Kit", at=NOW)
    second = Signature(
        fingerprint="F1", signed_by="Kit", at=NOW + timedelta(microseconds=1), overruled="because"
    )
    third = replace(second, signed_by="Ada")
    with register.change() as tx:
        tx.variants.put([a_variant("F1"), a_variant("F2")], sayings=[a_saying()])
        tx.variants.sign([second, third, first])
        before = tx.variants.signatures()
        tx.variants.unsign(["F1"])

    with register.look() as tx:
        assert before == [first, third, second]
        assert tx.variants.signatures() == [first]


def test_secrets_come_oldest_first(register: SqlRegister) -> None:
    old = Secret(secret_id="b", purpose="link", secret="s", made_at=NOW)  # noqa: S106 - not a password
    new = replace(old, secret_id="a", made_at=NOW + timedelta(days=1))  # noqa: S106 - not a password
    with register.change() as tx:
        for secret in (new, old):
            tx.safe.put_secret(secret)
        tx.safe.put_secret(replace(old, retired_at=NOW))

    with register.look() as tx:
        assert tx.safe.secrets("link") == [replace(old, retired_at=NOW), new]
        assert tx.safe.secrets("bounce") == []


def test_a_small_fact_is_replaced(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.safe.put_note("run", "1")
        tx.safe.put_note("run", "2")

    with register.look() as tx:
        assert (tx.safe.note("run"), tx.safe.note("unheard")) == ("2", None)


def test_runs_are_replaced_and_come_by_id(register: SqlRegister) -> None:
    run = Run(
        run_id="R2", worker="w", begun_by="Kit", pace="30/min", wanted="go", state="running", beat_at=NOW
    )
    with register.change() as tx:
        for one in (run, replace(run, run_id="R1"), replace(run, wanted="stop", why="asked")):
            tx.record.put_run(one)

    with register.look() as tx:
        assert tx.record.runs() == [replace(run, run_id="R1"), replace(run, wanted="stop", why="asked")]


def test_a_case_comes_back_with_everything_the_fold_remembers(register: SqlRegister) -> None:
    days: dict[str, Any] = {
        field.name: date(2026, 3, n) for n, field in enumerate(fields(Case), 1) if field.name.endswith("_on")
    }
    case = replace(
        Case(
            unit_id="U2",
            version=7,
            keeper_id="A",
            whereabouts=Whereabouts.COLLECTED,
            stopped=Stopped.PRESSED,
            verdict="affected",
            why="by code",
            judged_by="early@2",
            segment=Segment.SYMPTOMATIC,
            stage=Stage.UNDER_WAY,
            ending="refunded",
            live=2,
            steps=("letter", "call"),
            instruct_why="use now symptomatic",
        ),
        **days,
    )
    full = CaseRow(case=case, due=Due(step="call", channel="phone", on=date(2026, 3, 9), why="no answer"))
    bare = CaseRow(case=Case(unit_id="U1"))
    with register.change() as tx:
        tx.cases.put([full, bare])

    with register.look() as tx:
        assert len(days) >= 5
        assert tx.cases.get(["U2", "U1", "U9"]) == {"U1": bare, "U2": full}
        assert list(tx.cases.all()) == [bare, full]


def test_cases_can_be_written_anew_while_all_are_read(register: SqlRegister) -> None:
    many = [CaseRow(case=Case(unit_id=f"U{n:05}")) for n in range(4_500)]  # more than two pages
    with register.change() as tx:
        tx.cases.put(many)
        for row in tx.cases.all():
            tx.cases.put([CaseRow(case=replace(row.case, version=row.case.version + 1))])

    with register.look() as tx:
        found = list(tx.cases.all())
        assert [row.case.unit_id for row in found] == [row.case.unit_id for row in many]
        assert {row.case.version for row in found} == {1}


def test_text_sorts_by_code_point(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.people.put_owners([an_owner(sign) for sign in reversed(BY_CODE_POINT)])

    with register.look() as tx:
        assert list(tx.people.owners()) == BY_CODE_POINT


def test_numbers_that_nobody_gave_are_not_filled_in(register: SqlRegister) -> None:
    """A number left out is refused on both engines: none is drawn from a sequence."""
    statement = text(
        "INSERT INTO revisions (adopted_at, adopted_by, content, digest) VALUES ('t', 'k', '', '')"
    )

    with pytest.raises(BROKEN), register.engine.begin() as connection:
        connection.execute(statement)


def test_moments_are_kept_as_utc_text_and_days_as_days(register: SqlRegister) -> None:
    berlin = datetime(2026, 3, 2, 10, 30, 0, 7, tzinfo=timezone(timedelta(hours=1)))
    with register.change() as tx:
        tx.people.put_owners([an_owner(away_until=date(2026, 4, 1), erased_at=berlin)])

    with register.engine.connect() as connection:
        kept = connection.execute(text("SELECT away_until, erased_at FROM owners ORDER BY owner_id")).one()

    assert tuple(kept) == ("2026-04-01", "2026-03-02T09:30:00.000007Z")
    with register.look() as tx:
        assert tx.people.owners()["OWNER1"].erased_at == berlin.astimezone(UTC)


@pytest.mark.parametrize("hostile", ["a\0b", "\ud800", "\udfffx"])
def test_a_text_that_an_engine_cannot_keep_is_refused_before_either_sees_it(
    register: SqlRegister, hostile: str
) -> None:
    with pytest.raises(ValueError, match="a text for the register holds") as refused, register.change() as tx:
        tx.people.put_owners([an_owner(name=hostile)])

    assert hostile not in str(refused.value)
    with register.look() as tx:
        assert tx.people.owners() == {}


def test_a_number_that_only_one_engine_could_keep_is_refused(register: SqlRegister) -> None:
    with pytest.raises(ValueError, match="32 bits"), register.change() as tx:
        tx.variants.put([], sayings=[a_saying(level=2**31)])


@pytest.mark.parametrize("wrong", [1.5, b"bytes", True])
def test_a_value_with_two_spellings_is_refused(register: SqlRegister, wrong: object) -> None:
    with pytest.raises(ValueError, match="text and whole numbers"), register.change() as tx:
        tx.people.put_owners([an_owner(name=wrong)])


@pytest.mark.parametrize(
    "wrong",
    [an_owner(away_until=NOW), an_owner(erased_at=datetime(2026, 3, 2))],  # noqa: DTZ001 - the point of it
)
def test_a_moment_is_not_a_day_and_has_a_zone(register: SqlRegister, wrong: OwnerRow) -> None:
    with pytest.raises(Exception, match=r"a moment was given|needs its time zone"), register.change() as tx:
        tx.people.put_owners([wrong])


def test_a_member_of_an_enumeration_is_kept_as_its_plain_word(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.variants.put(
            [replace(a_variant(), segment=Segment.SYMPTOMATIC)],
            sayings=[replace(a_saying(), segment=Segment.SYMPTOMATIC)],
        )

    with register.look() as tx:
        assert type(tx.variants.get(["F1"])["F1"].segment) is str
        assert tx.variants.get(["F1"])["F1"].segment == "symptomatic"
