"""One contract for evidence on every engine: each fingerprint once, found by unit, never without its transaction."""

from dataclasses import replace

import pytest

from notices.cases.records import EvidenceRow
from notices.store import SqlRegister
from notices.work import ports
from notices.work.evidence_port import Evidence
from tests.registers import NOW, an_event

A, B, C = "a" * 64, "b" * 64, "c" * 64


def a_photo(digest: str = A, **differences: object) -> EvidenceRow:
    row = EvidenceRow(digest=digest, media_type="image/jpeg", bytes=421, unit_id="U1", owner_id="OWNER1")
    return replace(row, **differences)  # type: ignore[arg-type]  # one difference per test


def test_the_register_keeps_evidence_as_the_use_cases_ask(register: SqlRegister) -> None:
    asked: ports.Register = register

    with asked.look() as tx:
        evidence: Evidence = tx.evidence
        assert evidence.get([A]) == {}


def test_evidence_is_returned_by_fingerprint_and_by_unit_in_order(register: SqlRegister) -> None:
    rows = [a_photo(C), a_photo(A), a_photo(B, unit_id="U2", owner_id=None)]
    with register.change() as tx:
        tx.evidence.put(rows)

    with register.look() as tx:
        assert tx.evidence.get([C, B, "d" * 64]) == {B: rows[2], C: rows[0]}
        assert tx.evidence.of_units(["U1"]) == [rows[1], rows[0]]
        assert tx.evidence.of_units() == [rows[1], rows[0], rows[2]]
        assert tx.evidence.of_units(["U3"]) == []


def test_what_stands_stays_as_it_is(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.evidence.put([a_photo()])
        tx.evidence.put([a_photo(unit_id="U2", owner_id="OTHER"), a_photo(B)])

    with register.look() as tx:
        assert tx.evidence.get([A])[A] == a_photo()
        assert len(tx.evidence.of_units()) == 2


def test_evidence_and_its_event_change_together(register: SqlRegister) -> None:
    def fail() -> None:
        with register.change() as tx:
            tx.evidence.put([a_photo()])
            tx.events.append([an_event()], recorded_at=NOW)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()

    with register.look() as tx:
        assert (tx.evidence.of_units(), tx.events.stream("unit:U1")) == ([], [])
