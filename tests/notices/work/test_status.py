"""The status and what is due, as they are now and as they were on a day."""

from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from notices.campaign.models import Campaign, Sold
from notices.cases.events import NewEvent, unit_stream
from notices.cases.records import ContactRow
from notices.work import looking, serving
from notices.work.looking import end_of, status, status_as_json
from notices.work.recording import record
from notices.work.refolding import refold
from tests.owners_world import Owners, owners_world


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    """Return a world with revision 1 signed on 4 March 2026, 8:00 UTC."""
    with owners_world(tmp_path) as opened:
        yield opened


def _happens(owners: Owners, unit_id: str, what: str, /, **payload: object) -> None:
    event = NewEvent(
        stream=unit_stream(unit_id), kind=what, at=owners.clock(), actor="owner", via="page", payload=payload
    )
    with owners.world.register.change() as tx:
        record(tx, [event], now=owners.clock())


def _sold(number: int | None) -> Callable[[Campaign], Campaign]:
    def change(campaign: Campaign) -> Campaign:
        product = campaign.product.model_copy(update={"sold": Sold(units=number)})
        return campaign.model_copy(update={"product": product})

    return change


def test_the_status_is_printed_as_other_programs_read_it(owners: Owners) -> None:
    owners.unit(owners.owner())
    owners.unit(owners.owner("Ben Ask"), "QM-2534-A0173")

    zeros = dict.fromkeys(
        (
            "listed",
            "notified",
            "answered",
            "remedy_agreed",
            "under_way",
            "done_unconfirmed",
            "fixed",
            "ended",
        ),
        0,
    )
    assert status_as_json(status(owners.world)) == {
        "on": "2026-03-04",
        "revision": 1,
        "units": {"sold": 480, "in_hands": 1, "cleared": 1, "put_away": 0, "owner_unknown": 478},
        "stopped": {"stopped": 0, "pressed": 0, "in_use": 0, "no_word": 1},
        "grid": {
            "symptomatic": zeros,
            "unknown": {**zeros, "listed": 1},
            "ridden_no_symptoms": zeros,
            "unridden": zeros,
        },
        "endings": {
            "cleared": 1,
            "destroyed": 0,
            "fixed": 0,
            "in_stock": 0,
            "listed_twice": 0,
            "refunded": 0,
            "refused_by_owner": 0,
            "replaced": 0,
            "stolen_or_lost": 0,
            "unreachable": 0,
        },
    }


def test_a_day_shows_what_was_known_at_its_end(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner())
    owners.clock.forward(timedelta(days=2))
    _happens(owners, unit_id, "use_stated", segment="unridden", signs=True)
    then, now = status(owners.world, on=date(2026, 3, 5)), status(owners.world)

    assert (then.standing.grid["unknown"]["listed"], then.standing.grid["unridden"]["answered"]) == (1, 0)
    assert (now.standing.grid["unknown"]["listed"], now.standing.grid["unridden"]["answered"]) == (0, 1)


def test_the_present_day_is_the_same_seen_either_way(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner())
    _happens(owners, unit_id, "stop_stated", stopped=True, signs=True)

    assert status(owners.world, on=date(2026, 3, 4)).standing == status(owners.world).standing


def test_what_was_learned_late_was_not_known_before(owners: Owners) -> None:
    unit_id = owners.unit(owners.owner())
    owners.clock.forward(timedelta(days=3))
    event = NewEvent(
        stream=unit_stream(unit_id),
        kind="stop_stated",
        at=datetime(2026, 3, 4, 9, 0, tzinfo=UTC),
        actor="owner",
        via="letter",
        payload={"stopped": True, "signs": True},
    )
    with owners.world.register.change() as tx:
        record(tx, [event], now=owners.clock())

    assert status(owners.world, on=date(2026, 3, 5)).standing.stopped["stopped"] == 0
    assert status(owners.world, on=date(2026, 3, 7)).standing.stopped["stopped"] == 1


def test_a_day_ends_where_the_issuer_is() -> None:
    dublin, auckland = ZoneInfo("Europe/Dublin"), ZoneInfo("Pacific/Auckland")

    # The clocks of Dublin go forward on 29 March 2026 (IANA time zone database).
    assert end_of(date(2026, 3, 28), dublin) == datetime(2026, 3, 28, 23, 59, 59, 999999, tzinfo=UTC)
    assert end_of(date(2026, 3, 29), dublin) == datetime(2026, 3, 29, 22, 59, 59, 999999, tzinfo=UTC)
    assert end_of(date(2026, 3, 4), auckland) == datetime(2026, 3, 4, 10, 59, 59, 999999, tzinfo=UTC)


def test_before_the_first_signature_there_is_no_revision(owners: Owners) -> None:
    found = status(owners.world, on=date(2026, 3, 3))

    assert (found.revision, found.standing.sold, found.names["unknown"]) == (None, 0, "unknown")


def test_the_segments_bear_the_campaigns_own_names(owners: Owners) -> None:
    assert status(owners.world).names == {
        "symptomatic": "Knocking, play or a crooked wheel",
        "unknown": "Use unknown",
        "ridden_no_symptoms": "Ridden, nothing noticed",
        "unridden": "Never ridden",
    }


def test_more_units_listed_than_sold_is_said(owners: Owners) -> None:
    owners.sign(_sold(1))
    owners.unit(owners.owner())
    owners.unit(owners.owner("Ben Ask"))
    found = [finding for finding in status(owners.world).findings if finding.code == "listed-more-than-sold"]

    assert [(one.file, one.line, one.path) for one in found] == [
        ("campaign.yaml", None, "product.sold.units")
    ]
    assert found[0].message == "the lists name 2 units, and only 1 were sold"


def test_a_word_that_was_promised_and_not_given_is_said_and_holds_nothing_back(owners: Owners) -> None:
    on_the_day = looking.due(owners.world, on=date(2026, 3, 10)).findings
    after = looking.due(owners.world, on=date(2026, 3, 11)).findings

    assert on_the_day == ()
    assert [(one.code, one.line, str(one.severity)) for one in after] == [
        ("next-word-overdue", None, "consider")
    ]


def test_a_call_that_cannot_wait_stands_above_all_else(owners: Owners) -> None:
    early, urgent = owners.unit(owners.owner()), owners.unit(owners.owner("Ben Ask"))
    owners.clock.forward(timedelta(days=1))
    _happens(owners, early, "help_asked", what="call", text="")
    owners.clock.forward(timedelta(days=1))
    _happens(owners, urgent, "stop_stated", stopped=False, signs=True)
    steps = looking.due(owners.world).steps

    assert [(step.unit_id, step.step, step.owner) for step in steps] == [
        (urgent, "call-now", "Ben Ask"),
        (early, "call-back", "Anna Berg"),
    ]


def test_what_is_due_later_is_counted_with_its_first_day(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    _email(owners, link)
    _happens(
        owners,
        unit_id,
        "notice_handed_over",
        posting="P1",
        owner=owners.owner_id(link),
        kind="first",
        channel="email",
        occasion="first",
        fingerprint="f",
        said="s",
        revision=1,
    )
    found = looking.due_as_json(looking.due(owners.world))

    # Wednesday 4 March 2026 and three working days of Ireland: Monday 9 March.
    assert found == {"on": "2026-03-04", "due": [], "later": 1, "next_on": "2026-03-09"}


def _email(owners: Owners, link: str) -> None:
    with owners.world.register.change() as tx:
        tx.people.put_contacts(
            [
                ContactRow(
                    owner_id=owners.owner_id(link),
                    channel="email",
                    value_key="anna@mail.example",
                    value="anna@mail.example",
                )
            ]
        )


def test_folding_anew_makes_the_same_cases(owners: Owners) -> None:
    units = [owners.unit(owners.owner(f"Owner {number}")) for number in range(3)]
    _happens(owners, units[1], "use_stated", segment="symptomatic", signs=True)
    with owners.world.register.change() as tx:
        before = list(tx.cases.all())
        refold(tx)
        after = list(tx.cases.all())

    assert after == before


def test_the_pages_lack_nothing_once_the_demo_is_signed(owners: Owners) -> None:
    assert serving.lacking(owners.world) == ()
    assert len(serving.proof_key(owners.world)) == 32


def test_nothing_is_served_that_lacks_what_a_page_needs(owners: Owners) -> None:
    owners.sign(lambda campaign: campaign.model_copy(update={"issuer": _without_answers(campaign)}))
    found = serving.lacking(owners.world)

    assert [(one.code, one.path) for one in found] == [("answers-address-missing", "issuer.answers")]


def _without_answers(campaign: Campaign) -> object:
    return campaign.issuer.model_copy(update={"answers": None})


def test_nothing_is_served_before_the_first_signature() -> None:
    finding = serving.not_signed()

    assert (finding.code, finding.file, finding.line) == ("nothing-signed", "campaign.yaml", None)
