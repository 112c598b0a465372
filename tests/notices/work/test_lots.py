"""A withdrawn lot reaches each unit that got parts of it, opens what was closed with them, and closes nothing."""

from email.message import EmailMessage
from pathlib import Path

import pytest

from notices.cases.case import Case, Stage, Stopped
from notices.work import looking
from notices.work.hearing import HearingError, Word, hear
from notices.work.lots import Withdrawn, withdraw_lot
from notices.work.proving import needed
from tests.folders import Desk, a_desk

FIXED, SENT, OTHER = "QM-2534-B0172", "QM-2541-B0999", "QM-2533-C0001"
WHY = "The nuts have the wrong thread."


def told(desk: Desk, which: str, what: str, value: str = "", *, lot: str = "") -> None:
    """Record what Tom did or heard."""
    hear(desk.world, which, Word(what=what, by="Tom Byrne", via="phone", value=value, lot=lot))


def packed(desk: Desk) -> None:
    """Send the recall notice; three kits go out, two of lot K3, and one of these is fitted and confirmed."""
    desk.take()
    desk.sign()
    desk.post()
    desk.send()
    for which, lot in ((FIXED, "k 3"), (SENT, "K-3"), (OTHER, "K4")):
        told(desk, which, "parts", "QL-204", lot=lot)
    told(desk, FIXED, "stopped")
    told(desk, FIXED, "done", "K3")
    told(desk, FIXED, "confirmed")


def withdraw(desk: Desk, lot: str = "K3") -> Withdrawn:
    """Withdraw a lot."""
    return withdraw_lot(desk.world, lot, why=WHY, by="Tom Byrne")


def due(desk: Desk) -> dict[str, tuple[str, str]]:
    """Return step and reason by unit."""
    return {step.unit_id: (step.step, step.why) for step in looking.due(desk.world).steps}


def _text(mail: EmailMessage) -> str:
    body = mail.get_body(("plain",))
    return str(body.get_content()) if body else ""


def test_it_reaches_those_who_got_some_and_nobody_else(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        done = withdraw(desk)
        fixed, sent, other = (desk.case(code) for code in (FIXED, SENT, OTHER))

    assert (done.lot, sorted(done.told)) == ("K3", sorted([fixed.unit_id, sent.unit_id]))
    assert done.reopened == (fixed.unit_id,)
    assert (other.lot_withdrawn, other.alarm, other.lots) == ("", "", ("K4",))


def test_a_case_closed_with_it_is_open_again_and_its_owner_may_be_using_the_unit(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        before = desk.case(FIXED)
        withdraw(desk)
        after = desk.case(FIXED)

    assert (before.ending, before.stopped) == ("fixed", Stopped.STOPPED)
    assert (after.ending, after.stage, after.stopped) == (None, Stage.ANSWERED, Stopped.NO_WORD)


def test_a_kit_on_the_way_is_no_step_on_the_way_any_more(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        withdraw(desk)
        sent, other = desk.case(SENT), desk.case(OTHER)

    assert (sent.stage, other.stage) == (Stage.REMEDY_AGREED, Stage.UNDER_WAY)


def test_each_of_them_is_to_be_called_until_somebody_has_spoken(tmp_path: Path) -> None:
    why = "got parts of a withdrawn lot: not to be fitted, and not to be used where they are"
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        withdraw(desk)
        before = due(desk)
        told(desk, FIXED, "call", "no-answer")
        unanswered = due(desk)
        told(desk, FIXED, "call", "spoke")
        after = due(desk)
        fixed, sent = desk.case(FIXED).unit_id, desk.case(SENT).unit_id

    assert before[fixed] == before[sent] == unanswered[fixed] == ("call-now", why)
    assert after[sent] == ("call-now", why)
    assert fixed not in after


def test_each_of_them_is_owed_a_correction_once_though_the_saying_is_the_same(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        withdraw(desk)
        owing = [one for one in needed(desk.world).owing if one.address]
        owed = {(one.owed.kind, one.owed.occasion, one.owed.rank) for one in owing}
        desk.sign()
        made = desk.post().made
        desk.send()
        again = desk.post().made
        texts = [" ".join(_text(mail).split()) for mail in desk.mails()]

    assert owed == {("correct-parts", "correct/1/K3", 1)}
    assert (made, again) == (2, 0)
    assert sum("There is a fault in what we sent you for the repair." in text for text in texts) == 1
    assert sum("Bauen Sie es nicht ein." in text for text in texts) == 1


def test_it_is_not_confirmed_as_fixed_before_other_parts_have_taken_its_place(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        withdraw(desk)
        with pytest.raises(HearingError, match="lot K3, which was withdrawn"):
            told(desk, FIXED, "confirmed")
        told(desk, FIXED, "done", "K5")
        told(desk, FIXED, "confirmed")
        fixed = desk.case(FIXED)

    assert (fixed.ending, fixed.lot_withdrawn, fixed.lots) == ("fixed", "", ("K3", "K5"))


@pytest.mark.parametrize(("what", "value", "lot"), [("parts", "QL-204", "k3"), ("done", "K3", "")])
def test_what_goes_out_or_is_fitted_after_that_raises_the_alarm_at_once(
    tmp_path: Path, what: str, value: str, lot: str
) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        withdraw(desk)
        told(desk, OTHER, what, value, lot=lot)
        other = desk.case(OTHER)

    assert (other.lot_withdrawn, other.alarm) == ("K3", "bad_lot")


def test_doing_it_again_reaches_nobody_twice(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        withdraw(desk)
        again = withdraw(desk, "k3")

    assert (again.told, again.reopened) == ((), ())


def test_who_gave_the_unit_back_is_left_in_peace(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        hear(
            desk.world,
            SENT,
            Word(
                what="closed", by="Tom Byrne", via="counter", value="refunded", text="Collected, receipt 12."
            ),
        )
        done = withdraw(desk)
        sent = desk.case(SENT)

    assert sent.unit_id not in done.told
    assert (sent.ending, sent.alarm) == ("refunded", "")


@pytest.mark.parametrize(
    ("lot", "why", "message"),
    [
        ("K3", " ", "needs a reason"),
        ("K9", WHY, "no unit got parts of lot K9; lots known: K3, K4"),
        ("-", WHY, "no unit"),
    ],
)
def test_a_lot_that_nobody_got_and_a_missing_reason_are_said(
    tmp_path: Path, lot: str, why: str, message: str
) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        packed(desk)
        before = desk.case(FIXED)
        with pytest.raises(HearingError, match=message):
            withdraw_lot(desk.world, lot, why=why, by="Tom Byrne")

        assert desk.case(FIXED) == before


def of_a_safe_unit(desk: Desk) -> Case:
    """Clear the line of a unit that has got a kit, and withdraw the kit's lot."""
    packed(desk)
    desk.wording(3)
    desk.sign()
    withdraw(desk, "K4")
    return desk.case(OTHER)


def test_the_owner_of_a_cleared_unit_is_called_and_gets_no_mail_that_says_two_things(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        other = of_a_safe_unit(desk)
        owed = [
            one.owed.kind
            for one in needed(desk.world).owing
            if other.unit_id in {u.unit_id for u in one.units}
        ]
        steps = due(desk)

    assert (other.verdict, other.ending, other.alarm) == ("cleared", "cleared", "bad_lot")
    assert steps[other.unit_id][0] == "call-now"
    assert "correct-parts" not in owed
