"""The order of release: who did what, what must be done again today, what is open before owners."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from notices.cases.events import CAMPAIGN, Event, NewEvent, chained
from notices.cases.release import STEPS, Standing, open_before_owners, standings

TODAY = date(2026, 3, 4)
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
EARLIER = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)


def said(step: str, *, kind: str = "release_step_done", at: datetime = NOW) -> Event:
    event = NewEvent(
        stream=CAMPAIGN, kind=kind, at=at, actor="Mara Quill", via="command", payload={"step": step}
    )
    return chained(event, seq=1, recorded_at=at, before="")


def found(*events: Event, backup: date | None = None) -> dict[str, Standing]:
    return {one.step.key: one for one in standings(events, today=TODAY, zone=UTC, backup=backup)}


def test_at_first_every_step_is_open_and_the_sale_comes_first() -> None:
    assert {one.state for one in found().values()} == {"open"}
    assert STEPS[0].key == "sale"


def test_owners_come_before_shops_and_the_public_statement() -> None:
    waiting = [one.step.key for one in open_before_owners(found().values())]

    assert "phone" in waiting
    assert not {"shops", "statement"} & set(waiting)


def test_a_step_is_done_or_overruled_by_name_and_the_last_word_counts() -> None:
    known = found(said("staff", kind="release_step_overruled"), said("sale"), said("staff"))

    assert (known["sale"].state, known["sale"].by, known["sale"].on) == ("done", "Mara Quill", TODAY)
    assert known["staff"].state == "done"
    assert found(said("page", kind="release_step_overruled"))["page"].settled


def test_a_telephone_that_was_tried_yesterday_is_to_be_tried_again() -> None:
    known = found(said("phone", at=EARLIER), said("sale", at=EARLIER))

    assert (known["phone"].state, known["phone"].settled) == ("to be done again", False)
    assert known["sale"].state == "done"


def test_a_backup_of_today_is_known_without_anybodys_word() -> None:
    assert found(backup=TODAY)["backup"].state == "done"
    assert found(backup=date(2026, 3, 3))["backup"].state == "open"


def test_a_day_ends_where_the_issuer_is() -> None:
    late = datetime(2026, 3, 3, 16, 0, tzinfo=UTC)
    (phone,) = (
        one
        for one in standings([said("phone", at=late)], today=TODAY, zone=ZoneInfo("Asia/Tokyo"), backup=None)
        if one.step.key == "phone"
    )

    assert phone.state == "done"


def test_other_events_say_nothing_of_a_step() -> None:
    event = NewEvent(stream=CAMPAIGN, kind="sealed", at=NOW, actor="program", via="command", payload={})

    assert not found(chained(event, seq=1, recorded_at=NOW, before=""))["sale"].settled
