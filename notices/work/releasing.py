"""The order of release: what is done, what was overruled and why, and what comes next."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from notices.cases import ids, release
from notices.cases.events import CAMPAIGN, NewEvent
from notices.cases.records import TextRow
from notices.cases.release import STEPS, Standing
from notices.work import keeping
from notices.work.looking import time_zone
from notices.work.ports import World
from notices.work.recording import record
from notices.work.reporting import campaign_of
from notices.work.words import HearingError


@dataclass(frozen=True, kw_only=True, slots=True)
class Readiness:
    """How each step stands on a day, and the words that were written with it, by their ids."""

    on: date
    steps: tuple[Standing, ...]
    texts: Mapping[str, str]

    @property
    def waiting(self) -> tuple[Standing, ...]:
        """Return what is open before owners."""
        return tuple(release.open_before_owners(self.steps))

    @property
    def next(self) -> Standing | None:
        """Return the first step that is neither done nor overruled."""
        return next((one for one in self.steps if not one.settled), None)


def ready(world: World) -> Readiness:
    """Return how every step of the order of release stands today."""
    last = keeping.last_backup(world)
    with world.register.look() as tx:
        zone = time_zone(campaign_of(tx, world))
        today = world.now().astimezone(zone).date()
        steps = release.standings(
            tx.events.stream(CAMPAIGN),
            today=today,
            zone=zone,
            backup=last.at.astimezone(zone).date() if last else None,
        )
        texts = tx.papers.texts([one.text for one in steps if one.text])
    return Readiness(on=today, steps=steps, texts={key: row.body for key, row in texts.items()})


def settle(world: World, key: str, *, overrule: bool, by: str, text: str) -> None:
    """Record that a step is done, or goes undone for a reason; the last word counts.

    Raises HearingError where there is no such step, or a name or the reason of an overruling is missing.
    """
    if key not in {step.key for step in STEPS}:
        raise HearingError(f"no step is called {key}; they are: {', '.join(step.key for step in STEPS)}")
    if not by.strip():
        raise HearingError("a step is done or overruled by somebody: --by NAME")
    if overrule and not text.strip():
        raise HearingError("a step is overruled with a reason: --reason TEXT")
    now = world.now()
    payload = {"step": key}
    with world.register.change() as tx:
        if text.strip():
            payload["text"] = ids.long_id(world.draw)
            tx.papers.put_text(TextRow(text_id=payload["text"], owner_id=None, body=text.strip()))
        event = NewEvent(
            stream=CAMPAIGN,
            kind="release_step_overruled" if overrule else "release_step_done",
            at=now,
            actor=by.strip(),
            via="command",
            payload=payload,
        )
        record(tx, [event], now=now)


def as_json(found: Readiness) -> dict[str, object]:
    """Return the steps in the shape that other programs read."""
    return {
        "on": found.on.isoformat(),
        "steps": [
            {
                "step": one.step.key,
                "what": one.step.what,
                "before_owners": one.step.before_owners,
                "state": one.state,
                "by": one.by or None,
                "on": one.on.isoformat() if one.on else None,
                "text": found.texts.get(one.text),
            }
            for one in found.steps
        ],
        "open_before_owners": [one.step.key for one in found.waiting],
    }
