"""Whether days, levels and the signal word of a warning hold together."""

from collections.abc import Iterator
from datetime import timedelta

from audiences.findings import Finding, Severity
from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign.looking import FILE, Look, line_of
from notices.campaign.models import SCHEMA

_NEXT_WORD_WITHIN = timedelta(days=7)
_DO_NOT_USE = 2
_MAY_BE_USED = 0
_DEADLY = frozenset({"DANGER", "WARNING"})
OPEN = frozenset({"not_yet_known", "being_checked"})
_NAMES = frozenset({"issuer.name", "product.name"})


def schema(look: Look) -> Iterator[Finding]:
    """Hold that the file is written in the form that this program reads."""
    found = look.campaign.schema_
    if found != SCHEMA:
        yield Finding(
            code="schema-unknown",
            **look.at("schema"),
            message=f"the file says form {found}; this program reads form {SCHEMA}",
            mend="install the program that the file was written for" if found > SCHEMA else "write schema: 1",
        )


def next_word(look: Look) -> Iterator[Finding]:
    """Hold that the next word is promised for a day that is near, and not before this one."""
    day, revised = look.campaign.next_word, look.campaign.revision.day
    if day is None or revised is None:
        return
    if day < revised:
        yield Finding(
            code="next-word-before-revision",
            **look.at("next_word"),
            message=f"the next word is promised for {day}, before this revision's own day, {revised}",
            mend=f"write a day from {revised} to {revised + _NEXT_WORD_WITHIN}",
        )
    elif day - revised > _NEXT_WORD_WITHIN:
        yield Finding(
            code="next-word-too-late",
            **look.at("next_word"),
            message=f"{day} is {(day - revised).days} days after this revision, and 7 is the most",
            mend=f"write a day up to {revised + _NEXT_WORD_WITHIN}; the word may be that there is nothing new",
            source="common practice, no source",
        )


def reason(look: Look) -> Iterator[Finding]:
    """Hold that every change of what was said is explained."""
    revision = look.campaign.revision
    if revision.number > 0 and revision.why is None:
        yield Finding(
            code="revision-why-missing",
            **look.at("revision"),
            message=f"revision {revision.number} does not say why it was made",
            mend="write why: and what has changed, in a sentence that the public may read",
            source="common practice, no source",
        )


def facts(look: Look) -> Iterator[Finding]:
    """Hold that no fact is from later than the revision that states it, and that what is known has a day."""
    revised = look.campaign.revision.day
    for place, fact in enumerate(look.campaign.ledger):
        if fact.day is None and fact.standing in {"known", "withdrawn"}:
            yield Finding(
                code="fact-without-day",
                **look.at(f"ledger[{place}]"),
                message="a reader cannot tell since when this is so",
                mend="write day: and the day on which you learned it",
                severity=Severity.CONSIDER,
                source="common practice, no source",
            )
        if fact.day is not None and revised is not None and fact.day > revised:
            yield Finding(
                code="fact-after-revision",
                **look.at(f"ledger[{place}].day"),
                message=f"the fact is of {fact.day}, and this revision of {revised}",
                mend="correct the day of the fact, or make the revision a later one",
            )


def waiting(look: Look) -> Iterator[Finding]:
    """Name each part of the file that waits for a fact; no notice goes out in the name of nobody."""
    for place, fact in enumerate(look.campaign.ledger):
        if fact.about is None or fact.standing not in OPEN:
            continue
        nameless = fact.about in _NAMES and fact.standing == "not_yet_known"
        yield Finding(
            code="fact-open",
            file=FILE,
            line=line_of(f"ledger[{place}]", look.lines),
            path=fact.about,
            message=f"{'not yet known' if fact.standing == 'not_yet_known' else 'being checked'}: {fact.text}",
            mend="find out and write it; then say in the ledger what is known, or take the line out",
            severity=Severity.MUST_MEND if nameless else Severity.CONSIDER,
        )


def levels(look: Look) -> Iterator[Finding]:
    """Hold that nobody in more danger is told to do less, and that a deadly hazard stops the use."""
    now = look.campaign.now
    used = now.level_for(Verdict.AFFECTED, Segment.RIDDEN_NO_SYMPTOMS)
    for segment in (Segment.SYMPTOMATIC, Segment.UNKNOWN):
        found = now.level_for(Verdict.AFFECTED, segment)
        if found < used:
            yield Finding(
                code="level-falls",
                **look.at(f"now.level.{segment}"),
                message=f"{segment} is told level {found}, less than the {used} of a unit without symptoms",
                mend=f"write {used} or more",
            )
    for verdict in (Verdict.AFFECTED, Verdict.MISSING, Verdict.UNREADABLE):
        found = now.level.for_verdict(verdict)
        if look.campaign.hazard.signal in _DEADLY and found < _DO_NOT_USE:
            yield Finding(
                code="level-too-low",
                **look.at(f"now.level.{verdict}"),
                message=f"people can be killed, and {verdict} is told level {found}, which does not stop the use",
                mend="write 2 (do not use) or 3 (nor move)",
            )


def cleared_level(look: Look) -> Iterator[Finding]:
    """Hold that a unit that is not affected is not stopped."""
    found = look.campaign.now.level.cleared
    if found is not None and found >= _DO_NOT_USE:
        yield Finding(
            code="level-cleared",
            **look.at("now.level.cleared"),
            message=f"owners are told that their unit is not affected, and by level {found} not to use it",
            mend=f"write {_MAY_BE_USED}, or 1 if it is to be checked",
        )


def signal(look: Look) -> Iterator[Finding]:
    """Hold that the signal word is one for people; NOTICE is for things alone."""
    if look.campaign.hazard.signal == "NOTICE":
        yield Finding(
            code="signal-notice",
            **look.at("hazard.signal"),
            message="NOTICE says that nobody can be hurt",
            mend="write DANGER, WARNING or CAUTION, by how badly people can be hurt",
            source="ANSI Z535.6 (definitions from memory)",
        )


WARNING_CHECKS = (schema, next_word, reason, facts, waiting, levels, cleared_level, signal)
