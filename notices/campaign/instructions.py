"""What an owner is told at once: the hazard, the subject line, and what to do now."""

from typing import Literal

from audiences.segments import Segment, treated_as
from audiences.verdicts import SAFE, Verdict
from notices.campaign.scalars import Count, DangerLevel, Part, Text

_DO_NOT_USE = 2  # what holds where the lead has given no level: caution before convenience

# ANSI Z535.6, definitions from memory. DANGER: will result in death or serious injury if not avoided. WARNING: could
# result in death or serious injury. CAUTION: could result in minor or moderate injury. NOTICE: practices not related
# to physical injury.
Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]


class Hazard(Part):
    """What can happen, to whom, and what is seen beforehand."""

    signal: Signal | None = None
    what: Text | None = None
    who: Text | None = None
    without_sign: Text | None = None
    signs: tuple[Text, ...] = ()
    short: Text | None = None
    saying: Count = 1


class Lines(Part):
    """One line for each kind of notice: its subject, or its preheader."""

    stop: Text | None = None
    first: Text | None = None
    cleared: Text | None = None
    remind: Text | None = None
    check_code: Text | None = None
    instruct: Text | None = None
    correct: Text | None = None
    next_word: Text | None = None
    parts: Text | None = None
    day: Text | None = None
    confirm: Text | None = None
    closed: Text | None = None


class Corrections(Part):
    """The first words of a correction, by what its owner was told or sent before; each has words of ours else."""

    told_safe: Text | None = None
    told_to_stop: Text | None = None
    parts: Text | None = None
    other: Text | None = None


class Level(Part):
    """How far the instruction goes: 0 may be used, 1 check, 2 do not use, 3 nor move."""

    affected: DangerLevel | None = None
    missing: DangerLevel | None = None
    unreadable: DangerLevel | None = None
    cleared: DangerLevel | None = None
    unridden: DangerLevel | None = None
    ridden_no_symptoms: DangerLevel | None = None
    symptomatic: DangerLevel | None = None
    unknown: DangerLevel | None = None

    def for_segment(self, segment: Segment) -> int | None:
        """Return the segment's own level; use unknown counts as symptomatic unless it has its own."""
        own: int | None = getattr(self, segment)
        if own is None:
            own = getattr(self, treated_as(segment))
        return own

    def for_verdict(self, verdict: Verdict) -> int:
        """Return the level of a verdict, where the segment has none of its own."""
        if verdict in SAFE:
            return self.cleared or 0
        own: int | None = getattr(self, verdict)
        if own is None:
            own = self.affected
        return _DO_NOT_USE if own is None else own


class Steps(Part):
    """What to do, step by step: for everyone, and what stands in its place for a segment."""

    all: tuple[Text, ...] = ()
    unridden: tuple[Text, ...] = ()
    ridden_no_symptoms: tuple[Text, ...] = ()
    symptomatic: tuple[Text, ...] = ()
    unknown: tuple[Text, ...] = ()


class Now(Part):
    """What the owner does this minute, in whole sentences."""

    headline: Text | None = None
    level: Level = Level()
    steps: Steps = Steps()
    stopped_button: Text | None = None
    stopped_page_button: Text | None = None
    in_use_button: Text | None = None
    call_at_once: Text | None = None
    reply_word: Text | None = None
    other_code: Text | None = None
    code_missing: Text | None = None
    near: Text | None = None
    cleared: Text | None = None
    saying: Count = 1

    def steps_for(self, segment: Segment) -> tuple[str, ...]:
        """Return the steps for a segment; its own stand in the place of the first of *all*, the rest follow.

        Use unknown counts as symptomatic unless it has steps of its own.
        """
        own: tuple[str, ...] = getattr(self.steps, segment) or getattr(self.steps, treated_as(segment))
        return own + self.steps.all[len(own) :]

    def level_for(self, verdict: Verdict, segment: Segment) -> int:
        """Return 0 may be used, 1 check, 2 do not use, or 3 nor move; where nothing is said, 2."""
        if verdict in SAFE:
            return self.level.for_verdict(verdict)
        own = self.level.for_segment(segment)
        return self.level.for_verdict(verdict) if own is None else own


class Answer(Part):
    """One segment as a reader sees it: its name, and the answer that leads to it."""

    name: Text | None = None
    answer: Text | None = None


class Use(Part):
    """The question on use and its four answers; *not sure* leads to *unknown* and counts as symptomatic."""

    question: Text | None = None
    unridden: Answer = Answer()
    ridden_no_symptoms: Answer = Answer()
    symptomatic: Answer = Answer()
    unknown: Answer = Answer()
