"""The whole register as plain rows: the same from either engine, and put back into either."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import text

from notices.cases import chain
from notices.cases.outgoing import RegisterError
from notices.cases.records import Secret, TextRow, Try
from notices.store import SqlRegister, open_register
from tests.registers import ENGINES, NOW, a_posting, about, an_address, an_event, furnish

HOSTILE = "<b>%(x)s {{ }} 100 % \u202e\t\r\nعربي \U0001f6b2"


def furnished(register: SqlRegister) -> None:
    """Write rows of many kinds, nulls and long ones among them."""
    with register.change() as tx:
        furnish(tx, units=3)
        one = a_posting("P1", not_before=NOW)
        tx.outbox.add(one, [about(one)])
        tx.outbox.begin(Try(posting_id="P1", n=1, began_at=NOW))
        tx.outbox.settle(
            replace(one, tries=1), Try(posting_id="P1", n=1, began_at=NOW, ended_at=NOW, outcome="later")
        )
        tx.papers.put_text(TextRow(text_id="T1", owner_id=None, body=HOSTILE * 5_000))
        tx.safe.put_secret(Secret(secret_id="S1", purpose="link", secret="s", made_at=NOW))  # noqa: S106 - not a real one
        tx.events.append(
            [
                an_event(f"unit:U{n}", once=f"{n}/{turn}", minutes=turn)
                for n in (1, 2)
                for turn in range(1_500)
            ],
            recorded_at=NOW,
        )


def dumped(register: SqlRegister) -> dict[str, list[str]]:
    with register.look() as tx:
        return {name: list(tx.whole.lines(name)) for name in tx.whole.tables()}


@contextmanager
def opened(engine: str, folder: Path) -> Iterator[SqlRegister]:
    folder.mkdir(exist_ok=True)
    with an_address(engine, folder) as address:
        register = open_register(address, now=NOW)
        try:
            yield register
        finally:
            register.close()


@pytest.mark.parametrize("before", ENGINES)
@pytest.mark.parametrize("after", ENGINES)
def test_a_register_is_the_same_after_a_journey_to_either_engine(
    before: str, after: str, tmp_path: Path
) -> None:
    with opened(before, tmp_path / "a") as first, opened(after, tmp_path / "b") as second:
        furnished(first)
        rows = dumped(first)
        with second.change() as tx:
            tx.whole.fill(rows)

        assert dumped(second) == rows
        assert sum(len(lines) for lines in rows.values()) > 3_000
        with second.change() as tx:
            stored = tx.events.append([an_event("unit:U1"), an_event("unit:U1", once="1/7")], recorded_at=NOW)
        assert [event.seq for event in stored] == [1_501]


def test_the_record_is_chained_as_it_was(register: SqlRegister) -> None:
    furnished(register)
    with register.look() as tx:
        links = list(tx.events.links())

    assert [(link.stream, link.seq) for link in links[1_499:1_501]] == [("unit:U1", 1_500), ("unit:U2", 1)]
    assert [list(chain.breaches(stream)) for stream in chain.by_stream(links)] == [[], []]


def test_a_line_is_canonical_json_of_plain_values(register: SqlRegister) -> None:
    furnished(register)
    rows = dumped(register)

    assert rows["units"][0] == (
        '{"code":null,"code_key":null,"sold_in":null,"sold_on":null,"unit_id":"U1","unit_key":"S-U1"}'
    )
    assert json.loads(rows["texts"][0])["body"] == HOSTILE * 5_000
    assert json.loads(rows["postings"][0])["not_before"] == "2026-03-02T08:30:00.000000Z"


def test_a_register_that_holds_anything_is_not_filled(register: SqlRegister) -> None:
    with register.look() as tx:
        new = tx.whole.is_empty()
    furnished(register)
    rows = dumped(register)

    with pytest.raises(RegisterError, match="the register is not empty"), register.change() as tx:
        tx.whole.fill({})
    assert new
    assert dumped(register) == rows


@pytest.mark.parametrize(
    "line",
    [
        "{",
        "[]",
        '{"name":"a"}',
        '{"name":"a","value":"b","more":1}',
        '{"name":"a","value":null}',
        '{"name":"a","value":7}',
        '{"name":"a","value":"\\u0000"}',
        '{"name":"a","value":1.5}',
        "[" * 100_000,
    ],
)
def test_a_row_of_no_form_of_ours_is_refused_and_nothing_stays(line: str, register: SqlRegister) -> None:
    before = dumped(register)

    with pytest.raises(RegisterError, match="none of this program's"), register.change() as tx:
        tx.whole.fill({"meta": [*before["meta"], line]})
    assert dumped(register) == before


def test_a_journey_keeps_the_guards_of_the_record(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.whole.fill({})
        tx.events.append([an_event()], recorded_at=NOW)

    with pytest.raises(Exception, match="never"), register.engine.begin() as connection:
        connection.execute(text("UPDATE events SET actor = 'x'"))
