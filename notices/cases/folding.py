"""What each event makes of a case: a pure fold of the unit's events, in order, and of nothing else."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date

from audiences.segments import Segment, climb
from audiences.verdicts import SAFE
from notices.cases import alarms
from notices.cases.alarms import THE_FIRM, text_of
from notices.cases.case import BAD_LOT, HURT, PUT_AWAY, Case, Stage, Stopped
from notices.cases.events import Event, instant
from notices.cases.owed import reminded_step

# Raise this whenever a step below changes what it makes of an event: the register then folds again on opening.
FOLD = 3


def fold(unit_id: str, events: Iterable[Event]) -> Case:
    """Return the case that *events*, in the order of their stream, make."""
    case = Case(unit_id=unit_id)
    for event in events:
        case = step(case, event)
    return case


def step(case: Case, event: Event) -> Case:
    """Return the case after one more event of its own stream."""
    change = _STEPS.get(event.kind)
    after = case if change is None else change(case, event)
    after = alarms.answered(_heard_by_a_person(after, event), event)
    changed_on = after.changed_on if after.stage is case.stage else event.at.date()
    return replace(after, version=event.seq, changed_on=changed_on, urgent_on=_urgent_since(after, event))


def _heard_by_a_person(case: Case, event: Event) -> Case:
    """Turn *pressed* into *stopped* once something only a person gives has followed."""
    if case.stopped is Stopped.PRESSED and alarms.by_a_person(event):
        return replace(case, stopped=Stopped.STOPPED)
    return case


def _urgent_since(case: Case, event: Event) -> date | None:
    """Return since when a person must call: an alarm, still in use, or symptoms without *stopped*.

    A part of a withdrawn lot is a danger to a unit that is not affected too.
    """
    open_and_affected = case.ending is None and case.verdict not in SAFE
    symptoms = case.segment is Segment.SYMPTOMATIC and case.stopped is not Stopped.STOPPED
    by_lot = case.alarm == BAD_LOT and case.ending in {None, "cleared"}
    must = case.alarm or case.stopped is Stopped.IN_USE or symptoms
    if by_lot or (open_and_affected and must):
        return case.urgent_on or event.at.date()
    return None


def _at_least(case: Case, stage: Stage) -> Case:
    return case if case.stage >= stage else replace(case, stage=stage)


def _listed(case: Case, event: Event) -> Case:
    keeper = text_of(event, "keeper") or None
    return replace(case, keeper_id=keeper, listed_on=case.listed_on or event.at.date())


def _holder_added(case: Case, event: Event) -> Case:
    owner, role = text_of(event, "owner"), event.payload.get("role")
    if role == "lessor":
        return replace(case, lessors=(*case.lessors, owner))
    return replace(case, keeper_id=owner) if role == "keeper" else case


def _holder_ended(case: Case, event: Event) -> Case:
    if event.payload.get("role") == "lessor":
        left = tuple(owner for owner in case.lessors if owner != event.payload.get("owner"))
        return replace(case, lessors=left)
    if event.payload.get("owner") != case.keeper_id or event.payload.get("role") != "keeper":
        return case
    return _new_hands(case, None)


def _passed_on(case: Case, event: Event) -> Case:
    return _new_hands(case, text_of(event, "keeper") or None)


def _new_hands(case: Case, keeper: str | None) -> Case:
    """Go on with another keeper, who has been told nothing yet."""
    stage = Stage.LISTED if case.stage <= Stage.UNDER_WAY else case.stage
    return replace(
        case,
        keeper_id=keeper,
        stopped=Stopped.NO_WORD,
        live=0,
        stage=stage,
        first_on=None,
        steps=(),
        told_safe=False,
        alarm=case.alarm if case.alarm == BAD_LOT else "",
    )


def _judged(case: Case, event: Event) -> Case:
    verdict = text_of(event, "verdict")
    before = case.verdict
    ending = case.ending
    if verdict == "cleared" and ending is None:
        ending = "cleared"
    elif verdict != "cleared" and ending == "cleared":
        ending = None
    after = replace(
        case,
        verdict=verdict,
        why=text_of(event, "why"),
        judged_by=f"{text_of(event, 'rule')}@{event.payload.get('revision')}",
        judged_via=event.via,
        ending=ending,
        told_safe=case.told_safe or (verdict in SAFE and event.via not in THE_FIRM),
    )
    if before in SAFE and verdict not in SAFE:
        after = alarms.unsafe_after_all(after, event)
    if before not in {None, verdict} and case.first_on and event.via != "command":
        return replace(after, instruct_on=event.at.date(), instruct_why=f"verdict now {verdict}")
    return after


def _stop_stated(case: Case, event: Event) -> Case:
    if not event.payload.get("stopped"):
        return _answered(replace(case, stopped=Stopped.IN_USE), event)
    if event.payload.get("signs"):
        return _answered(replace(case, stopped=Stopped.STOPPED), event)
    # A button alone may be a machine's: it speaks only where nobody has spoken.
    return replace(case, stopped=Stopped.PRESSED) if case.stopped is Stopped.NO_WORD else case


def _answered(case: Case, event: Event) -> Case:
    return _at_least(case, Stage.ANSWERED) if event.payload.get("signs") else case


def _use_stated(case: Case, event: Event) -> Case:
    segment = climb(case.segment, Segment(text_of(event, "segment")))
    after = _answered(replace(case, segment=segment, used_at=instant(event.at)), event)
    if segment is case.segment:
        return after
    return replace(after, instruct_on=event.at.date(), instruct_why=f"use now {segment}")


def _lowered(case: Case, event: Event) -> Case:
    segment = Segment(text_of(event, "to"))
    return replace(
        case,
        segment=segment,
        used_at=instant(event.at),
        instruct_on=event.at.date(),
        instruct_why=f"use lowered to {segment}",
    )


def _handed_over(case: Case, event: Event) -> Case:
    """Count a notice to a present holder; a holder whose part has ended is not one, and a lessor rides nothing."""
    owner = text_of(event, "owner")
    if owner in case.lessors and owner != case.keeper_id:
        return case
    told_safe = case.verdict in SAFE
    after = _at_least(replace(case, live=case.live + 1, told_safe=told_safe), Stage.NOTIFIED)
    occasion = text_of(event, "occasion")
    reminded = reminded_step(occasion)
    if reminded is not None:
        return _taken(after, reminded)
    if occasion.startswith("instruct"):
        return replace(after, instruct_on=None, instruct_why="")
    if occasion == "first":  # the ladder is climbed anew from the recall notice on
        return replace(after, first_on=event.at.date(), steps=())
    return replace(after, first_on=after.first_on or event.at.date())


def _taken(case: Case, name: str) -> Case:
    return case if name in case.steps else replace(case, steps=(*case.steps, name))


def _came_back(case: Case, _event: Event) -> Case:
    live = max(case.live - 1, 0)
    stage = Stage.LISTED if live == 0 and case.stage is Stage.NOTIFIED else case.stage
    return replace(case, live=live, stage=stage)


def _call_made(case: Case, event: Event) -> Case:
    if event.payload.get("outcome") != "spoke":
        return case
    return replace(_taken(case, "call"), instruct_on=None, instruct_why="", help_on=None, help_what="")


def _code_given(case: Case, event: Event) -> Case:
    """Note a code that we know by word alone; one that a member of staff has seen on a photo is known.

    On a page, a code given for a unit whose code stands in our lists only repeats that one.
    """
    on_a_page = event.via == "page"
    if event.payload.get("photo") is True and not on_a_page:
        return replace(case, told_code="")
    if on_a_page and case.verdict not in {None, "missing"}:
        return case
    return replace(case, told_code=text_of(event, "code_key") or case.told_code)


def _help_asked(case: Case, event: Event) -> Case:
    """Note since when help is asked for; that somebody was hurt is not covered up by a later, lesser wish."""
    what = case.help_what if case.help_what == HURT else text_of(event, "what")
    return replace(case, help_on=case.help_on or event.at.date(), help_what=what)


def _set_aside(case: Case, event: Event) -> Case:
    return replace(case, aside_on=case.aside_on or event.at.date())


def _looked_at(case: Case, _event: Event) -> Case:
    return replace(case, aside_on=None)


def _taken_back(case: Case, _event: Event) -> Case:
    return replace(case, stage=Stage.DONE_UNCONFIRMED, ending=None)


def _closed(case: Case, event: Event) -> Case:
    ending = text_of(event, "ending")
    where = PUT_AWAY.get(ending, case.whereabouts)
    return replace(case, stage=Stage.CLOSED, ending=ending, whereabouts=where)


def _skipped(case: Case, event: Event) -> Case:
    return _taken(case, text_of(event, "step"))


def _parts(stage: Stage) -> Callable[[Case, Event], Case]:
    return lambda case, event: alarms.got(_at_least(case, stage), event)


def _to(stage: Stage) -> Callable[[Case, Event], Case]:
    return lambda case, _event: _at_least(case, stage)


_STEPS: Mapping[str, Callable[[Case, Event], Case]] = {
    "unit_listed": _listed,
    "holder_added": _holder_added,
    "holder_ended": _holder_ended,
    "passed_on": _passed_on,
    "verdict_given": _judged,
    "stop_stated": _stop_stated,
    "use_stated": _use_stated,
    "segment_lowered": _lowered,
    "code_given": _code_given,
    "help_asked": _help_asked,
    "answer_set_aside": _set_aside,
    "looked_at": _looked_at,
    "notice_handed_over": _handed_over,
    "notice_bounced": _came_back,
    "letter_returned": _came_back,
    "number_dead": _came_back,
    "call_made": _call_made,
    "remedy_chosen": _to(Stage.REMEDY_AGREED),
    "parts_sent": _parts(Stage.UNDER_WAY),
    "lot_withdrawn": alarms.lot_withdrawn,
    "visit_booked": _to(Stage.UNDER_WAY),
    "work_reported_done": _parts(Stage.DONE_UNCONFIRMED),
    "fix_confirmed": _to(Stage.CONFIRMED),
    "confirmation_taken_back": _taken_back,
    "case_closed": _closed,
    "case_reopened": alarms.reopened,
    "step_skipped": _skipped,
}
