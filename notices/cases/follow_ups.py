"""What is due next for a case: what a person must do first, then the ladder to those who have not answered."""

from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import date

from audiences.verdicts import SAFE
from notices.campaign.models import Campaign, FollowUp
from notices.cases.case import BAD_LOT, HURT, TOLD_SAFE, WAS_CLEARED, Case, Stage
from notices.cases.due import Due
from notices.cases.working_days import after

CALL_NOW = "call-now"
CALL_BACK = "call-back"
LOOK = "look"
CONFIRM = "confirm"
INSTRUCT = "instruct"
ANOTHER_WAY = "another-way"

Next = Callable[[Case, Campaign, Collection[str]], Due | None]
"""Given a case, the campaign, and the channels by which its owner can be reached, return the next step."""

_ALARMS: Mapping[str, str] = {
    TOLD_SAFE: "told safe before, and now affected",
    WAS_CLEARED: "cleared before, and now affected",
    BAD_LOT: "got parts of a withdrawn lot: not to be fitted, and not to be used where they are",
}


def following(case: Case, campaign: Campaign, usable: Collection[str]) -> Due | None:
    """Return the next step for *case*, None where nothing is due.

    *usable* names the channels (email, text, phone, letter) by which a present holder can be reached. In order:
    a call today where somebody was hurt, where our word or our parts have put an owner in danger, where the unit is in
    use, or has symptoms and is not stopped; help that was asked for; an answer that a person must look at; the
    confirmation of work done; a changed instruction; then the campaign's ladder, in working days of its country. The
    first three hold for a case that has ended too.
    """
    if case.keeper_id is None:
        return _asked_for(case)
    first = _urgent(case, usable) or _asked_for(case)
    if case.ending is not None or case.verdict in SAFE:
        return first
    return first or _changed(case, usable) or _ladder(case, campaign, usable)


def going_by_itself(case: Case, campaign: Campaign, usable: Collection[str]) -> Due | None:
    """Return the next step as a sending looks at it: a call because of an alarm waits for a person, no reminder does.

    Who was told safe, or was sent what must not be used, is to hear of it by every way at once.
    """
    due = following(case, campaign, usable)
    if due is None or due.step != CALL_NOW or not case.alarm:
        return due
    return _ladder(case, campaign, usable) or due


def _urgent(case: Case, usable: Collection[str]) -> Due | None:
    """Return the call that cannot wait; where an alarm finds no telephone, somebody goes there or writes."""
    if case.urgent_on is None or case.help_what == HURT:
        return None
    if case.alarm:
        channel = next((one for one in ("phone", "letter", "email") if one in usable), "phone")
        return Due(step=CALL_NOW, channel=channel, on=case.urgent_on, why=_ALARMS[case.alarm])
    why = "still in use" if case.stopped == "in_use" else "symptoms, and no word that it is stopped"
    return Due(step=CALL_NOW, channel="phone", on=case.urgent_on, why=why)


def _asked_for(case: Case) -> Due | None:
    """Return the call that somebody asked for, or the answer that waits for a person's eyes."""
    if case.help_on and case.help_what == HURT:
        why = "somebody was hurt, or a part has broken"
        return Due(step=CALL_NOW, channel="phone", on=case.help_on, why=why)
    if case.help_on:
        why = f"asked for help: {case.help_what}" if case.help_what else "asked for help"
        return Due(step=CALL_BACK, channel="phone", on=case.help_on, why=why)
    if case.aside_on:
        return Due(
            step=LOOK, channel="person", on=case.aside_on, why="an answer was set aside: look, and decide"
        )
    return None


def _changed(case: Case, usable: Collection[str]) -> Due | None:
    channel = "email" if "email" in usable else "phone"
    if case.stage is Stage.DONE_UNCONFIRMED and case.changed_on:
        return Due(
            step=CONFIRM, channel=channel, on=case.changed_on, why="done, and not confirmed by the owner"
        )
    if case.instruct_on:
        return Due(step=INSTRUCT, channel=channel, on=case.instruct_on, why=case.instruct_why)
    return None


def _ladder(case: Case, campaign: Campaign, usable: Collection[str]) -> Due | None:
    """Climb the ladder from the first notice on; who was never reached starts at the first other way."""
    if case.stage > Stage.NOTIFIED or case.listed_on is None:
        return None
    country = campaign.issuer.country
    for rung in _open_rungs(case, campaign.follow_up, usable):
        if case.first_on is None:
            return Due(
                step=rung.step, channel=rung.channel, on=case.listed_on, why="no notice has reached anybody"
            )
        return Due(
            step=rung.step, channel=rung.channel, on=_day(case.first_on, rung, country), why="no answer"
        )
    if case.first_on is None and "email" not in usable:
        return Due(
            step=ANOTHER_WAY, channel="none", on=case.listed_on, why="no usable way to the owner is known"
        )
    return None


def _open_rungs(case: Case, ladder: Sequence[FollowUp], usable: Collection[str]) -> list[FollowUp]:
    reached = case.live > 0
    return [
        rung
        for rung in ladder
        if rung.step not in case.steps
        and rung.channel in usable
        # Who was never reached by e-mail is not reminded by it; the first notice goes there by itself.
        and (reached or rung.channel != "email")
    ]


def _day(first: date, rung: FollowUp, country: str | None) -> date:
    return after(first, rung.after_days, country)
