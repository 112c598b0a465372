"""A shop's standing is folded from its events, and a silent shop is telephoned on day one."""

from collections.abc import Mapping
from datetime import UTC, date, datetime

from notices.cases.events import Event, NewEvent, chained
from notices.cases.shops import LADDER, ShopCase, ShopDue, lessor_due, shop_case, shop_due, stopped_by_word

FRIDAY = datetime(2026, 2, 27, 17, 0, tzinfo=UTC)  # the day after is no working day anywhere here
MONDAY = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def a_shop(*happened: tuple[str, Mapping[str, object]], later: datetime = MONDAY) -> ShopCase:
    """Return a shop that was listed on a Friday evening and then had what *happened*."""
    told = [("owner_listed", {"source": "dealers", "row": 2}, FRIDAY), *((*one, later) for one in happened)]
    return shop_case(_event(kind, payload, at, n) for n, (kind, payload, at) in enumerate(told, 1))


def _event(kind: str, payload: Mapping[str, object], at: datetime, seq: int) -> Event:
    new = NewEvent(stream="owner:SHOP", kind=kind, at=at, actor="Mo", via="command", payload=payload)
    return chained(new, seq=seq, recorded_at=at, before="")


def confirmed(names: str = "handed_over", *, stopped: bool = True) -> tuple[str, Mapping[str, object]]:
    return ("shop_confirmed", {"stopped": stopped, "shelf": 3, "sold": 20, "names": names, "text": "T"})


def taken(step: str) -> tuple[str, Mapping[str, object]]:
    return ("shop_step", {"step": step, "outcome": "no-answer"})


def pack(units: int) -> tuple[str, Mapping[str, object]]:
    return ("pack_made", {"units": units})


def test_a_silent_shop_is_telephoned_on_the_day_on_which_it_was_listed() -> None:
    assert shop_due(a_shop(), "IE") == ShopDue(
        step="shop-call", channel="phone", on=FRIDAY.date(), why="no word that it has stopped selling"
    )


def test_every_step_that_was_taken_is_followed_by_the_next_one() -> None:
    days: list[date] = []
    steps: list[str] = []
    for rung in LADDER:
        due = shop_due(a_shop(*map(taken, steps)), "IE")
        assert due is not None
        days.append(due.on)
        steps.append(rung.step)

    assert days == [date(2026, 2, 27), date(2026, 3, 2), date(2026, 3, 3), date(2026, 3, 4)]
    assert shop_due(a_shop(*map(taken, steps)), "IE") is None
    assert {rung.source for rung in LADDER} == {"common practice, no source"}


def test_a_shop_that_has_stopped_and_gives_its_names_is_left_in_peace() -> None:
    case = a_shop(confirmed())

    assert (case.stopped, case.shelf, case.sold, case.names) == (True, 3, 20, "handed_over")
    assert shop_due(case, "IE") is None


def test_a_shop_that_says_it_still_sells_is_called_that_day() -> None:
    due = shop_due(a_shop(confirmed(stopped=False)), "IE")

    assert due == ShopDue(step="shop-call", channel="phone", on=MONDAY.date(), why="has not stopped selling")


def test_its_last_word_counts() -> None:
    assert a_shop(confirmed(stopped=False), confirmed()).stopped is True


def test_who_forwards_needs_addresses_then_owes_a_count() -> None:
    asked = shop_due(a_shop(confirmed("forward")), "IE")
    given = a_shop(confirmed("forward"), pack(4))
    counted = a_shop(confirmed("forward"), pack(4), ("forwarded", {"units": 3, "text": "T"}))
    again = a_shop(confirmed("forward"), pack(4), ("forwarded", {"units": 3, "text": "T"}), pack(2))
    owed = shop_due(given, "IE")

    assert asked is not None
    assert (asked.step, asked.on) == ("forward-pack", MONDAY.date())
    assert owed is not None
    assert (owed.step, owed.on) == ("count", date(2026, 3, 5))  # three working days later
    assert (counted.forwarded, shop_due(counted, "IE")) == (3, None)
    assert (again.packed, again.forwarded) == (6, None)


def test_what_an_owner_says_besides_makes_no_shop() -> None:
    case = a_shop(("language_chosen", {"language": "de"}))

    assert case == ShopCase(listed_on=FRIDAY.date())
    assert shop_due(ShopCase(), "IE") is None


def test_a_word_taken_among_all_places_ends_the_ladder_and_asks_for_the_counts() -> None:
    told = stopped_by_word(a_shop(), 3, MONDAY.date())
    due = shop_due(told, "IE")

    assert (told.stopped, told.shelf, told.said_on) == (True, 3, MONDAY.date())
    assert due is not None
    assert (due.step, due.on) == ("shop-names", date(2026, 3, 3))
    assert stopped_by_word(a_shop(confirmed(stopped=False)), 3, MONDAY.date()).stopped is False


def test_a_lessor_is_given_addresses_asked_for_the_count_then_called() -> None:
    asked = lessor_due(a_shop(), 4, "IE")
    given = lessor_due(a_shop(pack(4)), 4, "IE")
    counted = lessor_due(a_shop(pack(4), ("forwarded", {"units": 4, "text": "T"})), 2, "IE")

    assert [(one.step, one.on) for one in (asked, given, counted) if one] == [
        ("forward-pack", FRIDAY.date()),
        ("count", date(2026, 3, 5)),
        ("lessor-call", date(2026, 3, 16)),  # ten working days after 2 March
    ]
    assert counted is not None
    assert counted.why == "nobody has answered for 2 of its units"
    assert lessor_due(a_shop(pack(4)), 0, "IE") is None
    assert lessor_due(ShopCase(), 4, "IE") is None
