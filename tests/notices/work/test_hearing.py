"""What staff hear goes to the right case, and only what may close one does."""

from datetime import date
from pathlib import Path

import pytest

from notices.work.hearing import WORDS, HearingError, Word, hear
from tests.folders import Desk, a_desk

CODE = "QM-2534-B0172"


def told(
    desk: Desk, what: str, which: str = CODE, value: str = "", text: str = "", on: date | None = None
) -> list[str]:
    """Record what Tom heard on the telephone."""
    return hear(
        desk.world, which, Word(what=what, by="Tom Byrne", via="phone", value=value, text=text, on=on)
    )


def signed(desk: Desk) -> None:
    """Import and sign revision 1."""
    desk.take()
    desk.sign()


def test_a_mail_reply_reaches_the_right_case_by_its_address(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        units = told(desk, "stopped", "Anna@Mail.example")
        case = desk.case(CODE)

    assert units == [case.unit_id]
    assert (case.stopped.value, case.stage.key) == ("stopped", "answered")


def test_a_word_for_one_unit_asks_which_of_several(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)

        assert len(told(desk, "stopped", "bernd@post.example")) == 2
        with pytest.raises(HearingError, match="names 2 units"):
            told(desk, "use", "bernd@post.example", "unridden")


def test_the_whole_way_to_fixed(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, "stopped")
        told(desk, "use", value="ridden_no_symptoms")
        told(desk, "remedy", value="repair")
        told(desk, "visit", on=date(2026, 3, 5))
        told(desk, "done")
        done = desk.case(CODE)
        told(desk, "confirmed")
        fixed = desk.case(CODE)
        told(desk, "taken-back")
        back = desk.case(CODE)

    assert (done.stage.key, done.ending) == ("done_unconfirmed", None)
    assert (fixed.stage.key, fixed.ending) == ("closed", "fixed")
    assert (back.stage.key, back.ending) == ("done_unconfirmed", None)


def test_not_sure_counts_as_with_symptoms(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, "use", value="unknown")

        assert desk.case(CODE).segment == "symptomatic"


def test_lowering_a_segment_needs_a_reason_which_is_kept_apart_from_the_event(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, "use", value="symptomatic")
        with pytest.raises(HearingError, match="needs a reason"):
            told(desk, "lower", value="unridden")
        told(desk, "lower", value="unridden", text="The knocking was the bell.")

        assert desk.case(CODE).segment == "unridden"


def test_a_code_that_lies_near_an_affected_one_clears_nothing_by_telephone(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, "code", value="QM-2534-D0172")
        case = desk.case(CODE)

    assert case.verdict == "affected"
    assert case.help_on is not None


def test_a_code_read_out_for_a_unit_without_one_is_judged(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, "code", "samir@post.example", "QM-2519-A7777")

        assert desk.case("QM-2519-A7777").verdict == "cleared"


def test_a_bounce_takes_the_case_back_and_the_dead_address_out_of_use(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        desk.post()
        desk.send()
        notified = desk.case(CODE).stage.key
        told(desk, "bounced", value="5.1.1")
        case = desk.case(CODE)

        assert (notified, case.stage.key) == ("notified", "listed")
        assert desk.states()["anna@mail.example"] == ["bounced"]
        with desk.world.register.look() as tx:
            contacts = tx.people.contacts([case.keeper_id or ""])[case.keeper_id or ""]
        assert [row.fault for row in contacts if row.channel == "email"] == ["came back 5.1.1"]


def test_a_policys_refusal_leaves_the_owner_reachable(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        desk.post()
        desk.send()
        told(desk, "bounced", value="5.7.1")
        case = desk.case(CODE)
        with desk.world.register.look() as tx:
            contacts = tx.people.contacts([case.keeper_id or ""])[case.keeper_id or ""]

    assert [row.fault for row in contacts if row.channel == "email"] == [None]


@pytest.mark.parametrize(
    ("what", "value", "why"),
    [
        ("use", "sometimes", "how it was used is one of"),
        ("remedy", "gift", "the signed revision's remedies are: repair, refund"),
        ("call", "shouted", "the outcome of a call is one of"),
        ("closed", "fixed", "as fixed only by confirmed"),
        ("closed", "refunded", "needs a reason"),
        ("reopen", "", "needs a reason"),
        ("visit", "", "needs a day"),
        ("code", " - ", "needs the code"),
        ("email", "anna(at)mail.example", "cannot be used"),
        ("bounced", "5.1.1", "no notice to this owner"),
        ("dance", "", "is none of"),
    ],
)
def test_what_cannot_be_written_down_says_what_is_missing(
    tmp_path: Path, what: str, value: str, why: str
) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        before = desk.kinds(desk.case(CODE))
        with pytest.raises(HearingError, match=why):
            told(desk, what, value=value)

        assert desk.kinds(desk.case(CODE)) == before


def test_every_word_has_a_test_or_stands_in_the_whole_way() -> None:
    assert {"stopped", "in-use", "use", "confirmed", "closed", "bounced"} <= set(WORDS)


def test_passing_on_leaves_the_unit_without_an_owner_and_open(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, "passed-on")
        case = desk.case(CODE)
        with pytest.raises(HearingError, match="nobody is known"):
            told(desk, "phone", value="020 7946 0018")

    assert (case.keeper_id, case.ending) == (None, None)


@pytest.mark.parametrize(
    ("what", "value", "text", "stage"),
    [
        ("in-use", "", "", "answered"),
        ("parts", "K1", "", "under_way"),
        ("visit-missed", "", "", "listed"),
        ("help", "large_print", "Please write large.", "listed"),
        ("call", "spoke", "", "listed"),
        ("phone", "020 7946 0018", "", "listed"),
        ("email", "anna@second.example", "", "listed"),
        ("closed", "unreachable", "", "closed"),
    ],
)
def test_each_word_moves_the_case_as_far_as_it_may(
    tmp_path: Path, what: str, value: str, text: str, stage: str
) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, what, value=value, text=text, on=date(2026, 3, 9))

        assert desk.case(CODE).stage.key == stage


def test_a_reopened_case_goes_on(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c", revision=1) as desk:
        signed(desk)
        told(desk, "closed", value="unreachable")
        told(desk, "reopen", text="Her son rang.")

        assert desk.case(CODE).ending is None
