"""Markets that wait: what promises a remedy is held back, what says stop is not."""

from datetime import timedelta
from pathlib import Path

import pytest

from notices import assembly
from notices.cases.events import CAMPAIGN
from notices.cases.outgoing import Outcome
from notices.cases.records import Posting
from notices.work import gates
from notices.work.dispatching import Sender, dispatch
from notices.work.looking import status
from notices.work.owing import held_back
from tests.folders import LEAD, LIST, RECALLED, Desk, a_desk

EUROPEANS = {"bernd@post.example", "samir@post.example"}


def wait(desk: Desk, market: str = "EU") -> int:
    return gates.wait(desk.world, market, by=LEAD, reason="counsel reads it")


def release(desk: Desk, market: str = "EU") -> None:
    gates.release(desk.world, market, by=LEAD, reason="counsel has read it")


def test_what_stood_ready_is_withdrawn_and_after_the_release_goes_once(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take()
        desk.sign()
        desk.post()
        gone = wait(desk)
        held = desk.post().held
        counted = held_back(desk.world)
        while_held = desk.states()
        release(desk)
        made = desk.post().made
        sent = desk.send()

    assert (gone, [(one.gate.market, one.owners) for one in held]) == (2, [("EU", 2)])
    assert counted == held
    assert {address: while_held[address][0] for address in EUROPEANS} == dict.fromkeys(EUROPEANS, "withdrawn")
    assert while_held["anna@mail.example"] == ["waiting"]
    assert (made, sent.handed_over) == (2, 3)


def test_a_wait_that_comes_while_a_run_sends_holds_back_what_has_not_begun(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        rows = [f"{n},A {n},a{n}@mail.example,,,,GB,en,,,GB" for n in range(9)]
        desk.take("\n".join([LIST.split("\n", 1)[0], *rows, ""]))
        desk.sign()
        desk.post()
        handed: list[Posting] = []

        def seen(posting: Posting, _outcome: Outcome) -> None:
            handed.append(posting)
            if len(handed) == 3:
                wait(desk, "GB")

        post = assembly.folder_post(desk.root / "sent")
        sender = Sender(worker="t:1:1", gone=lambda _: False, sleep=lambda _: None, halted=lambda: None)
        sent = dispatch(desk.world, post.way, sender, by=LEAD, pace=post.pace, seen=seen)
        with desk.world.register.look() as tx:
            whys = {one.why for one in tx.outbox.postings() if one.state == "withdrawn"}

    assert (sent.handed_over, sent.withdrawn) == (len(handed), 9 - len(handed))
    assert len(handed) < 9
    assert whys == {"the market GB waits: counsel reads it (Ines Hall)"}


def test_who_was_told_safe_and_is_affected_after_all_is_warned_though_the_market_waits(
    tmp_path: Path,
) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        for revision in (0, 1):
            desk.wording(revision)
            desk.sign()
            desk.post()
            desk.send()
            desk.now = RECALLED
        wait(desk)
        desk.wording(4)
        desk.sign()
        desk.post()
        warned = desk.send()
        subjects = [str(mail["Subject"]) for mail in desk.mails() if "bernd@" in str(mail["To"])]
        release(desk)
        desk.post()
        corrected = desk.send()

    assert (
        warned.handed_over == 2
    )  # line D in the held market, by a stop warning; Anna in the open one, by a correction
    assert sum("recall" not in one and "ückruf" not in one for one in subjects) == 2
    assert corrected.handed_over >= 1


def test_while_a_recall_waits_who_has_not_answered_is_reminded_of_the_stop_once(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.send()
        desk.now = RECALLED
        desk.wording(1)
        wait(desk)
        desk.sign()
        desk.post()
        reminded = desk.send()
        again = desk.post().made
        subjects = [str(mail["Subject"]) for mail in desk.mails() if "samir@" in str(mail["To"])]
        release(desk)
        desk.post()
        desk.send()
        after = [str(mail["Subject"]) for mail in desk.mails() if "samir@" in str(mail["To"])]

    assert (reminded.handed_over, again) == (3, 0)  # both who wait, of the warning; Anna gets the recall
    assert len(subjects) == 2
    assert subjects[0] in subjects[1] or subjects[1] in subjects[0]
    assert len(after) == 3


def test_a_reminder_of_the_stop_is_withdrawn_where_the_recall_may_go(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.send()
        desk.now = RECALLED + timedelta(days=3)
        desk.wording(1)
        wait(desk)
        desk.sign()
        desk.post()
        release(desk)
        desk.post()
        sent = desk.send()
        states = desk.states()

    assert (sent.handed_over, sent.withdrawn) == (4, 2)
    assert {one: sorted(states[one]) for one in EUROPEANS} == {
        "bernd@post.example": ["handed_over", "handed_over", "handed_over", "withdrawn"],
        "samir@post.example": ["handed_over", "handed_over", "withdrawn"],
    }


def test_a_stop_warning_that_waits_is_as_good_under_a_recall_that_waits(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        desk.take()
        wait(desk)
        desk.sign()
        desk.post()
        before = desk.states()
        desk.edit("The repair can be promised.", "A repair can be promised.")
        desk.sign()

        assert before == desk.states()
        assert {before[one][0] for one in EUROPEANS} == {"waiting"}


@pytest.mark.parametrize(
    ("market", "by", "reason", "fault"),
    [
        ("FR", LEAD, "counsel", "the campaign has no market FR; it has: EU, GB, US"),
        ("GB", " ", "counsel", "with a name and a reason"),
        ("GB", LEAD, " ", "with a name and a reason"),
    ],
)
def test_a_market_is_held_by_a_name_with_a_reason_or_not_at_all(
    tmp_path: Path, market: str, by: str, reason: str, fault: str
) -> None:
    with a_desk(tmp_path / "c") as desk:
        with pytest.raises(gates.MarketError, match=fault):
            gates.wait(desk.world, market, by=by, reason=reason)
        with desk.world.register.look() as tx:
            assert tx.events.stream(CAMPAIGN) == []


def test_a_market_that_does_not_wait_is_not_released(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk, pytest.raises(gates.MarketError, match="GB does not wait"):
        release(desk, "GB")


def test_who_held_and_who_released_a_market_stands_in_the_record_with_the_reason(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        wait(desk, "GB")
        release(desk, "GB")
        with desk.world.register.look() as tx:
            events = tx.events.stream(CAMPAIGN)
            texts = tx.papers.texts([str(one.payload["text"]) for one in events])
        standing = {one.market: one for one in gates.standing(desk.world)}

    assert [(one.kind, one.actor, one.payload["market"]) for one in events] == [
        ("market_held", LEAD, "GB"),
        ("market_released", LEAD, "GB"),
    ]
    assert [texts[str(one.payload["text"])].body for one in events] == [
        "counsel reads it",
        "counsel has read it",
    ]
    assert (standing["GB"].held, standing["GB"].why, standing["US"].held) == (False, "", True)


def test_before_a_campaign_can_be_read_no_market_is_known(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        (desk.root / "campaign.yaml").write_text("issuer: [", encoding="utf-8")

        assert gates.standing(desk.world) == ()
        assert held_back(desk.world) == ()
        assert status(desk.world).revision is None
        with pytest.raises(gates.MarketError, match="it has: none"):
            wait(desk)
