"""The story's clock goes on and never back; appointments happen in their order."""

from datetime import UTC, datetime, timedelta

from notices.demo.clock import Agenda, Clock
from notices.demo.staff import DUBLIN, in_office

NOON = datetime(2026, 3, 3, 12, tzinfo=UTC)


def test_the_clock_is_moved_on_and_never_back() -> None:
    clock = Clock(NOON)
    clock.advance(90)
    clock.at(NOON)

    assert clock.now() == NOON + timedelta(seconds=90)


def test_appointments_happen_in_order_at_their_moments_and_may_make_others() -> None:
    clock = Clock(NOON)
    agenda = Agenda(clock)
    seen: list[tuple[str, datetime]] = []

    def call_back() -> None:
        seen.append(("call", clock.now()))
        agenda.add(clock.now() + timedelta(hours=1), lambda: seen.append(("again", clock.now())))

    agenda.add(NOON + timedelta(days=9), lambda: seen.append(("too late", clock.now())))
    agenda.add(NOON + timedelta(hours=2), call_back)
    agenda.add(NOON + timedelta(hours=1), lambda: seen.append(("first", clock.now())))
    agenda.until(NOON + timedelta(hours=5))

    assert seen == [
        ("first", NOON + timedelta(hours=1)),
        ("call", NOON + timedelta(hours=2)),
        ("again", NOON + timedelta(hours=3)),
    ]
    assert clock.now() == NOON + timedelta(hours=5)


def test_the_telephone_is_staffed_monday_to_saturday_from_8_to_18() -> None:
    saturday_evening = datetime(2026, 3, 7, 19, tzinfo=DUBLIN)
    before_eight = datetime(2026, 3, 9, 6, tzinfo=DUBLIN)
    at_work = datetime(2026, 3, 9, 11, 5, tzinfo=DUBLIN)

    assert in_office(saturday_evening) == datetime(2026, 3, 9, 8, tzinfo=DUBLIN)
    assert in_office(before_eight) == datetime(2026, 3, 9, 8, tzinfo=DUBLIN)
    assert in_office(at_work) == at_work
