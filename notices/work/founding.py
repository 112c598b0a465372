"""A new campaign folder: the answers as a campaign, the note that stops all sales, the stop warning to be read."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from audiences import canonical
from audiences.findings import Finding, must_mend
from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign.answers import FILE, Answers
from notices.campaign.answers_file import to_toml
from notices.campaign.first_draft import first_draft
from notices.campaign.needs import lacking
from notices.campaign.own_duties import Counted
from notices.campaign.revisions import Revision
from notices.campaign.starter import MAIL_TOML
from notices.cases.deadlines import Owed, owed_in
from notices.compose.filling import fill
from notices.compose.values import sample_values
from notices.compose.variants import VariantKey
from notices.work import checking, stopping
from notices.work.ports import World
from notices.work.proving import catalogue, compose
from notices.work.revisions import CAMPAIGN_FILE, draft

WARNING = "out/stop-warning"


@dataclass(frozen=True, kw_only=True, slots=True)
class Founded:
    """What a new folder holds: the note as text, the files to be read, what is to do, the duties with their days."""

    note: str
    files: tuple[str, ...]
    findings: tuple[Finding, ...]
    duties: tuple[Owed, ...]

    @property
    def ready(self) -> bool:
        """Say whether the stop warning may be signed as it is."""
        return not must_mend(self.findings)


def found(world: World, answers: Answers, given: Mapping[str, Sequence[str]], today: date) -> Founded:
    """Write the folder's files, campaign.yaml last, so that a folder that has one is whole. No register is made."""
    world.folder.write(FILE, to_toml(given).encode())
    world.folder.write("mail.toml", MAIL_TOML.encode())
    world.folder.write(CAMPAIGN_FILE, first_draft(answers, today).encode())
    revision = draft(world).revision
    note = stopping.put_note(world, revision.campaign) if revision else None
    days: dict[Counted, date] = {"action": today}
    learned = answers.day("learned")
    if learned is not None:
        days["knowledge"] = learned
    return Founded(
        note=note.text if note else "",
        files=(*(note.files if note else ()), *(_warning(world, revision) if revision else ())),
        findings=tuple(checking.check(world).findings),
        duties=owed_in(answers.lines("countries") or tuple(filter(None, [answers.text("country")])), days),
    )


def _warning(world: World, revision: Revision) -> tuple[str, ...]:
    """Write the stop warning as its owners would read it, page and text; nothing where hazard or stop is lacking."""
    campaign = revision.campaign
    market = next(iter(campaign.markets), "")
    key = VariantKey(
        kind="stop",
        channel="email",
        verdict=Verdict.AFFECTED,
        segment=Segment.UNKNOWN,
        market=market,
        language=campaign.language,
    )
    if must_mend(lacking(campaign, "proofs", {})):
        return ()
    country = campaign.markets[market].countries[0] if market else campaign.issuer.country
    sample = sample_values(campaign, catalogue(world, campaign.language), country=country, form="one")
    filled = fill(compose(world, revision, key).content, canonical.dump(sample))
    world.folder.write(f"{WARNING}.txt", filled.text.encode())
    world.folder.write(f"{WARNING}.html", "".join(filled.rich).encode())
    return f"{WARNING}.txt", f"{WARNING}.html"
