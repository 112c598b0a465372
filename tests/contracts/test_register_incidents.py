"""One contract for incidents on every engine: kept whole, in the order in which they were learned of."""

from dataclasses import replace
from datetime import date, timedelta

from notices.cases.records import IncidentRow
from notices.store import SqlRegister
from notices.work import ports
from notices.work.evidence_port import Incidents
from tests.registers import NOW

ONE = IncidentRow(
    incident_id="B",
    learned_at=NOW,
    happened_on=date(2026, 3, 1),
    country="IE",
    harm="injury",
    age_band="25-64",
    part_kept="with-us",
    unit_id=None,
    text_id=None,
)
EARLIER = replace(ONE, incident_id="C", learned_at=NOW - timedelta(days=1), happened_on=None, country=None)


def test_incidents_are_kept_whole_in_the_order_of_knowledge(register: SqlRegister) -> None:
    asked: ports.Register = register
    with asked.change() as tx:
        incidents: Incidents = tx.incidents
        incidents.put([ONE, EARLIER])

    with register.look() as tx:
        assert tx.incidents.all() == [EARLIER, ONE]


def test_a_later_word_on_an_incident_replaces_the_earlier(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.incidents.put([ONE])
        tx.incidents.put([replace(ONE, part_kept="with-authority")])

    with register.look() as tx:
        assert [one.part_kept for one in tx.incidents.all()] == ["with-authority"]
