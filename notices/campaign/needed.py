"""The tables of what each purpose needs, each line with the law or custom that asks for it."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from audiences.findings import Severity
from audiences.segments import Segment
from notices.campaign.models import Campaign


@dataclass(frozen=True, kw_only=True, slots=True)
class Need:
    """One part that must be there, or, where *severity* says so, is missed by readers."""

    code: str
    path: str
    has: Callable[[Campaign], object]
    message: str
    mend: str
    severity: Severity = Severity.MUST_MEND
    source: str = ""


def _answer(segment: Segment, campaign: Campaign) -> object:
    return getattr(campaign.use, segment).answer


HAZARD_AND_STOP = (
    Need(
        code="hazard-missing",
        path="hazard.what",
        has=lambda campaign: campaign.hazard.what,
        message="the notice does not say what can happen",
        mend="write what breaks or fails, and what happens then",
        source="Regulation (EU) 2023/988, article 36",
    ),
    Need(
        code="hazard-missing",
        path="hazard.who",
        has=lambda campaign: campaign.hazard.who,
        message="the notice does not say who can be hurt, and how badly",
        mend="name everyone who can be hurt, and say killed where that can be",
        source="Regulation (EU) 2023/988, article 36",
    ),
    Need(
        code="signal-missing",
        path="hazard.signal",
        has=lambda campaign: campaign.hazard.signal,
        message="the notice has no signal word",
        mend="write DANGER, WARNING or CAUTION, by how badly people can be hurt",
        source="ANSI Z535.6 (definitions from memory)",
    ),
    Need(
        code="stop-missing",
        path="now.headline",
        has=lambda campaign: campaign.now.headline,
        message="the notice has no headline that says what to do at once",
        mend="write one sentence: stop using it, and nobody else uses it either",
        source="Regulation (EU) 2023/988, article 36",
    ),
    Need(
        code="stop-missing",
        path="now.steps.all",
        has=lambda campaign: campaign.now.steps.all,
        message="the notice has no steps",
        mend="write what the owner does now, one step a line",
        source="Regulation (EU) 2023/988, article 36",
    ),
)

ANY_NOTICE = (
    *HAZARD_AND_STOP,
    Need(
        code="contact-missing",
        path="contacts",
        has=lambda campaign: campaign.issuer.email or any(contact.phone for contact in campaign.contacts),
        message="the owner has no way to reach you",
        mend="write issuer.email, or a contact with a phone",
        source="Regulation (EU) 2023/988, article 36",
    ),
    Need(
        code="next-word-missing",
        path="next_word",
        has=lambda campaign: campaign.next_word,
        message="the notice does not say when you write again",
        mend="write the day, at most seven days after revision.day",
        source="common practice, no source",
    ),
    Need(
        code="revision-day-missing",
        path="revision.day",
        has=lambda campaign: campaign.revision.day,
        message="the notice does not say as of which day it holds",
        mend="write revision: {number: …, day: …, why: …}",
        severity=Severity.CONSIDER,
        source="common practice, no source",
    ),
    Need(
        code="without-sign-missing",
        path="hazard.without_sign",
        has=lambda campaign: campaign.hazard.without_sign,
        message="the notice does not say whether it can happen without any sign",
        mend="write it, if it can; owners who notice nothing go on using it",
        severity=Severity.CONSIDER,
        source="common practice, no source",
    ),
    Need(
        code="code-missing-text-missing",
        path="now.code_missing",
        has=lambda campaign: campaign.now.code_missing or campaign.code is None,
        message="owners whose code you do not have read our words, not yours",
        mend="write what they do until they have told you the code",
        severity=Severity.CONSIDER,
        source="common practice, no source",
    ),
    Need(
        code="other-code-text-missing",
        path="now.other_code",
        has=lambda campaign: campaign.now.other_code or campaign.code is None,
        message="owners who find another code, or none, are told no way on",
        mend="write that they still stop, and that you look with them",
        severity=Severity.CONSIDER,
        source="common practice, no source",
    ),
    Need(
        code="web-address-missing",
        path="issuer.web",
        has=lambda campaign: campaign.issuer.web,
        message="owners are told no page of yours where they can see for themselves that the notice is genuine",
        mend="write the address of your first page, and show the notice there",
        severity=Severity.CONSIDER,
        source="common practice, no source",
    ),
)

STOP = (
    Need(
        code="subject-missing",
        path="subjects.stop",
        has=lambda campaign: campaign.subjects.stop,
        message="the stop warning has no subject line of its own; its headline stands there",
        mend="write what not to do, and why, in one line",
        severity=Severity.CONSIDER,
    ),
    Need(
        code="warning-headline-missing",
        path="warning_headline",
        has=lambda campaign: campaign.warning_headline,
        message="the stop warning has no headline of its own; ours stands there",
        mend="write it, as: Important safety warning",
        severity=Severity.CONSIDER,
    ),
    Need(
        code="before-remedy-missing",
        path="before_remedy",
        has=lambda campaign: campaign.before_remedy,
        message="the stop warning does not say in your words what the owner may expect; ours stand there",
        mend="write that you work on it, and by which day you write: %(next_word)s",
        severity=Severity.CONSIDER,
    ),
)

RECALL = (
    Need(
        code="subject-missing",
        path="subjects.first",
        has=lambda campaign: campaign.subjects.first,
        message="the recall notice has no subject line",
        mend="write what not to do, and that it is a product safety recall",
    ),
    Need(
        code="free-missing",
        path="free",
        has=lambda campaign: campaign.free,
        message="the notice does not say that the remedy costs nothing",
        mend="write that parts, work, transport and post are free",
        source="Regulation (EU) 2023/988, article 37",
    ),
    Need(
        code="market-missing",
        path="markets",
        has=lambda campaign: campaign.markets,
        message="no market is named, so no notice has a headline",
        mend="write each market with its countries and its headline, as EU: … Product safety recall",
        source="Regulation (EU) 2023/988, article 36",
    ),
    Need(
        code="use-question-missing",
        path="use.question",
        has=lambda campaign: campaign.use.question,
        message="the owner is not asked how the unit was used, and the remedy depends on it",
        mend="write the question, and a name and an answer for each of the four segments",
    ),
    Need(
        code="answer-within-missing",
        path="answer_within",
        has=lambda campaign: campaign.answer_within,
        message="the notice does not say how soon the owner hears of a day",
        mend="write the working days and the sentence",
        severity=Severity.CONSIDER,
        source="common practice, no source",
    ),
)

CLEARING = (
    Need(
        code="subject-missing",
        path="subjects.cleared",
        has=lambda campaign: campaign.subjects.cleared,
        message="owners whose unit is not affected get a notice without a subject line",
        mend="write that this unit is not affected as far as is known",
    ),
    Need(
        code="cleared-text-missing",
        path="now.cleared",
        has=lambda campaign: campaign.now.cleared,
        message="owners whose unit is not affected are not told so",
        mend="write it, with as we know it on %(day)s",
    ),
    Need(
        code="near-text-missing",
        path="now.near",
        has=lambda campaign: campaign.now.near,
        message="an owner whose code is one slip from an affected one is not told to look again",
        mend="write that the unit still is not used until the code is certain",
    ),
)

BULLETIN = (
    Need(
        code="bulletin-address-missing",
        path="issuer.bulletin",
        has=lambda campaign: campaign.issuer.bulletin,
        message="the public page has no address that notices can name",
        mend="write the address without https://, short enough to read out",
    ),
    Need(
        code="ledger-missing",
        path="ledger",
        has=lambda campaign: any(not fact.inside for fact in campaign.ledger),
        message="the public page has nothing to say on what is known and what is not",
        mend="write at least one fact, with its standing",
    ),
)

SERVE = (
    Need(
        code="answers-address-missing",
        path="issuer.answers",
        has=lambda campaign: campaign.issuer.answers,
        message="the answer page has no address that links can begin with",
        mend="write the address that owners reach it at, with https://",
    ),
    Need(
        code="button-missing",
        path="now.stopped_page_button",
        has=lambda campaign: campaign.now.stopped_page_button,
        message="the first page has no button to say that the owner has stopped",
        mend="write the words on it, as: I have stopped. Next",
    ),
    Need(
        code="button-missing",
        path="now.in_use_button",
        has=lambda campaign: campaign.now.in_use_button,
        message="the first page has no button for owners who cannot stop yet",
        mend="write the words on it, as: I still have to use it. Call me",
    ),
    Need(
        code="use-question-missing",
        path="use.question",
        has=lambda campaign: campaign.use.question,
        message="the page cannot ask how the unit was used",
        mend="write the question, and a name and an answer for each of the four segments",
    ),
    *(
        Need(
            code="use-answer-missing",
            path=f"use.{segment}.answer",
            has=partial(_answer, segment),
            message="the page cannot offer this answer on use",
            mend="write the answer as an owner would say it",
        )
        for segment in Segment
    ),
    Need(
        code="confirm-missing",
        path="confirm.title",
        has=lambda campaign: campaign.remedies is None or campaign.confirm.title,
        message="the owner cannot confirm that the remedy is done",
        mend="write confirm: with a title and questions",
    ),
)
