"""Whether the remedies are what the law of the EU calls a remedy: a choice, free of cost, easily and safely done.

Regulation (EU) 2023/988, article 37, where a market lies in the EU; its recitals and the custom of the trade are to be
considered only. No legal advice: counsel and the authority decide. Words are found by the tables of `remedy_words`.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from audiences.findings import Finding, Severity
from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign.remedies import Remedy, RemedyFor
from notices.wording import remedy_words as words
from notices.wording.law_tables import tables
from notices.wording.passages import Passage, Reading
from notices.wording.splitting import family

_ARTICLE = "Regulation (EU) 2023/988, article 37"
_RECITAL = "Regulation (EU) 2023/988, recital"
_CUSTOM = "common practice, no source"
_DO_NOT_USE = 2
_PARTS = ("all", "unridden", "ridden_no_symptoms", "symptomatic")
_PROMISED = ("remedies", "free", "answer_within", "meanwhile")


def single_remedy(reading: Reading) -> Iterator[Finding]:
    """Hold that each owner in the EU chooses between two kinds of remedy, or that it is written why not."""
    remedies = reading.campaign.remedies
    if remedies is None or not _eu(reading) or reading.campaign.single_remedy_reason:
        return
    alone = [
        segment
        for segment in Segment
        if len({one.kind for one in remedies.values() if one.for_segment(segment)}) == 1
    ]
    if alone:
        yield Finding(
            code="single-remedy",
            **reading.at("remedies"),
            message=f"owners have no choice between repair, replacement and refund: {', '.join(alone)}",
            mend="offer a second kind, or write single_remedy_reason: why no other is possible in proportion",
            source=f"{_ARTICLE}(2)",
        )


def owner_repair(reading: Reading) -> Iterator[Finding]:
    """Hold that an owner who may do the repair gets the parts free, and a tool for each torque that is named."""
    for key, remedy in (reading.campaign.remedies or {}).items():
        for name in _PARTS:
            part: RemedyFor | None = getattr(remedy, name)
            if part and "owner" in part.by:
                path = f"remedies.{key}.{name}"
                yield from _without_parts(reading, path, remedy, part)
                yield from _without_torque_tool(reading, path)


def _without_parts(reading: Reading, path: str, remedy: Remedy, part: RemedyFor) -> Iterator[Finding]:
    if remedy.kind == "repair" and not part.parts and _eu(reading):
        yield Finding(
            code="owner-without-parts",
            **reading.at(f"{path}.by"),
            message="the owner may do the repair, and no free parts are named",
            mend="write parts: with each part number and how many, or take owner out",
            source=f"{_ARTICLE}(3)",
        )


def _without_torque_tool(reading: Reading, path: str) -> Iterator[Finding]:
    """Name the first torque in the steps or cautions of a language whose tools hold nothing to measure it with."""
    for tag in reading.languages:
        read = list(reading.passages(tag))
        tools = " ".join(one.text for one in read if one.path.startswith(f"{path}.tools"))
        torque = next(
            (
                one
                for one in read
                if one.path.startswith((f"{path}.steps", "cautions")) and words.TORQUE.search(one.text)
            ),
            None,
        )
        if torque and not words.TORQUE_TOOL.search(tools):
            yield Finding(
                code="torque-without-tool",
                **torque.where,
                message="the owner is to tighten to a torque, and no tool among tools: measures it",
                mend="add a torque wrench to tools:, and send it with the parts",
                severity=Severity.CONSIDER,
                source=f"{_ARTICLE}(3) (to be confirmed); {_CUSTOM}",
            )


def _promised(_reading: Reading, passage: Passage) -> bool:
    return passage.path.startswith(_PROMISED)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Rule:
    """Words that stand where they should not; *where* says in which passages, *when* in which campaigns."""

    code: str
    words: words.Words
    message: str
    mend: str
    source: str
    must: bool = False
    where: Callable[[Reading, Passage], bool] = _promised
    when: Callable[[Reading], bool] = lambda _reading: True


def said(reading: Reading) -> Iterator[Finding]:
    """Name each passage whose words take from the remedy what the law or custom gives with it."""
    for rule in _RULES:
        code = rule.code
        if not rule.when(reading):
            continue
        for passage in reading.passages():
            pattern = rule.words.get(family(passage.language))
            found = pattern.search(passage.text) if pattern and rule.where(reading, passage) else None
            if found:
                yield Finding(
                    code=code,
                    **passage.where,
                    message=f"“{found[0]}”: {rule.message}",
                    mend=rule.mend,
                    severity=Severity.MUST_MEND if rule.must and not reading.warning else Severity.CONSIDER,
                    source=rule.source,
                )


def unlicensed(reading: Reading) -> Iterator[Finding]:
    """Ask where work on gas or mains is spoken of, and no qualified person is, in a campaign with a repair."""
    if not any(one.kind == "repair" for one in (reading.campaign.remedies or {}).values()):
        return
    for tag in reading.languages:
        risky, who = words.LICENSED.get(family(tag)), words.WHO_IS_LICENSED.get(family(tag))
        read = [one for one in reading.passages(tag) if _on_the_work(one)]
        first = next((one for one in read if risky and risky.search(one.text)), None)
        if first and who and not any(who.search(one.text) for one in read):
            yield Finding(
                code="licensed-work-unsaid",
                **first.where,
                message="gas or mains electricity is spoken of, and nowhere who may work on it",
                mend="name a qualified person who does the work, and say that you pay; many local codes ask for one",
                severity=Severity.CONSIDER,
                source=_CUSTOM,
            )


def _on_the_work(passage: Passage) -> bool:
    return passage.path.startswith(("hazard.", "remedies.", "cautions", "free"))


def _eu(reading: Reading) -> bool:
    return any(
        table.key == "eu" and any(map(table.binds, reading.campaign.markets.values()))
        for table in tables(reading.laws)
    )


def _anywhere(_reading: Reading, _passage: Passage) -> bool:
    return True


def _of_a_refund(reading: Reading, passage: Passage) -> bool:
    """Say whether the passage belongs to money promised back."""
    return any(
        passage.path.startswith(f"remedies.{key}.") and remedy.kind == "refund"
        for key, remedy in (reading.campaign.remedies or {}).items()
    )


def _stopped(reading: Reading) -> bool:
    """Say whether an owner is told not to use it, whatever the use was."""
    now = reading.campaign.now
    return any(now.level_for(Verdict.AFFECTED, segment) >= _DO_NOT_USE for segment in Segment)


def _not_for_the_post(reading: Reading) -> bool:
    """Say whether what was sold, or its hazard, is spoken of as what the post does not take."""
    return any(
        pattern.search(passage.text)
        for passage in reading.passages()
        if passage.path.startswith(("product.", "hazard."))
        and (pattern := words.NOT_POSTED.get(family(passage.language)))
    )


_RULES: tuple[_Rule, ...] = (
    _Rule(
        code="owner-pays",
        words=words.OWNER_PAYS,
        message="the owner bears no cost of a remedy, nor of its way there and back",
        mend="take it out, and say that parts, work, transport and post are free",
        source=f"{_ARTICLE}(1) and (5)",
        must=True,
        where=_anywhere,
        when=_eu,
    ),
    _Rule(
        code="refund-below-price",
        words=words.LESS_MONEY,
        message="a refund is at least the price that was paid",
        mend="promise the full price",
        source=f"{_ARTICLE}(2)(c)",
        must=True,
        where=_of_a_refund,
        when=_eu,
    ),
    _Rule(
        code="claim-by-day",
        words=words.CLAIM_BY,
        message="a remedy that ends on a day leaves units in use; the law sets it no end",
        mend="take the day out",
        source=f"{_RECITAL} 88",
        when=_eu,
    ),
    _Rule(
        code="proof-of-purchase-asked",
        words=words.PROOF,
        message="whoever has no proof of purchase keeps using it; an adequate refund needs none",
        mend="say that no receipt is needed",
        source=f"{_RECITAL} 91",
        when=_eu,
    ),
    _Rule(
        code="owner-must-repair",
        words=words.MUST_REPAIR,
        message="owners should not be obliged to repair",
        mend="say that they may, and that a qualified person does it free of charge",
        source=f"{_RECITAL} 92",
        where=_anywhere,
        when=_eu,
    ),
    _Rule(
        code="disposal-loses-rights",
        words=words.THROWN_AWAY,
        message="throwing it away must be easy and safe, and take nobody's right to money or another one",
        mend="say first how the owner gets money or another one, and that the right stays",
        source=f"{_ARTICLE}(4)",
        where=_anywhere,
        when=_eu,
    ),
    _Rule(
        code="brought-while-stopped",
        words=words.BRING_IT,
        message="the owner is told not to use it, and here to bring it along",
        mend="fetch it, or say how it travels without being used, at your cost",
        source=f"{_ARTICLE}(5) (to be confirmed); {_CUSTOM}",
        where=_anywhere,
        when=_stopped,
    ),
    _Rule(
        code="dangerous-by-post",
        words=words.BY_POST,
        message="gas, batteries and the like are dangerous goods that the post does not take as they are",
        mend="fetch it, or send a packing that is approved for it with the instructions",
        source=_CUSTOM,
        where=_anywhere,
        when=_not_for_the_post,
    ),
)
