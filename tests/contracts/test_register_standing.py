"""Where cases stand and what is due: what the register counts by itself is what counting each case gives."""

from datetime import date
from itertools import product

from audiences.segments import Segment
from notices.cases.case import ENDINGS, Case, Stage, Stopped, Whereabouts
from notices.cases.due import Agenda, CaseRow, Due, Step
from notices.cases.records import ContactRow
from notices.store import SqlRegister
from notices.work.counting import count, count_alike
from tests.registers import an_owner

DAY = date(2026, 3, 6)


def _every_case() -> list[Case]:
    """Return cases that differ in all that they are counted by, twice each."""
    verdicts = (None, "affected", "cleared", "foreign", "missing")
    ways = product(verdicts, (None, *sorted(ENDINGS)), Whereabouts, (None, "OWNER1"))
    return [
        Case(
            unit_id=f"U{number:05d}{twin}",
            verdict=verdict,
            ending=ending,
            whereabouts=where,
            keeper_id=keeper,
            segment=list(Segment)[number % 4],
            stage=list(Stage)[number % 8],
            stopped=list(Stopped)[number // 3 % 4],
        )
        for number, (verdict, ending, where, keeper) in enumerate(ways)
        for twin in ("A", "B")
    ]


def test_cases_counted_by_the_register_are_counted_as_one_by_one(register: SqlRegister) -> None:
    cases = _every_case()
    with register.change() as tx:
        tx.cases.put(CaseRow(case=case) for case in cases)

    with register.look() as tx:
        alike = tx.cases.alike()

        assert len(alike) < len(cases)
        assert count_alike(alike, sold=2_000) == count(cases, sold=2_000)


def test_an_empty_register_has_nothing_to_count_and_nothing_due(register: SqlRegister) -> None:
    with register.look() as tx:
        assert tx.cases.alike() == []
        assert tx.cases.agenda(DAY) == Agenda(steps=(), later=0, next_on=None)


def _row(
    unit_id: str, day: int, channel: str = "phone", *, urgent: bool = False, why: str = "no answer"
) -> CaseRow:
    on = date(2026, 3, day)
    case = Case(
        unit_id=unit_id, keeper_id="OWNER1", urgent_on=on if urgent else None, help_what='"urgent_on":null'
    )
    return CaseRow(case=case, due=Due(step=f"step-{unit_id}", channel=channel, on=on, why=why))


def _step(unit_id: str, day: int, channel: str, to: tuple[str, ...]) -> Step:
    return Step(
        unit_id=unit_id,
        step=f"step-{unit_id}",
        channel=channel,
        on=date(2026, 3, day),
        why="no answer",
        owner="Ada Quill",
        to=to,
    )


def test_what_is_due_comes_with_its_owner_the_most_urgent_first(register: SqlRegister) -> None:
    def way(channel: str, value: str, fault: str | None = None) -> ContactRow:
        return ContactRow(owner_id="OWNER1", channel=channel, value_key=value, value=value, fault=fault)

    with register.change() as tx:
        tx.people.put_owners([an_owner()])
        tx.people.put_contacts(
            [
                way("phone", "+44 2"),
                way("phone", "+44 1"),
                way("phone", "+44 3", "dead"),
                way("letter", "Lane 1"),
            ]
        )
        tx.cases.put(
            [
                _row("A", 5, "text"),
                _row("B", 6, urgent=True),
                _row("C", 4, "email"),
                _row("D", 4, "letter"),
                _row("E", 7),
                _row("F", 9),
                CaseRow(case=Case(unit_id="G")),
            ]
        )

    with register.look() as tx:
        found = tx.cases.agenda(DAY)

    assert found == Agenda(
        steps=(
            _step("B", 6, "phone", ("+44 1", "+44 2")),
            _step("C", 4, "email", ()),
            _step("D", 4, "letter", ("Lane 1",)),
            _step("A", 5, "text", ("+44 1", "+44 2")),
        ),
        later=2,
        next_on=date(2026, 3, 7),
    )


def test_a_unit_that_nobody_keeps_is_due_without_a_name(register: SqlRegister) -> None:
    due = Due(step="look", channel="person", on=DAY, why="look")
    with register.change() as tx:
        tx.cases.put([CaseRow(case=Case(unit_id="A"), due=due)])

    with register.look() as tx:
        (step,) = tx.cases.agenda(DAY).steps

    assert (step.owner, step.to) == ("", ())
