"""The public pages: written from the signed revision, one a language, and recorded once they are public."""

from dataclasses import dataclass

from audiences import canonical
from audiences.findings import Finding, must_mend
from notices.campaign.models import RevisionNote
from notices.campaign.needs import lacking
from notices.cases.events import CAMPAIGN, NewEvent
from notices.compose.bulletin import Edition, bulletin_findings, bulletin_page, bulletin_text
from notices.work.ports import Transaction, World
from notices.work.proving import catalogue
from notices.work.recording import record
from notices.work.revisions import Signed, signed
from notices.work.serving import not_signed
from notices.work.signing import note_gone_out

FOLDER = "out/bulletin"


@dataclass(frozen=True, kw_only=True, slots=True)
class Published:
    """The pages by their name in the campaign folder, the revision they show (None: none), and what is wrong."""

    number: int | None
    pages: dict[str, str]
    findings: tuple[Finding, ...]


def write_bulletin(world: World) -> Published:
    """Write the pages and texts of the signed revision into ``out/bulletin/``; nothing, where it lacks something."""
    made = _made(world)
    for name, page in made.pages.items():
        world.folder.write(name, page.encode())
    return made


def publish(world: World, *, by: str) -> Published:
    """Write the pages, and record that they are public: from then on the revision keeps its number."""
    made = write_bulletin(world)
    if made.number is None or not made.pages:
        return made
    now, digest = world.now(), canonical.digest(made.pages)
    event = NewEvent(
        stream=CAMPAIGN,
        kind="bulletin_published",
        at=now,
        actor=by,
        via="command",
        payload={"revision": made.number, "digest": digest},
        once=f"bulletin:{made.number}:{digest}",
    )
    with world.register.change() as tx:
        record(tx, [event], now=now)
        note_gone_out(tx, made.number)
    return made


def _made(world: World) -> Published:
    with world.register.look() as tx:
        held = signed(tx)
        if held is None:
            return Published(number=None, pages={}, findings=(not_signed(),))
        before = earlier(tx)
    findings = (
        *lacking(held.campaign, "bulletin", {}),
        *(
            one
            for tag in held.written
            for one in bulletin_findings(held.localised(tag), catalogue(world, tag))
        ),
    )
    pages: dict[str, str] = {}
    if not must_mend(findings):
        for tag in held.written:
            pages[f"{FOLDER}/{_name(held, tag)}"] = page(world, held, tag, before)
            pages[f"{FOLDER}/{tag}.txt"] = _text(world, held, tag, before)
    return Published(number=held.number, pages=pages, findings=findings)


def served_page(world: World, held: Signed, tag: str) -> str:
    """Return the public page as the server shows it, its languages one query apart."""
    with world.register.look() as tx:
        return page(world, held, tag, earlier(tx), served=True)


def earlier(tx: Transaction) -> tuple[Signed, ...]:
    """Return every signed revision, ordered by number."""
    found = [signed(tx, row.number) for row in tx.papers.revisions()]
    return tuple(one for one in found if one is not None)


def page(world: World, held: Signed, tag: str, revisions: tuple[Signed, ...], *, served: bool = False) -> str:
    """Return the public page of a signed revision in a language; *served* links the languages as the server does."""
    return bulletin_page(
        held.localised(tag),
        catalogue(world, tag),
        world.templates,
        editions=[
            Edition(tag=one, address=f"?lang={one}" if served else _name(held, one)) for one in held.written
        ],
        revisions=_notes(revisions, tag),
        pictures=held.revision.pictures,
    )


def _text(world: World, held: Signed, tag: str, revisions: tuple[Signed, ...]) -> str:
    return bulletin_text(
        held.localised(tag), catalogue(world, tag), world.templates, revisions=_notes(revisions, tag)
    )


def _notes(revisions: tuple[Signed, ...], tag: str) -> list[RevisionNote]:
    return [one.localised(tag).revision for one in revisions]


def _name(held: Signed, tag: str) -> str:
    """Return the file of a language: the source language is the page that the bulletin's address opens."""
    return "index.html" if tag == held.campaign.language else f"{tag}.html"
