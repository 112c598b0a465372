"""What we say: the last signed revision, which everything that runs reads, and the folder's draft."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial

from audiences.code_lists import CodeList, read_codes
from audiences.codes import fold, key_of
from audiences.findings import Finding
from audiences.verdicts import Judge
from notices.campaign import checks, loading
from notices.campaign.layouts import judge_of, layout_of
from notices.campaign.looking import line_of
from notices.campaign.models import Campaign
from notices.campaign.revisions import Revision, Translation, digest, from_content, to_content
from notices.campaign.texts import localise
from notices.cases.owed import Earlier
from notices.cases.records import OwnerRow
from notices.wording import checks as wording_checks
from notices.wording import languages, translations
from notices.wording.passages import Reading, lines_of
from notices.work.ports import Transaction, World

CAMPAIGN_FILE = "campaign.yaml"


@dataclass(frozen=True, kw_only=True, slots=True)
class Signed:
    """A signed revision, read once for each digest."""

    revision: Revision
    digest: str

    @property
    def campaign(self) -> Campaign:
        """Return the campaign in its source language."""
        return self.revision.campaign

    @property
    def number(self) -> int:
        """Return the revision's number."""
        return self.revision.number

    @property
    def written(self) -> tuple[str, ...]:
        """Return the languages that the revision is written in, the source language first."""
        return written_in(self.revision)

    @property
    def judge(self) -> Judge:
        """Return what judges units by this revision, made ready once."""
        return _judge(self.digest, _Held(self.revision))

    def localised(self, tag: str) -> Campaign:
        """Return the campaign in one of its languages."""
        return _localised(self.digest, tag, _Held(self.revision))


@dataclass(frozen=True, slots=True)
class _Held:
    """Carries a revision past a cache that is keyed by its digest."""

    revision: Revision = field(hash=False, compare=False)


@lru_cache(maxsize=64)
def _localised(_digest: str, tag: str, held: _Held) -> Campaign:
    return in_language(held.revision, tag)


@lru_cache(maxsize=16)
def _judge(_digest: str, held: _Held) -> Judge:
    return judge_by(held.revision)


def judge_by(revision: Revision) -> Judge:
    """Return what judges units by *revision*, signed or not."""
    return judge_of(revision.campaign, revision.lists)


def in_language(revision: Revision, tag: str) -> Campaign:
    """Return the revision's campaign with its texts in *tag*, the source language where that is meant."""
    if tag == revision.campaign.language:
        return revision.campaign
    return localise(revision.campaign, revision.translations.get(tag, {}))


def written_in(revision: Revision) -> tuple[str, ...]:
    """Return the languages that *revision* can speak: its source language, then those with a translation."""
    source = revision.campaign.language
    wanted = revision.campaign.languages.written or (source,)
    return (source, *(tag for tag in wanted if tag != source and tag in revision.translations))


def speaks_to(revision: Revision, owner: OwnerRow) -> str:
    """Return the language in which an owner is written to: English in the US is American, unless they chose theirs."""
    whole = owner.basis == "chosen" or owner.country is None or "-" in owner.language
    return speaks(revision, owner.language if whole else f"{owner.language}-{owner.country}")


def speaks(revision: Revision, language: str) -> str:
    """Return the written language that serves readers of *language* (RFC 4647 lookup)."""
    default = revision.campaign.languages.default or revision.campaign.language
    written = written_in(revision)
    fallback = default if default in written else revision.campaign.language
    return languages.choose([language], written, default=fallback)


@dataclass(frozen=True, slots=True)
class _Content:
    """Carries a revision's text past a cache that is keyed by its digest."""

    text: str = field(hash=False, compare=False)


@lru_cache(maxsize=16)
def _read(_digest: str, held: _Content) -> Signed:
    return Signed(revision=from_content(held.text), digest=_digest)


def signed(tx: Transaction, number: int | None = None) -> Signed | None:
    """Return the last signed revision, or the one with *number*; None before the first signature."""
    row = tx.papers.revision(number)
    return None if row is None else _read(row.digest, _Content(row.content))


def said_before(tx: Transaction) -> list[Earlier]:
    """Return the campaign as each signed revision has it, the oldest first."""
    return [
        Earlier(since=row.adopted_at, campaign=_read(row.digest, _Content(row.content)).campaign)
        for row in tx.papers.revisions()
    ]


@dataclass(frozen=True, kw_only=True, slots=True)
class Draft:
    """The folder as it stands; *revision* is None where campaign.yaml cannot be read."""

    revision: Revision | None
    findings: tuple[Finding, ...]
    lines: Mapping[str, int]

    @property
    def digest(self) -> str:
        """Return the digest that the revision would be stored under, empty where there is none."""
        return digest(to_content(self.revision)) if self.revision else ""


def drafted(world: World) -> Campaign | None:
    """Return the folder's campaign as it stands, nothing about it checked; None where it cannot be read."""
    return _loaded(world).campaign


def _loaded(world: World) -> loading.Loaded:
    raw = world.folder.read(CAMPAIGN_FILE)
    if raw is None:
        return loading.Loaded(campaign=None, findings=(_no_campaign(),), lines={})
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        return loading.Loaded(campaign=None, findings=(_not_utf8(raw, error.start),), lines={})
    return loading.load(text, CAMPAIGN_FILE)


def draft(world: World) -> Draft:
    """Read campaign.yaml, its translations, pictures and lists of codes, with every finding of all of them."""
    loaded = _loaded(world)
    if loaded.campaign is None:
        return Draft(revision=None, findings=tuple(loaded.findings), lines=loaded.lines)
    pictures = _pictures(world, loaded.campaign)
    spoken, of_translations, places = _translations(world, loaded.campaign)
    lists, of_lists = _lists(world, loaded.campaign, loaded.lines)
    revision = Revision(
        campaign=loaded.campaign,
        translations=spoken,
        pictures=pictures,
        lists=lists,
        unread=tuple(tag for tag in spoken if any(_says_unread(one, tag) for one in of_translations)),
    )
    found = (
        *loaded.findings,
        *checks.check(loaded.campaign, loaded.lines, pictures, lists),
        *of_translations,
        *of_lists,
        *wording_checks.check(
            Reading(
                campaign=loaded.campaign,
                lines=loaded.lines,
                translations=spoken,
                lines_of=places,
                expressions=world.expressions,
                laws=world.laws,
            )
        ),
    )
    return Draft(revision=revision, findings=found, lines=loaded.lines)


def _says_unread(finding: Finding, tag: str) -> bool:
    return finding.code == "translation-unread" and finding.file == f"translations/{tag}.po"


def _no_campaign() -> Finding:
    return Finding(
        code="campaign-absent",
        file=CAMPAIGN_FILE,
        line=1,
        message="there is no such file in this folder",
        mend="go to the campaign's folder, name it with --campaign, or make one with notices new DIR",
    )


def _not_utf8(raw: bytes, start: int) -> Finding:
    return Finding(
        code="campaign-not-utf8",
        file=CAMPAIGN_FILE,
        line=raw[:start].count(b"\n") + 1,
        message="this line holds bytes that are not UTF-8",
        mend="save the file as UTF-8",
    )


def _pictures(world: World, campaign: Campaign) -> dict[str, bytes]:
    found = {picture.file: world.folder.read(picture.file) for picture in campaign.product.pictures}
    return {name: data for name, data in found.items() if data is not None}


def _lists(
    world: World, campaign: Campaign, lines: Mapping[str, int]
) -> tuple[dict[str, CodeList], tuple[Finding, ...]]:
    """Read the lists of single codes that the campaign names; one that cannot be read clears nobody."""
    layout = layout_of(campaign.code)
    lists: dict[str, CodeList] = {}
    findings: list[Finding] = []
    for name, path in campaign.lists_named().items():
        data = world.folder.read(name) if name.startswith("lists/") else None
        if data is None:
            findings.append(_no_list(name, path, lines))
            continue
        codes, found = read_codes(data, name, partial(key_of, layout) if layout else fold)
        findings += (replace(finding, path=path) for finding in found)
        if codes is not None:
            lists[name] = codes
    return lists, tuple(findings)


def _no_list(name: str, path: str, lines: Mapping[str, int]) -> Finding:
    return Finding(
        code="code-list-absent",
        file=CAMPAIGN_FILE,
        line=line_of(path, lines),
        path=path,
        message=f"{name} is no file below lists/ in this folder, so that it clears nobody",
        mend="put the file there, one code a line, and name it as lists/NAME",
    )


def _translations(
    world: World, campaign: Campaign
) -> tuple[dict[str, Translation], tuple[Finding, ...], dict[str, Mapping[tuple[str, str], int]]]:
    """Read each written translation: its texts, what is wrong with it, and the line of each entry."""
    spoken: dict[str, Translation] = {}
    findings: list[Finding] = []
    lines: dict[str, Mapping[tuple[str, str], int]] = {}
    for tag in campaign.languages.written:
        if tag == campaign.language:
            continue
        name = f"translations/{tag}.po"
        raw = world.folder.read(name)
        text = "" if raw is None else raw.decode("utf-8", "replace")
        spoken[tag], found = translations.read_po(text, tag, campaign, name)
        lines[tag] = lines_of(text)
        findings.extend(found)
    return spoken, tuple(findings), lines
