"""What our own word or our own parts do to a case: told safe and now affected, closed as fixed with parts of a bad lot.

Steps of the fold: a case and its next event in, the case out.
"""

from dataclasses import replace

from notices.cases.case import BAD_LOT, TOLD_SAFE, WAS_CLEARED, Case, Stage, Stopped, Whereabouts
from notices.cases.events import Event

# By these ways it is the firm that judges; by the others the owner gave the code, and read or heard what it means.
THE_FIRM = frozenset({"command", "list"})


def text_of(event: Event, key: str) -> str:
    """Return a text of the payload, "" where there is none."""
    value = event.payload.get(key)
    return value if isinstance(value, str) else ""


def by_a_person(event: Event) -> bool:
    """Say whether only a person can have done this: somebody with the signs, or one who was spoken with."""
    return event.payload.get("signs") is True or (
        event.kind == "call_made" and event.payload.get("outcome") == "spoke"
    )


def answered(case: Case, event: Event) -> Case:
    """Let an alarm rest once somebody has spoken with the owner, or the owner has answered with the signs."""
    spoke = event.kind == "call_made" and by_a_person(event)
    said = event.kind in {"stop_stated", "use_stated"} and by_a_person(event)
    return replace(case, alarm="") if case.alarm and (spoke or said) else case


def unsafe_after_all(case: Case, event: Event) -> Case:
    """Begin anew with a unit that was safe by our word: its owner may use it, whatever was said before that."""
    alarm = case.alarm
    if event.via in THE_FIRM:
        alarm = TOLD_SAFE if case.told_safe else WAS_CLEARED
    begun = _from_the_beginning(case) if case.ending is None else case
    return replace(begun, alarm=alarm, first_on=event.at.date(), steps=())


def _from_the_beginning(case: Case) -> Case:
    stage = min(case.stage, Stage.NOTIFIED if case.live else Stage.LISTED)
    return replace(case, stage=stage, stopped=Stopped.NO_WORD)


def reopened(case: Case, _event: Event) -> Case:
    """Open a case again; who was told that the fix is done uses the unit, whatever was said before that."""
    stage = min(case.stage, Stage.ANSWERED)
    stopped = Stopped.NO_WORD if case.ending == "fixed" else case.stopped
    after = replace(case, stage=stage, stopped=stopped, ending=None, whereabouts=Whereabouts.OWNER)
    return _from_the_beginning(after) if case.alarm in {TOLD_SAFE, WAS_CLEARED} else after


def got(case: Case, event: Event) -> Case:
    """Remember the lot of parts that were sent or fitted; good ones take the place of those that were withdrawn."""
    lot = text_of(event, "lot")
    if not lot:
        return case
    lots = case.lots if lot in case.lots else (*case.lots, lot)
    return replace(case, lots=lots, lot_withdrawn=lot if lot == case.lot_withdrawn else "")


def lot_withdrawn(case: Case, event: Event) -> Case:
    """Let parts that must not be used be no step on the way; who has had them fitted may be using the unit."""
    after = replace(case, alarm=case.alarm or BAD_LOT, lot_withdrawn=text_of(event, "lot"))
    if case.ending is not None:
        return after
    stopped = Stopped.NO_WORD if case.stage >= Stage.DONE_UNCONFIRMED else case.stopped
    return replace(after, stage=min(case.stage, Stage.REMEDY_AGREED), stopped=stopped)
