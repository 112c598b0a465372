"""A page as HTML: layout from the templates, every sentence from a catalogue or from the campaign."""

import hashlib
from collections.abc import Mapping
from contextlib import suppress
from functools import lru_cache

from jinja2 import DictLoader, Environment, StrictUndefined
from starlette.responses import HTMLResponse

from audiences import addresses
from audiences.codes import mask
from notices.cases import ids
from notices.cases.records import UnitRow
from notices.compose.phrases import NO_BREAK
from notices.compose.pictures import media_of
from notices.respond.scenes import START, Page, Scene, reachable
from notices.wording import formats, languages
from notices.wording.terms import SIGNALS

STYLE = "respond/style.css"


@lru_cache(maxsize=4)
def _environment(texts: tuple[tuple[str, str], ...]) -> Environment:
    return Environment(
        loader=DictLoader(dict(texts)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def environment(templates: Mapping[str, str]) -> Environment:
    """Return the templates of these pages, compiled once."""
    return _environment(tuple(sorted((k, v) for k, v in templates.items() if k.startswith("respond/"))))


@lru_cache(maxsize=4)
def style_name(text: str) -> str:
    """Name the style sheet by its content, so that a browser may keep it and never keeps an old one."""
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def render(scene: Scene, page: Page) -> HTMLResponse:
    """Return the page as an answer; it holds no personal data but what this reader may see."""
    template = environment(scene.world.templates).get_template(f"respond/{page.template}.html")
    return HTMLResponse(template.render(_context(scene, page)), status_code=page.status)


def _context(scene: Scene, page: Page) -> dict[str, object]:
    campaign = scene.campaign
    context: dict[str, object] = {
        "_": scene.ours,
        "counted": scene.catalogue.ngettext,
        "lead": scene.lead,
        "comma": formats.comma(scene.tag),
        "colon": formats.colon(scene.tag),
        "ltr": formats.isolate if languages.direction(scene.tag) == "rtl" else str,
        "c": campaign,
        "tag": scene.tag,
        "direction": languages.direction(scene.tag),
        "languages": languages.choices(scene.held.written, scene.tag),
        "chosen": scene.chosen or "",
        "suffix": f"?lang={scene.chosen}" if scene.chosen else "",
        "contact": reachable(campaign, scene.country, scene.tag),
        "root": scene.root,
        "style": style_name(scene.world.templates[STYLE]),
        "who": scene.who,
        "linked": scene.who != START and not scene.awaited,
        "here": f"{scene.root}{scene.who}",
        "headline": headline(scene),
        "signal": SIGNALS.get(campaign.hazard.signal or ""),
        "code_pictures": pictures(scene, "code"),
        "step": page.step,
        "nonce": ids.long_id(scene.world.draw),
        "proof": scene.seals.proof(page.proof, scene.now) if page.proof else "",
        "claim": scene.seals.claim(page.claim, scene.now) if page.claim else "",
        "fault": "",
        "pressed": False,
        "way": "",
        "photo_reference": page.values.get("photo", ""),
        "kept": {},
        "photo_again": False,
        "show_ways": True,
    }
    return context | dict(page.values)


def headline(scene: Scene) -> str:
    """Return what this is, in the words of the reader's law: recall once a remedy is promised, else warning."""
    campaign = scene.campaign
    market = campaign.markets.get(campaign.market_of(scene.country) or "")
    if campaign.remedies and market is None and campaign.markets:
        market = next(iter(campaign.markets.values()))
    text = market.headline if campaign.remedies and market else campaign.warning_headline
    name = campaign.product.name.replace(" ", NO_BREAK)
    if languages.direction(scene.tag) == "rtl":
        name = formats.isolate_name(name)
    return f"{scene.lead(text)}{formats.colon(scene.tag)} {name}" if text else name


def masked(scene: Scene, unit: UnitRow) -> str:
    """Return a unit's code with its last signs hidden, empty where it has none."""
    return mask(unit.code, scene.hidden) if unit.code else ""


def pictures(scene: Scene, shows: str) -> list[dict[str, str]]:
    """Return the campaign's pictures of a kind: their address and the words in their place."""
    held = scene.held.revision.pictures
    found = []
    for picture in scene.campaign.product.pictures:
        data = held.get(picture.file)
        if picture.shows == shows and data is not None and media_of(data):
            found.append(
                {"address": f"{scene.root}picture/{picture_name(data)}", "alt": scene.lead(picture.alt)}
            )
    return found


def picture_name(data: bytes) -> str:
    """Name a picture by its content, so that no file name of the lead's folder is shown."""
    return hashlib.sha256(data).hexdigest()[:20]


def numbers(scene: Scene) -> list[dict[str, str]]:
    """Return every telephone number of the campaign, as dialled from anywhere, with the countries it serves."""
    found = []
    for contact in scene.campaign.contacts:
        with suppress(ValueError):  # no E.164 number; the campaign's own check says so
            if contact.phone is not None:
                names = sorted(formats.country_name(code, scene.tag) for code in contact.countries)
                shown, tel = addresses.international(contact.phone), addresses.tel_link(contact.phone)
                found.append({"where": formats.listing(names, scene.tag), "phone": shown, "tel": tel})
    return found


def countries(scene: Scene) -> list[tuple[str, str]]:
    """Return the countries that the campaign knows, by name in the reader's language, in order of the names."""
    known = {code for contact in scene.campaign.contacts for code in contact.countries}
    known |= {code for market in scene.campaign.markets.values() for code in market.countries}
    named = [(code, formats.country_name(code, scene.tag)) for code in known]
    return sorted(named, key=lambda pair: pair[1])
