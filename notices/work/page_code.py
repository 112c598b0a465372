"""A short code that the public address shows for half an hour: who types it back has seen the page."""

import json
from datetime import timedelta

from audiences import canonical
from notices.cases import ids
from notices.cases.events import instant, moment
from notices.work.ports import World
from notices.work.reporting import campaign_of
from notices.work.words import HearingError

PATH = "ready"
_NOTE = "page_code"
_LIVES = timedelta(minutes=30)
_LENGTH = 4


def draw(world: World) -> str:
    """Note a new code and return the address that shows it, never the code itself.

    Raises HearingError where the campaign names no address of the answer pages.
    """
    with world.register.change() as tx:
        campaign = campaign_of(tx, world)
        answers = campaign.issuer.answers if campaign else None
        if not answers:
            raise HearingError("campaign.yaml names no issuer.answers, so nobody can open the page")
        code = "".join(ids.SIGNS[world.draw(len(ids.SIGNS))] for _ in range(_LENGTH))
        tx.safe.put_note(_NOTE, canonical.dump({"code": code, "at": instant(world.now())}))
    base = answers if "://" in answers else f"https://{answers}"
    return f"{base.rstrip('/')}/{PATH}"


def shown(world: World) -> str | None:
    """Return the code that the page shows now; None where none was drawn in the last half hour."""
    with world.register.look() as tx:
        noted = tx.safe.note(_NOTE)
    if noted is None:
        return None
    found = json.loads(noted)
    return str(found["code"]) if world.now() - moment(found["at"]) <= _LIVES else None


def is_shown(world: World, typed: str) -> bool:
    """Say whether somebody typed back what the page shows, misread letters mended."""
    return ids.read_link(typed) == shown(world)
