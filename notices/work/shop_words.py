"""What shops and lessors say, on their page or to a member of staff."""

from dataclasses import dataclass
from datetime import datetime

from audiences.headings import plain
from notices.cases.events import CAMPAIGN, NewEvent, owner_stream
from notices.cases.records import OwnerRow
from notices.cases.shops import (
    LADDER,
    ShopCase,
    shop_case,
)
from notices.work.answers import Said, desk, visit_of
from notices.work.forwarding import forwarder, keep_words
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import signed
from notices.work.units import SHOP
from notices.work.words import HearingError

_PAGE = "page"


@dataclass(frozen=True, kw_only=True, slots=True)
class Confirmation:
    """A shop's own word: *by* is who says so there, *names* one of `cases.shops.NAMES`."""

    by: str
    stopped: bool
    shelf: int
    sold: int
    names: str


def confirm_on_page(world: World, link: str, said: Said, word: Confirmation) -> bool:
    """Write down what a shop says on its page, once for each form; False where the link is no shop's."""
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None or visit.owner.kind != SHOP:
            return False
        owner, at = visit.owner, desk(tx, world, said)
        payload = {
            "stopped": word.stopped,
            "shelf": word.shelf,
            "sold": word.sold,
            "names": word.names,
        }
        events = at.of_owner_with(owner.owner_id, "shop_confirmed", words=word.by, **payload)
        at.write(events)
        if events:
            _stop(tx, owner, word, at=at.now, by=owner.name, via=_PAGE)
        return True


def forwarded_on_page(world: World, link: str, said: Said, *, count: int, by: str) -> bool:
    """Write down how many addresses a shop or lessor says it forwarded, and who said so; False for another's link."""
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None or not visit.trades:
            return False
        at = desk(tx, world, said)
        at.write(at.of_owner_with(visit.owner.owner_id, "forwarded", words=by, units=count))
        return True


def shop_of(world: World, owner_id: str) -> ShopCase:
    """Return what a shop or lessor has said and been given."""
    with world.register.look() as tx:
        return shop_case(tx.events.stream(owner_stream(owner_id)))


def confirm(world: World, which: str, word: Confirmation) -> str:
    """Write down what a shop said on the telephone, and return its name; HearingError where no shop is called so."""
    with world.register.change() as tx:
        owner = _shop(tx, world, which)
        now = world.now()
        event = _event(
            owner.owner_id,
            "shop_confirmed",
            word.by,
            now,
            stopped=word.stopped,
            shelf=word.shelf,
            sold=word.sold,
            names=word.names,
            text=keep_words(tx, world, owner.owner_id, word.by),
        )
        record(tx, [event], now=now)
        _stop(tx, owner, word, at=now, by=word.by, via="command")
        return owner.name


def step_taken(world: World, which: str, *, outcome: str, by: str) -> str:
    """Write down that the ladder's next step to a silent shop was taken, and return the step."""
    with world.register.change() as tx:
        owner = _shop(tx, world, which)
        case = shop_case(tx.events.stream(owner_stream(owner.owner_id)))
        left = [rung.step for rung in LADDER if rung.step not in case.steps]
        if not left:
            raise HearingError(f"every step to {owner.name} was taken: somebody must go there and see")
        now = world.now()
        record(
            tx,
            [_event(owner.owner_id, "shop_step", by, now, step=left[0], outcome=outcome)],
            now=now,
        )
        return left[0]


def _shop(tx: Transaction, world: World, which: str) -> OwnerRow:
    owner = forwarder(tx, world, which)
    if owner.kind != SHOP:
        raise HearingError(f"{which} is no shop")
    return owner


def _stop(tx: Transaction, owner: OwnerRow, word: Confirmation, *, at: datetime, by: str, via: str) -> None:
    """Write the shop among the places that have stopped selling, under the name that the campaign has for it."""
    if not word.stopped:
        return
    held = signed(tx)
    places = held.campaign.sale_stop.places if held else ()
    place = next((one for one in places if plain(one) == plain(owner.name)), owner.name)
    event = NewEvent(
        stream=CAMPAIGN,
        kind="sale_stopped",
        at=at,
        actor=by,
        via=via,
        payload={"place": place, "holds": word.shelf},
    )
    record(tx, [event], now=at)


def _event(owner_id: str, kind: str, by: str, at: datetime, **payload: object) -> NewEvent:
    return NewEvent(stream=owner_stream(owner_id), kind=kind, at=at, actor=by, via="command", payload=payload)
