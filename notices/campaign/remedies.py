"""What the firm will do: the remedies for each segment, and how their end is confirmed."""

from typing import Literal

from pydantic import Field

from audiences.segments import Segment
from notices.campaign.scalars import Count, Key, Part, Text, Whole, Word

Fitter = Literal["mechanic", "owner", "workshop"]


class RemedyFor(Part):
    """One remedy for one segment: the promise, parts with pieces, who does it (first choice first), minutes."""

    promise: Text | None = None
    parts: dict[Word, Count] = Field(default={})
    by: tuple[Fitter, ...] = ()
    minutes: dict[Fitter, Count] = Field(default={})
    tools: tuple[Text, ...] = ()
    steps: tuple[Text, ...] = ()
    saying: Count = 1


class Remedy(Part):
    """One way to put it right: repair, replacement or refund."""

    kind: Literal["repair", "replace", "refund"]
    label: Text | None = None
    all: RemedyFor | None = None
    unridden: RemedyFor | None = None
    ridden_no_symptoms: RemedyFor | None = None
    symptomatic: RemedyFor | None = None
    saying: Count = 1

    def for_segment(self, segment: Segment) -> RemedyFor | None:
        """Return the segment's own remedy, else the one for all; None while the use is unknown."""
        if segment is Segment.UNKNOWN:
            return None
        own: RemedyFor | None = getattr(self, segment)
        return own or self.all


class AnswerWithin(Part):
    """How soon the firm names a day, in working days."""

    working_days: Whole
    text: Text


class Meanwhile(Part):
    """What the firm pays for until the remedy."""

    kind: Literal["hire", "fares", "nothing"]
    text: Text | None = None
    saying: Count = 1


class Question(Part):
    """One thing the owner confirms, and the answer that means it is well."""

    key: Key
    ask: Text
    good: Literal["yes_answer", "no_answer"] = "yes_answer"


class Confirm(Part):
    """How an owner says that the remedy is done."""

    title: Text | None = None
    questions: tuple[Question, ...] = ()
    old_part: Text | None = None
