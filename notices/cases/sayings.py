"""What an owner is told to do and promised, as facts: a correction follows a changed saying, not a mended comma."""

from audiences import canonical
from audiences.segments import Segment
from audiences.verdicts import SAFE, Verdict
from notices.campaign.models import Campaign, Remedy
from notices.cases.records import Saying


def warning(campaign: Campaign) -> Campaign:
    """Return the campaign as a stop warning tells it: whatever else is known, it promises no remedy."""
    return campaign if campaign.remedies is None else campaign.model_copy(update={"remedies": None})


def saying(campaign: Campaign, verdict: Verdict, segment: Segment) -> Saying:
    """Return what the campaign says to the owner of a unit with this verdict and use.

    ``said`` digests facts only: warning or recall, verdict, level, each remedy's kind, parts, fitter, and the
    kind of meanwhile; ``saying`` numbers beside them count too. ``body`` is for reading.
    """
    safe = verdict in SAFE
    level = campaign.now.level_for(verdict, segment)
    facts = {
        "notice": "warning" if campaign.remedies is None else "recall",
        "verdict": verdict,
        "level": level,
        "remedies": {} if safe else _remedies(campaign, segment),
        "meanwhile": None if safe or campaign.meanwhile is None else campaign.meanwhile.kind,
        "sense": _senses(campaign),
    }
    return Saying(
        said=canonical.digest(facts),
        verdict=verdict,
        segment=segment,
        level=level,
        body=canonical.dump(_body(campaign, verdict, segment)),
    )


def _remedies(campaign: Campaign, segment: Segment) -> dict[str, object]:
    return {key: _remedy(remedy, segment) for key, remedy in (campaign.remedies or {}).items()}


def _remedy(remedy: Remedy, segment: Segment) -> dict[str, object]:
    """State a remedy for one segment; while the use is unknown every segment's is promised."""
    asked = (
        [one for one in Segment if one is not Segment.UNKNOWN] if segment is Segment.UNKNOWN else [segment]
    )
    return {
        "kind": remedy.kind,
        "for": {
            one: {"parts": dict(found.parts), "by": list(found.by), "saying": found.saying}
            for one in asked
            if (found := remedy.for_segment(one)) is not None
        },
        "saying": remedy.saying,
    }


def _senses(campaign: Campaign) -> list[int]:
    """Return the numbers that the lead raises where the sense of a text changed and no fact did."""
    meanwhile = campaign.meanwhile.saying if campaign.meanwhile else 1
    return [campaign.saying, campaign.now.saying, campaign.hazard.saying, meanwhile]


def _body(campaign: Campaign, verdict: Verdict, segment: Segment) -> dict[str, object]:
    """Return the sentences behind the facts, in the source language."""
    if verdict in SAFE:
        return {"now": campaign.now.cleared or ""}
    promises = {
        key: {
            one: found.promise
            for one in Segment
            if segment in {one, Segment.UNKNOWN} and (found := remedy.for_segment(one)) and found.promise
        }
        for key, remedy in (campaign.remedies or {}).items()
    }
    return {"now": list(campaign.now.steps_for(segment)), "promises": promises}
