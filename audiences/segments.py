"""How a unit has been used, and how what owners say moves it."""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType


class Segment(StrEnum):
    """The four answers to how a unit was used; readers see the campaign's own words for them."""

    UNRIDDEN = "unridden"
    RIDDEN_NO_SYMPTOMS = "ridden_no_symptoms"
    SYMPTOMATIC = "symptomatic"
    UNKNOWN = "unknown"


DANGER: Mapping[Segment, int] = MappingProxyType(
    {
        Segment.SYMPTOMATIC: 0,
        Segment.UNKNOWN: 0,  # the least that is known is not the least danger
        Segment.RIDDEN_NO_SYMPTOMS: 1,
        Segment.UNRIDDEN: 2,
    }
)
"""Rank of danger, 0 the most endangered: the order in which owners are served."""

_STEPS = (Segment.UNKNOWN, Segment.UNRIDDEN, Segment.RIDDEN_NO_SYMPTOMS, Segment.SYMPTOMATIC)


def climb(now: Segment, said: Segment) -> Segment:
    """Return the higher of *now* and what the owner *said*; no answer of an owner steps down."""
    return max(now, said, key=_STEPS.index)


def treated_as(segment: Segment) -> Segment:
    """Return the segment whose instruction holds: use unknown counts as symptomatic until answered."""
    return Segment.SYMPTOMATIC if segment is Segment.UNKNOWN else segment
