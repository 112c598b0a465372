"""The stop of all sales: what every place is told, and which of them has said that it holds its stock."""

from dataclasses import dataclass

from audiences.findings import Finding
from notices.campaign.models import Campaign
from notices.cases.events import CAMPAIGN, NewEvent
from notices.compose.stop_sale import stop_sale_page, stop_sale_text
from notices.work.ports import Transaction, World
from notices.work.proving import catalogue
from notices.work.recording import record
from notices.work.revisions import draft, signed

NOTE = "out/stop-sale"


@dataclass(frozen=True, kw_only=True, slots=True)
class Held:
    """One place that has stopped: how many units it holds, who said so; *holds* None while there is no word."""

    place: str
    holds: int | None
    by: str


def places(world: World) -> tuple[Held, ...]:
    """Return every place that may still sell or hand out a unit, with the last word from each."""
    with world.register.look() as tx:
        names = _names(world, tx)
        heard: dict[str, Held] = {}
        for event in tx.events.stream(CAMPAIGN):
            if event.kind == "sale_stopped":
                place, holds = str(event.payload["place"]), event.payload.get("holds")
                heard[place] = Held(place=place, holds=holds if isinstance(holds, int) else 0, by=event.actor)
    unheard = [name for name in names if name not in heard]
    ordered = [*names, *(name for name in heard if name not in names)]
    return tuple(Held(place=name, holds=None, by="") if name in unheard else heard[name] for name in ordered)


def _names(world: World, tx: Transaction) -> tuple[str, ...]:
    campaign = _campaign(world, tx)
    return campaign.sale_stop.places if campaign else ()


def _campaign(world: World, tx: Transaction) -> Campaign | None:
    """Return the folder's draft, for sales stop before anything is signed; else what was signed."""
    revision = draft(world).revision
    if revision is not None:
        return revision.campaign
    held = signed(tx)
    return held.campaign if held else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Note:
    """The note as text, the files it was written to, and why there is none, where there is none."""

    text: str
    files: tuple[str, ...]
    findings: tuple[Finding, ...]


def write_note(world: World) -> Note:
    """Write the note to every place, as text and as pages to print, into ``out/``."""
    with world.register.look() as tx:
        campaign = _campaign(world, tx)
    if campaign is None:
        return Note(text="", files=(), findings=draft(world).findings)
    return put_note(world, campaign)


def put_note(world: World, campaign: Campaign) -> Note:
    """Write the note of *campaign*; the register is not opened."""
    texts = catalogue(world, campaign.language, "bureau"), catalogue(world, campaign.language)
    text = stop_sale_text(campaign, *texts, world.templates)
    world.folder.write(f"{NOTE}.txt", text.encode())
    world.folder.write(f"{NOTE}.html", stop_sale_page(campaign, *texts, world.templates).encode())
    return Note(text=text, files=(f"{NOTE}.txt", f"{NOTE}.html"), findings=())


def stop(world: World, *, place: str, holds: int, by: str) -> Held:
    """Record that *place* has stopped selling and holds *holds* units; the last word of a place counts."""
    now = world.now()
    event = NewEvent(
        stream=CAMPAIGN,
        kind="sale_stopped",
        at=now,
        actor=by,
        via="command",
        payload={"place": place, "holds": holds},
    )
    with world.register.change() as tx:
        record(tx, [event], now=now)
    return Held(place=place, holds=holds, by=by)
