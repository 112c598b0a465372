"""What the demo's story leaves in the register: sums that add up with any seed, and each odd reader's outcome."""

import re
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from notices.cases.case import Stage, Stopped
from notices.demo.names import REFUSING_DOMAIN
from notices.demo.people import Habit
from notices.demo.questions import misread_line
from notices.work import looking, outgoing, stopping
from notices.work.counting import Standing
from notices.work.looking import Status
from notices.work.seeking import History
from tests import needs
from tests.demo_runs import FICTION, Told, tell

DAY = date(2026, 3, 9)


@pytest.fixture(params=["told", "told_otherwise"])
def either(request: pytest.FixtureRequest) -> Told:
    found: Told = request.getfixturevalue(request.param)
    return found


def sums(found: Status) -> tuple[int, int, int, int, int]:
    one = found.standing
    return (one.sold, one.in_hands, one.cleared, one.put_away, one.owner_unknown)


def column(standing: Standing, stage: str) -> int:
    return sum(row[stage] for row in standing.grid.values())


def set_aside(history: History) -> list[tuple[object, object]]:
    return [
        (event.payload["of"], event.payload["why"])
        for event in history.events
        if event.kind == "answer_set_aside"
    ]


def test_the_units_add_up_before_and_after_with_either_seed(either: Told) -> None:
    assert sums(either.story.first) == (480, 466, 0, 0, 14)
    assert sums(either.story.last) == (480, 423, 43, 0, 14)


@pytest.mark.skipif(not needs.EVERYTHING, reason="two more runs of the demo; NOTICES_TESTS=all has them")
def test_a_third_seed_adds_up_too_and_the_same_seed_tells_the_same_story(tmp_path: Path, told: Told) -> None:
    third = tell(tmp_path / "third", 3)
    again = tell(tmp_path / "again", 1)

    assert sums(third.story.last) == (480, 423, 43, 0, 14)
    assert again.story.last == told.story.last
    assert again.story.references == told.story.references


def test_grid_and_stopped_figure_add_up_to_what_is_in_owners_hands(either: Told) -> None:
    standing = either.story.last.standing
    cells = [count for row in standing.grid.values() for count in row.values()]

    assert sum(cells) == sum(standing.stopped.values()) == standing.in_hands


def test_another_seed_gives_another_grid(told: Told, told_otherwise: Told) -> None:
    assert told.story.last.standing.grid != told_otherwise.story.last.standing.grid


def test_what_was_known_on_a_day_can_be_asked_for_later(told: Told) -> None:
    with told.world() as world:
        before, last = looking.status(world, on=date(2026, 3, 2)), looking.status(world, on=DAY)

    assert (before.revision, sums(before)) == (0, (480, 466, 0, 0, 14))
    assert last == told.story.last


def test_39_are_not_reached_34_without_mail_and_five_that_came_back(either: Told) -> None:
    assert column(either.story.last.standing, "listed") == 39


def test_about_half_of_those_reached_say_something_and_most_of_them_have_stopped(either: Told) -> None:
    speaking = sum(one.habit is not Habit.SILENT for one in either.story.people)
    stopped = either.story.last.standing.stopped

    assert len(either.story.people) == 401
    assert 0.45 < speaking / 401 < 0.55
    assert stopped["stopped"] > 150
    assert 2 <= stopped["in_use"] <= 7


def test_some_twenty_cases_are_fixed_each_on_its_owners_own_word(either: Told) -> None:
    with either.world() as world, world.register.look() as tx:
        fixed = [row.case.unit_id for row in tx.cases.all() if row.case.ending == "fixed"]
        confirmed = {
            one.stream.removeprefix("unit:"): (one.actor, one.via)
            for events in tx.events.streams("unit:")
            for one in events
            if one.kind == "fix_confirmed"
        }
        unsure = [row.case for row in tx.cases.all() if row.case.stage is Stage.DONE_UNCONFIRMED]

    assert 18 <= len(fixed) <= 22
    assert {confirmed[unit_id] for unit_id in fixed} == {("owner", "page")}
    assert 5 <= len(unsure) <= 6
    assert sum(case.help_on is not None for case in unsure) == 1


def test_sales_have_stopped_at_five_places(told: Told) -> None:
    with told.world() as world:
        places = stopping.places(world)

    assert [one.place for one in places if one.holds is not None and one.by] == [
        "web shop",
        "shop Port Aldmere",
        "partner shop one",
        "partner shop two",
        "hire units",
    ]


def test_dead_mailboxes_lose_their_address_and_a_refusing_providers_owners_are_called(either: Told) -> None:
    dead = [one for one in either.story.lists.owners if one.mailbox == "dead"]
    refused = [one for one in either.story.lists.owners if one.email.endswith(f"@{REFUSING_DOMAIN}")]
    with either.world() as world, world.register.look() as tx:
        rows = [row for rows in tx.people.contacts().values() for row in rows if row.channel == "email"]
        faults = {row.value: row.fault for row in rows}
        cases = {row.case.unit_id: row.case for row in tx.cases.all()}
        troubles = Counter(one.why[:9] for one in outgoing.outbox(world).troubles)

    called = [cases[either.story.references[one.units[0].stamped]] for one in refused]

    assert len(dead) == 5
    assert len(refused) == 9
    assert {fault for fault in faults.values() if fault and fault.startswith("refused")} == {"refused-5.1.1"}
    assert sum(fault == "refused-5.1.1" for fault in faults.values()) == 5
    assert all(faults[one.email] is None for one in refused if one.email in faults)
    assert {(case.stopped, case.stage) for case in called} == {(Stopped.STOPPED, Stage.ANSWERED)}
    assert troubles.total() >= 14


def test_a_scanner_that_presses_a_button_is_not_a_person(either: Told) -> None:
    scanned = [
        one
        for one in either.story.people
        if one.owner.mailbox == "scanned" and one.habit in {Habit.SILENT, Habit.PRESSES}
    ]
    found = [either.history(one).row.case for one in scanned]

    assert sum(one.owner.mailbox == "scanned" for one in either.story.people) == 14
    assert found
    assert {(case.stopped, case.stage) for case in found} == {(Stopped.PRESSED, Stage.NOTIFIED)}


def test_strangers_with_a_forwarded_mail_change_nothing_but_the_button(either: Told) -> None:
    history = either.history(either.with_habit(Habit.FORWARDS)[0])
    case = history.row.case

    assert (case.stopped, case.stage, case.segment.value, case.ending) == (
        Stopped.PRESSED,
        Stage.NOTIFIED,
        "unknown",
        None,
    )
    assert sum(event.kind == "stop_stated" for event in history.events) == 12
    assert set_aside(history) == [("code_given", "wrong signs")] * 2
    assert {"never ridden", "done"} <= {text.split("\n")[0] for text in history.texts.values()}


def test_a_b_that_is_read_as_a_d_clears_nobody(either: Told) -> None:
    person = either.with_habit(Habit.READS_B_AS_D)[0]
    history = either.history(person)
    typed = misread_line(person.owner.units[0]).replace("-", "")
    given = [
        event.payload["near"]
        for event in history.events
        if event.kind == "code_given" and event.payload["code_key"] == typed
    ]

    assert (history.row.case.verdict, history.unit.code) == ("missing", None)
    assert given == [True, True]
    assert ("code_given", "near") in set_aside(history)


def test_a_unit_that_was_sold_on_waits_for_a_person_and_its_buyer_takes_nothing_over(either: Told) -> None:
    sellers = either.with_habit(Habit.SOLD_ON)
    histories = [either.history(one) for one in sellers]
    first = histories[0]

    assert len(histories) == 3
    assert all(("passed_on", "no signs") in set_aside(one) for one in histories)
    assert ("passed_on", "stranger") in set_aside(first)
    assert [part.owner.name for part in first.parts] == [sellers[0].owner.name]
    assert first.row.case.stopped is Stopped.NO_WORD
    assert any("Ottoline Farrowgate" in text for text in first.texts.values())


def test_a_changed_answer_climbs_and_what_is_less_is_set_aside_for_a_person(either: Told) -> None:
    changing = either.with_habit(Habit.CHANGES)
    found = [
        [str(event.payload["segment"]) for event in either.history(one).events if event.kind == "use_stated"]
        for one in changing
    ]
    worse = [one for one, said in zip(changing, found, strict=True) if said[-1] == "symptomatic"]
    better = [
        one
        for one, said in zip(changing, found, strict=True)
        if said[-1] == "unridden" and said[0] == "ridden_no_symptoms"
    ]

    assert all(len(said) >= 2 for said in found)
    assert worse
    assert {either.history(one).row.case.segment.value for one in worse} == {"symptomatic"}
    assert {either.history(one).row.case.segment.value for one in better} <= {"ridden_no_symptoms"}
    assert all(("use_stated", "contradicts") in set_aside(either.history(one)) for one in better)


def test_who_goes_on_using_it_stands_first_among_what_is_due(told: Told) -> None:
    with told.world() as world:
        due = looking.due(world, on=DAY)

    assert [step.step for step in due.steps[:2]] == ["call-now", "call-now"]


def test_what_came_by_telephone_and_mail_is_written_down_with_its_words(either: Told) -> None:
    rings = either.history(either.with_habit(Habit.RINGS)[0])
    hurt = either.history(either.with_habit(Habit.HURT)[0])
    by_mail = [either.history(one).row.case.stopped for one in either.with_habit(Habit.BY_MAIL)]

    assert {("call_made", "phone"), ("help_asked", "page")} <= {(one.kind, one.via) for one in rings.events}
    assert any("her daughter" in text for text in rings.texts.values())
    assert any("kierownica" in text for text in hurt.texts.values())
    assert set(by_mail) == {Stopped.STOPPED}


def test_no_text_of_the_demo_leads_to_a_real_mailbox_or_telephone(either: Told) -> None:
    """RFC 2606, section 2; the ranges kept for fiction as in the lists' own test."""
    with either.world() as world, world.register.look() as tx:
        rows = [row for rows in tx.people.contacts().values() for row in rows]
    mails = {row.value for row in rows if row.channel == "email"}
    phones = {row.value for row in rows if row.channel == "phone"}
    typed = [
        value for one in either.story.readers.trail for name, value in one.sent.items() if name == "email"
    ]

    assert [one for one in (*mails, *typed) if one and not re.search(r"\.example\)?$", one)] == []
    assert [one for one in phones if not FICTION.fullmatch(one)] == []


def test_no_page_shows_one_owners_words_to_another(either: Told) -> None:
    faults = list(_shown_to_others(either))

    assert len(either.story.readers.trail) > 1000
    assert faults == []


def _shown_to_others(told: Told) -> Iterator[str]:
    owners = told.story.lists.owners
    links = {
        told.story.readers.link(one.owner).rsplit("/", 1)[-1]: one.owner.name for one in told.story.people
    }
    own_links = {name: signs for signs, name in links.items()}
    forwarded = own_links[told.with_habit(Habit.FORWARDS)[0].owner.name]
    mailboxes = {one.email: one.name for one in owners if "@" in one.email}
    codes = {re.sub(r"\W", "", unit.stamped): one.name for one in owners for unit in one.units}
    long_names = [one.name for one in owners if len(one.name) > 7]
    for page in told.story.readers.trail:
        typed = " ".join(page.sent.values())
        seen = re.sub(r"&#39;|&#34;|&amp;", "'", page.body)
        for mail in set(re.findall(r"[\w.+-]+@[\w.-]+\.example", seen)) - {"safety@aldmere.example"}:
            if mailboxes.get(mail, page.who) != page.who and mail not in typed:
                yield f"{page.who} sees {mail}"
        for code in set(re.findall(r"QM\W?\d{4}\W?[A-D]\d{4}", seen)):
            key = re.sub(r"\W", "", code)
            if codes.get(key, page.who) != page.who and key not in re.sub(r"\W", "", typed):
                yield f"{page.who} sees {code}"
        for signs in set(re.findall(r"\b[0-9A-Z]{10}\b", seen)) & links.keys():
            scanned = page.who == "scanner" and signs in page.path
            stranger = page.who.startswith("stranger") and signs == forwarded
            if links[signs] != page.who and not scanned and not stranger:
                yield f"{page.who} sees the link of another"
        for name in long_names:
            if name != page.who and name in seen and name not in typed:
                yield f"{page.who} sees {name}"


def test_no_page_failed_and_only_a_scanner_met_one_that_is_not_there(either: Told) -> None:
    answers = Counter((one.status, one.who == "scanner") for one in either.story.readers.trail)

    assert {status for status, _ in answers} <= {200, 404}
    assert (404, False) not in answers


def test_the_diary_ends_with_the_grid_and_commands_to_try(told: Told) -> None:
    assert "480 sold = 423 in owners' hands + 43 cleared" in told.said
    assert told.said.count("--on 2026-03-09") == 4
    for word in ("status", "due", "case", "bulletin", "serve", "proofs"):
        assert f"\n  notices {word} " in told.said
    assert str(told.folder) in told.said


def test_a_fleet_of_twelve_answers_for_each_of_its_units(told: Told) -> None:
    fleet = next(one for one in told.story.people if one.owner.firm)
    cases = [told.history(fleet, place).row.case for place in range(12)]

    assert len(fleet.owner.units) == 12
    assert {case.stopped for case in cases} == {Stopped.STOPPED}
