"""Campaigns, catalogues and owners for the tests of what is composed."""

from dataclasses import dataclass, field
from functools import cache

from audiences import canonical
from audiences.findings import must_mend
from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.campaign.texts import localise
from notices.cases.records import OwnerRow, UnitRow
from notices.compose.filling import Filled
from notices.compose.mail import compose_mail, fill, values_for
from notices.compose.variants import Composed, VariantKey
from notices.wording.catalogues import Catalogue, read_catalogue
from notices.wording.translations import read_po
from tests.source import ROOT

FOLDER = ROOT / "notices/demo/folder"
LANGUAGES = ("en", "en-US", "de", "fr", "es", "it", "nl", "pl", "ar")
# The smallest PNG there is: one grey pixel (PNG, third edition, from memory).
PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55"
    "0000000a49444154789c636800000082008177cd72b60000000049454e44ae426082"
)
PICTURES = {"pictures/drayling.png": PNG, "pictures/head-tube.png": PNG + b"second"}

STOVE = """
issuer: {name: Emberfold, role: maker, country: IE, email: safety@emberfold.example, web: emberfold.example,
  bulletin: emberfold.example/valve, answers: https://emberfold.example/a}
contacts:
  - {countries: [IE], phone: null, call_back: true}
revision: {number: 1, day: 2026-03-03}
next_word: 2026-03-10
product:
  name: Emberfold S
  description: Emberfold S camping stove
  sold: {by: camping shops, from: 2025-01, to: 2026-01}
hazard: {signal: DANGER, what: The valve can leak gas., who: You can be burned to death.}
subjects: {first: "Do not light your Emberfold S: it can leak gas", cleared: "Your Emberfold S is not affected"}
now:
  headline: Do not light your Emberfold S.
  steps: {all: [Close the cartridge and take it off., Tell us that you have stopped.]}
  stopped_button: I have put it away
  call_at_once: if it smells of gas or someone was burned.
  reply_word: PUT AWAY
  cleared: As far as we know on %(day)s, a stove with this number has a sound valve.
use:
  unridden: {name: Never lit}
  ridden_no_symptoms: {name: "Lit, nothing noticed"}
  symptomatic: {name: It smelled of gas}
remedies:
  swap:
    kind: replace
    label: A new valve
    all: {promise: We send a fitter., by: [mechanic, owner], tools: [valve key], steps: [Turn it.], minutes: {owner: 1}}
cautions: [Never test a valve with a flame.]
ledger: [{standing: not_yet_known, text: how many valves are affected}]
markets: {EU: {countries: [IE], headline: Product safety recall}}
"""


def template_texts() -> dict[str, str]:
    """Read the shipped layouts by their name below templates/."""
    root = ROOT / "templates"
    return {
        file.relative_to(root).as_posix(): file.read_text("utf-8")
        for file in sorted(root.rglob("*"))
        if file.is_file()
    }


TEMPLATES = template_texts()


@dataclass(frozen=True, kw_only=True, slots=True)
class Watching(Catalogue):
    """A catalogue that notes what it was asked for and does not hold."""

    unsaid: list[str] = field(default_factory=list)

    def gettext(self, source: str, /, **values: str) -> str:
        """Note a sentence that is not held."""
        if (source, "") not in self.messages:
            self.unsaid.append(source)
        return Catalogue.gettext(self, source, **values)

    def ngettext(self, one: str, many: str, n: int, /, **values: str) -> str:
        """Note a counted sentence that is not held."""
        if (one, many) not in self.messages:
            self.unsaid.append(one)
        return Catalogue.ngettext(self, one, many, n, **values)


@cache
def catalogue(tag: str, domain: str = "notices") -> Watching:
    """Read a shipped catalogue."""
    held = read_catalogue((ROOT / f"locales/{tag}/{domain}.po").read_text("utf-8"), tag)
    return Watching(tag=tag, messages=held.messages)


@cache
def demo(revision: int, tag: str = "en") -> Campaign:
    """Read the demo's campaign at a revision, in a language."""
    source = campaign((FOLDER / f"campaign-{revision}.yaml").read_text("utf-8"))
    if tag == source.language:
        return source
    po = (FOLDER / f"translations-{revision}/{tag}.po").read_text("utf-8")
    translation, findings = read_po(po, tag, source, f"translations/{tag}.po")
    assert must_mend(findings) == []
    return localise(source, translation)


def campaign(text: str) -> Campaign:
    """Read a campaign that has no fault."""
    loaded = load(text)
    assert loaded.campaign is not None, loaded.findings
    return loaded.campaign


def key(
    kind: str = "first",
    verdict: Verdict = Verdict.AFFECTED,
    segment: Segment = Segment.UNKNOWN,
    language: str = "en",
    market: str = "EU",
) -> VariantKey:
    """Name a variant."""
    return VariantKey(
        kind=kind, channel="email", verdict=verdict, segment=segment, market=market, language=language
    )


def composed(of: Campaign, variant: VariantKey, pictures: dict[str, bytes] | None = None) -> Composed:
    """Compose a variant with the shipped layouts and sentences."""
    return compose_mail(
        of, variant, catalogue(variant.language), TEMPLATES, PICTURES if pictures is None else pictures
    )


def owner(name: str = "Ada Quell", country: str | None = "DE", language: str = "en") -> OwnerRow:
    """Invent an owner."""
    return OwnerRow(
        owner_id="O" * 26, kind="person", name=name, language=language, basis="column", country=country
    )


def unit(code: str | None = "QM-2534-B0172", unit_id: str = "7KQ2M4X5") -> UnitRow:
    """Invent a unit."""
    return UnitRow(unit_id=unit_id, unit_key="k", code=code, code_key=code, sold_on=None, sold_in=None)


def values(
    of: Campaign,
    tag: str = "en",
    who: OwnerRow | None = None,
    units: tuple[UnitRow, ...] | None = None,
    link: str | None = "7KQ2M4XD9R",
) -> str:
    """Return an owner's values as a posting keeps them."""
    return canonical.dump(
        values_for(of, catalogue(tag), owner=who or owner(), units=units or (unit(),), link=link)
    )


def filled(
    of: Campaign,
    variant: VariantKey,
    who: OwnerRow | None = None,
    units: tuple[UnitRow, ...] | None = None,
) -> Filled:
    """Compose a variant and fill it for one owner."""
    return fill(composed(of, variant).content, values(of, variant.language, who, units))
