"""The owner's own statement that the fix is done, and its taking back for fourteen days.

A case closes as fixed by this statement with the unit's last signs, and only where every answer is the good one.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any

from audiences import canonical
from audiences.verdicts import SAFE
from notices.campaign.models import Campaign
from notices.cases.case import PUT_AWAY
from notices.cases.events import NewEvent
from notices.work.answering import Fit, identify, set_aside
from notices.work.answers import Desk, Proof, Said, Standing, Visit, desk, visit_of
from notices.work.photos import Photo, keep
from notices.work.ports import World
from notices.work.revisions import signed

TAKE_BACK = timedelta(days=14)
BY = ("mechanic", "owner")


class Done(StrEnum):
    """What came of a confirmation."""

    CLOSED = "closed"
    OPEN = "open"  # an answer was not the good one: a mechanic comes
    NOTHING = "nothing"  # there is nothing to confirm: no remedy yet, or the unit is not affected
    TAKEN_BACK = "taken back"
    TOO_LATE = "too late"


@dataclass(frozen=True, kw_only=True, slots=True)
class Statement:
    """What an owner states: who fitted it, the answer to each question (yes, no, not_sure), the old part.

    *photos* are the fingerprints of the photographs of the fitted part that were kept.
    """

    by: str
    answers: Mapping[str, str]
    old_part: str
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Confirmed:
    """What came of it; *fit* says how the signs were, *unit_id* of which unit we speak."""

    fit: Fit
    done: Done | None = None
    unit_id: str = ""


def is_good(campaign: Campaign, statement: Statement) -> bool:
    """Say whether somebody fitted it and every question of the campaign has its good answer."""
    wanted = {question.key: question.good.removesuffix("_answer") for question in campaign.confirm.questions}
    return statement.by in BY and all(statement.answers.get(key) == good for key, good in wanted.items())


def confirm_fix(
    world: World, link: str, said: Said, typed: str, statement: Statement, *, photos: Sequence[Photo] = ()
) -> Confirmed | None:
    """Take an owner's confirmation, with photographs of the fitted part; None for no such link.

    An answer that is *no* or *not sure*, or parts of a withdrawn lot, close nothing: the work is reported done, and a
    mechanic comes.
    """
    with world.register.change() as tx:
        visit, held = visit_of(tx, link), signed(tx)
        if visit is None or held is None:
            return None
        at = desk(tx, world, said)
        given = identify(at, visit, typed)
        standing = _meant(visit, given.proof)
        if standing is None:
            return Confirmed(fit=given.fit)
        unit_id = standing.unit.unit_id
        if not held.campaign.remedies or standing.case.verdict in SAFE:
            return Confirmed(fit=Fit.GOOD, done=Done.NOTHING, unit_id=unit_id)
        shown = keep(at, unit_id, visit.owner.owner_id, photos)
        statement = replace(statement, photos=shown)
        if standing.case.ending in PUT_AWAY:
            words = _words(statement)
            at.write(set_aside(at, visit, "fix_confirmed", "contradicts", words))
            return Confirmed(fit=Fit.GOOD, done=Done.NOTHING, unit_id=unit_id)
        good = is_good(held.campaign, statement) and not standing.case.lot_withdrawn
        if standing.case.ending != "fixed":
            at.write(
                _fixed(at, visit, standing, statement) if good else _open(at, visit, standing, statement)
            )
        elif not good:
            at.write(_doubted(at, visit, standing, statement))
        return Confirmed(fit=Fit.GOOD, done=Done.CLOSED if good else Done.OPEN, unit_id=unit_id)


def _meant(visit: Visit, proof: Proof | None) -> Standing | None:
    return visit.of(proof.unit_id) if proof else None


def _words(statement: Statement) -> str:
    said = {"by": statement.by, "answers": dict(statement.answers), "old_part": statement.old_part}
    return canonical.dump(said | _shown(statement))


def _shown(statement: Statement) -> dict[str, Any]:
    """Return the fingerprints of photographs as a payload holds them, nothing where there are none."""
    return {"photos": list(statement.photos)} if statement.photos else {}


def _fixed(at: Desk, visit: Visit, standing: Standing, statement: Statement) -> list[NewEvent]:
    """Write the statement down and close the case in one transaction; what was stated is the evidence."""
    unit_id = standing.unit.unit_id
    confirmed = at.of_unit(
        unit_id,
        "fix_confirmed",
        words=_words(statement),
        under="evidence",
        owner_id=visit.owner.owner_id,
        how="page",
        by=statement.by,
        **_shown(statement),
    )
    closed: list[NewEvent] = []
    for event in confirmed:
        closed += at.of_unit(unit_id, "case_closed", ending="fixed", evidence=event.payload["evidence"])
    return [*at.heard(standing, pressed=True), *confirmed, *closed]


def _open(at: Desk, visit: Visit, standing: Standing, statement: Statement) -> list[NewEvent]:
    unit_id = standing.unit.unit_id
    return [
        *at.of_unit(unit_id, "work_reported_done", by=statement.by, **_shown(statement)),
        *_mechanic(at, visit, unit_id, statement),
    ]


def _doubted(at: Desk, visit: Visit, standing: Standing, statement: Statement) -> list[NewEvent]:
    """Open a closed case again where its owner now says that it is not well."""
    unit_id = standing.unit.unit_id
    back = [] if standing.case.ending != "fixed" else at.of_unit(unit_id, "confirmation_taken_back")
    return [*back, *_mechanic(at, visit, unit_id, statement)]


def _mechanic(at: Desk, visit: Visit, unit_id: str, statement: Statement) -> list[NewEvent]:
    return at.of_unit(
        unit_id, "help_asked", words=_words(statement), owner_id=visit.owner.owner_id, what="mechanic"
    )


def may_take_back(standing: Standing, now: datetime) -> bool:
    """Say whether the owner's confirmation still stands and is not older than fourteen days."""
    if standing.case.ending != "fixed":
        return False
    last = next((each for each in reversed(standing.events) if each.kind == "fix_confirmed"), None)
    return last is not None and now - last.at <= TAKE_BACK


def take_back(world: World, link: str, said: Said, typed: str) -> Confirmed | None:
    """Take a confirmation back within fourteen days, and ask a person to call; None for no such link."""
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None:
            return None
        at = desk(tx, world, said)
        given = identify(at, visit, typed)
        standing = _meant(visit, given.proof)
        if standing is None:
            return Confirmed(fit=given.fit)
        unit_id = standing.unit.unit_id
        back = at.of_unit(unit_id, "confirmation_taken_back")
        if back and not may_take_back(standing, at.now):
            return Confirmed(fit=Fit.GOOD, done=Done.TOO_LATE, unit_id=unit_id)
        if back:
            at.write(back, at.of_unit(unit_id, "help_asked", what="taken_back"))
        return Confirmed(fit=Fit.GOOD, done=Done.TAKEN_BACK, unit_id=unit_id)
