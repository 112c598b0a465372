"""Worse knowledge goes through the whole house: whom each revision reaches, whom it leaves in peace, who is called."""

import shutil
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from pathlib import Path

import pytest

from audiences.segments import Segment
from notices import assembly
from notices.cases.case import Case, Stage, Stopped
from notices.cases.events import Event, moment
from notices.cases.folding import fold
from notices.cases.owed import CORRECTIONS
from notices.cases.records import Told as Notice
from notices.cli.__main__ import run
from notices.compose.filling import fill
from notices.demo import run as demo
from notices.demo.kits import LOT
from notices.demo.staff import DUBLIN
from notices.settings import Settings
from notices.work import looking, posting, signing, verifying
from notices.work.ports import World
from tests import needs
from tests.demo_runs import Told, tell

PARTS = (
    "The repair kit that we sent you, lot K3, holds a wrong lock nut. Do not fit it. If it is fitted, do not ride:"
    " the steering can come loose."
)
_MORE = pytest.mark.skipif(
    not needs.EVERYTHING, reason="two more runs of the demo; NOTICES_TESTS=all has them"
)


@pytest.fixture(scope="session")
def whole_of_seed_1(tmp_path_factory: pytest.TempPathFactory) -> Told:
    return tell(tmp_path_factory.mktemp("demo") / "whole", 1, until=demo.END)


@pytest.fixture(scope="session")
def whole_of_seed_20260309(tmp_path_factory: pytest.TempPathFactory) -> Told:
    return tell(tmp_path_factory.mktemp("demo") / "whole", 20260309, until=demo.END)


@pytest.fixture(
    params=[
        "told_to_the_end",
        pytest.param("whole_of_seed_1", marks=_MORE),
        pytest.param("whole_of_seed_20260309", marks=_MORE),
    ]
)
def whole(request: pytest.FixtureRequest) -> Told:
    found: Told = request.getfixturevalue(request.param)
    return found


def sums(found: looking.Status | None) -> tuple[int, int, int, int, int]:
    assert found is not None
    one = found.standing
    return (one.sold, one.in_hands, one.cleared, one.put_away, one.owner_unknown)


def of_line(told: Told, line: str) -> set[str]:
    return {
        told.story.references[one.unit.stamped] for one in told.story.lists.sales if one.unit.line == line
    }


def corrections(told: Told) -> dict[date, list[Notice]]:
    """Return what was sent as a correction, by the day on which it went."""
    with told.world() as world, world.register.look() as tx:
        found: dict[date, list[Notice]] = defaultdict(list)
        for one in tx.record.told():
            if one.kind in CORRECTIONS:
                assert one.at is not None
                found[one.at.astimezone(DUBLIN).date()].append(one)
    return dict(found)


def units_of(notices: list[Notice]) -> list[str]:
    return sorted(one.unit_id for one in notices)


def streams(told: Told) -> dict[str, list[Event]]:
    with told.world() as world, world.register.look() as tx:
        return {events[0].stream.removeprefix("unit:"): events for events in tx.events.streams("unit:")}


def cases(told: Told) -> dict[str, Case]:
    with told.world() as world, world.register.look() as tx:
        return {row.case.unit_id: row.case for row in tx.cases.all()}


def first_words(told: Told, notices: list[Notice]) -> Mapping[str, set[str]]:
    """Return the first passage of each notice's text, by its language."""
    with told.world() as world, world.register.look() as tx:
        postings = list(tx.outbox.postings(posting_ids=sorted({one.posting_id for one in notices})))
        variants = tx.variants.get(sorted({one.fingerprint for one in postings}))
    found: dict[str, set[str]] = defaultdict(set)
    for one in postings:
        row = variants[one.fingerprint]
        text = fill(row.content, one.fill).text
        found[row.language].add(" ".join(text.partition("\n\n")[0].split()))
    return found


def test_the_figures_of_12_march_come_out_with_any_seed(whole: Told) -> None:
    story = whole.story
    assert story.twelfth is not None
    grid = story.twelfth.standing.grid

    assert sums(story.first) == (480, 466, 0, 0, 14)
    assert sums(story.twelfth) == (480, 397, 69, 0, 14)
    assert sums(story.last) == (480, 428, 38, 0, 14)
    assert sum(row["listed"] for row in grid.values()) == 39
    for one in (story.twelfth.standing, story.last.standing):
        assert sum(count for row in one.grid.values() for count in row.values()) == one.in_hands


def test_the_39_not_reached_on_12_march_are_34_without_mail_and_five_that_came_back(whole: Told) -> None:
    without = {
        whole.story.references[unit.stamped]
        for owner in whole.story.lists.owners
        if owner.mailbox in {"none", "dead"}
        for unit in owner.units
    }
    with whole.world() as world, world.register.look() as tx:
        known = looking.known_on(world, tx, date(2026, 3, 11))
    assert known.rows is not None
    listed = {
        row.case.unit_id
        for row in known.rows
        if row.case.stage is Stage.LISTED and row.case.verdict != "cleared"
    }

    assert len(without) == 39
    assert listed == without


def test_corrections_go_on_four_days_and_on_no_other(whole: Told) -> None:
    found = corrections(whole)

    assert [(day.isoformat(), {one.kind for one in found[day]}) for day in sorted(found)] == [
        ("2026-03-05", {"correct"}),
        ("2026-03-11", {"correct-stop"}),
        ("2026-03-18", {"correct-safe"}),
        ("2026-03-30", {"correct-parts"}),
    ]


def test_a_widened_remedy_reaches_whom_it_concerns_and_leaves_the_unridden_in_peace(whole: Told) -> None:
    sent = corrections(whole)[date(2026, 3, 5)]
    signed, gone = datetime(2026, 3, 5, 15, 20, tzinfo=DUBLIN), datetime(2026, 3, 5, 15, 30, tzinfo=DUBLIN)
    happened = streams(whole)
    then = {unit_id: fold(unit_id, _until(events, signed)) for unit_id, events in happened.items()}
    moving = {
        unit_id
        for unit_id, events in happened.items()
        if any(event.kind == "use_stated" and signed <= event.at <= gone for event in events)
    }
    recalled = {
        unit_id for unit_id, events in happened.items() if any(map(_recalled, _until(events, signed)))
    }
    concerned = {unit_id for unit_id in recalled if then[unit_id].verdict != "cleared"} - moving
    unridden = {unit_id for unit_id in concerned if then[unit_id].segment is Segment.UNRIDDEN}

    assert len(unridden) > 10
    assert set(units_of(sent)) - moving == concerned - unridden
    assert {one.segment for one in sent} == {"ridden_no_symptoms", "symptomatic", "unknown"}


def _until(events: list[Event], at: datetime) -> list[Event]:
    return [event for event in events if event.recorded_at <= at]


def _recalled(event: Event) -> bool:
    return event.kind == "notice_handed_over" and event.payload["occasion"] == "first"


def test_line_c_is_told_that_it_is_cleared_26_units_and_nobody_else(whole: Told) -> None:
    sent = corrections(whole)[date(2026, 3, 11)]

    assert len(sent) == 26
    assert set(units_of(sent)) == of_line(whole, "C")
    assert {(one.verdict, one.occasion) for one in sent} == {("cleared", "correct/3")}


def test_line_d_is_told_that_it_is_affected_31_units_and_nobody_else(whole: Told) -> None:
    sent = corrections(whole)[date(2026, 3, 18)]

    assert len(sent) == 31
    assert set(units_of(sent)) == of_line(whole, "D")
    assert {(one.verdict, one.occasion) for one in sent} == {("affected", "correct/4")}


def test_told_safe_and_now_affected_goes_before_everything_else_of_that_day(whole: Told) -> None:
    sent = {one.posting_id for one in corrections(whole)[date(2026, 3, 18)]}
    with whole.world() as world, world.register.look() as tx:
        tried = sorted(
            (one.began_at, one.posting_id)
            for one in tx.record.tries()
            if one.began_at.astimezone(DUBLIN).date() == date(2026, 3, 18)
        )
        ranks = {one.rank for one in tx.outbox.postings(posting_ids=sorted(sent))}

    assert ranks == {0}
    assert {posting_id for _, posting_id in tried[: len(sent)]} == sent


def test_its_first_words_say_what_was_said_and_what_holds_now(whole: Told) -> None:
    safe = first_words(whole, corrections(whole)[date(2026, 3, 18)])
    stop = first_words(whole, corrections(whole)[date(2026, 3, 11)])

    assert safe["en"] == {
        "We told you that your bicycle was not affected. That was wrong. It is affected: do not ride it."
    }
    assert [one.partition(" Es ist")[0] for one in safe["de"]] == [
        "Wir haben Ihnen mitgeteilt, dass Ihr Rad nicht betroffen ist. Das war falsch."
    ]
    assert stop["en"] == {
        "We told you that your bicycle was affected. As far as we know on 11 March 2026, it is not."
    }


def test_31_stood_on_the_call_list_of_18_march_by_telephone_or_by_letter(whole: Told) -> None:
    calls = whole.story.calls[4]

    assert {step.unit_id for step in calls} == of_line(whole, "D")
    assert {(step.step, step.on, step.why) for step in calls} == {
        ("call-now", date(2026, 3, 18), "told safe before, and now affected")
    }
    assert all(step.to for step in calls)


def test_a_call_or_an_answer_takes_an_owner_off_the_call_list_and_a_mail_does_not(whole: Told) -> None:
    happened = streams(whole)
    since = datetime(2026, 3, 18, 14, 0, tzinfo=DUBLIN)
    spoken = {
        unit_id
        for unit_id in of_line(whole, "D")
        if any(_a_person_spoke(event) and event.at >= since for event in happened[unit_id])
    }
    with whole.world() as world:
        listed = {
            step.unit_id
            for step in looking.due(world).steps
            if step.why == "told safe before, and now affected"
        }

    assert spoken
    assert listed
    assert listed == of_line(whole, "D") - spoken


def _a_person_spoke(event: Event) -> bool:
    called = event.kind == "call_made" and event.payload["outcome"] == "spoke"
    return called or (event.kind in {"stop_stated", "use_stated"} and event.payload["signs"] is True)


def test_what_was_cleared_comes_back_into_its_owners_hands_with_no_word_that_it_stands_still(
    whole: Told,
) -> None:
    now = cases(whole)
    units = of_line(whole, "D")
    silent = [
        now[unit_id]
        for unit_id in units
        if now[unit_id].alarm and now[unit_id].stopped is not Stopped.PRESSED
    ]

    assert {(now[unit_id].verdict, now[unit_id].ending) for unit_id in units} == {("affected", None)}
    assert silent
    assert {(case.stopped, case.stage) for case in silent} == {(Stopped.NO_WORD, Stage.NOTIFIED)}


def test_who_does_not_answer_that_correction_is_written_to_again_from_that_day_on(whole: Told) -> None:
    with whole.world() as world, world.register.look() as tx:
        again = [
            one
            for one in tx.record.told()
            if one.kind == "remind" and one.at and one.at.astimezone(DUBLIN).date() >= date(2026, 3, 18)
        ]
    units = {one.unit_id for one in again} & of_line(whole, "D")
    days = {one.at.astimezone(DUBLIN).date() for one in again if one.at and one.unit_id in units}

    assert units
    assert days == {date(2026, 3, 24)}


def test_a_withdrawn_lot_reaches_its_40_and_opens_nine_cases_again(whole: Told) -> None:
    happened = streams(whole)
    sent = {
        unit_id
        for unit_id, events in happened.items()
        if any(event.kind == "parts_sent" and event.payload["lot"] == LOT for event in events)
    }
    reopened = {
        unit_id
        for unit_id, events in happened.items()
        if any(event.kind == "case_reopened" for event in events)
    }
    closed = {
        unit_id
        for unit_id in sent
        if any(
            event.kind == "case_closed" and event.payload["ending"] == "fixed" for event in happened[unit_id]
        )
    }
    told = corrections(whole)[date(2026, 3, 30)]

    assert len(sent) == 40
    assert units_of(told) == sorted(sent)
    assert {one.occasion for one in told} == {f"correct/5/{LOT}"}
    assert len(reopened) == 9
    assert reopened == closed
    assert {step.unit_id for step in whole.story.calls[5]} == sent


def test_no_case_with_a_part_of_the_lot_stands_as_fixed_and_the_others_stay_closed(whole: Told) -> None:
    now = cases(whole)
    of_lot = [case for case in now.values() if LOT in case.lots]

    assert {case.lot_withdrawn for case in of_lot} == {LOT}
    assert {case.ending for case in of_lot} == {None}
    assert {case.stage for case in of_lot} <= {Stage.ANSWERED, Stage.REMEDY_AGREED}
    assert sum(case.ending == "fixed" for case in now.values()) >= 18


def test_the_mail_to_them_says_first_not_to_fit_it_and_not_to_ride(whole: Told) -> None:
    words = first_words(whole, corrections(whole)[date(2026, 3, 30)])

    assert [one.partition(" We will bring")[0] for one in words["en"]] == [PARTS]


def test_each_revision_corrects_a_unit_at_most_once(whole: Told) -> None:
    count = Counter(
        (one.unit_id, one.occasion.split("/")[1]) for sent in corrections(whole).values() for one in sent
    )

    assert set(count.values()) == {1}


def test_the_record_is_whole_and_every_case_folds_to_what_stands_there(whole: Told) -> None:
    with whole.world() as world, world.register.look() as tx:
        found = verifying.verify(tx)

    assert [str(finding) for finding in found.findings] == []


def test_the_bulletin_explains_every_revision(whole: Told) -> None:
    page = (whole.folder / "out" / "bulletin" / "en.txt").read_text("utf-8")

    for why in (
        "Ball joints of bicycles that have been ridden can be damaged too.",
        "Line C is cleared.",
        "affected after all",
        "Repair kits of lot K3",
    ):
        assert why in " ".join(page.split())


@pytest.fixture
def mended(whole: Told, tmp_path: Path) -> Iterator[World]:
    """Yield a copy of the demo's folder whose draft differs in a comma, under the next number."""
    folder = tmp_path / "copy"
    shutil.copytree(whole.folder, folder)
    file = folder / "campaign.yaml"
    text = file.read_text("utf-8")
    assert "Then you cannot steer." in text
    text = text.replace("can break. Then you cannot steer.", "can break, then you cannot steer.")
    file.write_text(text.replace("number: 5, day: 2026-03-30", "number: 6, day: 2026-03-31"), "utf-8")
    for po in (folder / "translations").glob("*.po"):
        old = po.read_text("utf-8")
        po.write_text(
            old.replace("can break. Then you cannot steer.", "can break, then you cannot steer."), "utf-8"
        )
    now = moment("2026-03-31T19:00:00.000000Z")
    with assembly.opened(folder, Settings(), now=lambda: now) as world:
        yield world


def test_a_mended_comma_corrects_nobody(mended: World) -> None:
    planned = signing.plan(mended)
    done = signing.sign(mended, by="Maeve Corrigan", unread_too=True)
    posting.prepare(mended)
    with mended.register.look() as tx:
        new = [one for one in tx.record.told() if one.occasion.startswith("correct/6")]

    assert (planned.number, planned.adopts, dict(planned.verdicts)) == (6, True, {})
    assert (planned.corrections, planned.instructions, planned.calls) == (0, 0, 0)
    assert (done.number, done.adopted) == (6, True)
    assert new == []


def test_the_command_takes_only_a_day_on_which_the_story_can_stop(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status = run(["demo", "--into", str(tmp_path / "x"), "--until", "2026-03-01"])

    assert status == 2
    assert capsys.readouterr().err == "notices: --until is a day from 2026-03-09 to 2026-03-31\n"
    assert not (tmp_path / "x").exists()
