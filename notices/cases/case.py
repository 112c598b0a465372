"""What is known of one unit: its stage, whether it is in use, and what waits for a person."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import IntEnum, StrEnum

from audiences.segments import Segment


class Stage(IntEnum):
    """How far a case has come; the order is that of the work."""

    LISTED = 0
    NOTIFIED = 1
    ANSWERED = 2
    REMEDY_AGREED = 3
    UNDER_WAY = 4
    DONE_UNCONFIRMED = 5
    CONFIRMED = 6
    CLOSED = 7

    @property
    def key(self) -> str:
        """Return the name as it stands in the register and in JSON."""
        return self.name.lower()


class Stopped(StrEnum):
    """Whether the unit is in use, as far as anybody has said."""

    NO_WORD = "no_word"
    PRESSED = "pressed"
    STOPPED = "stopped"
    IN_USE = "in_use"


class Whereabouts(StrEnum):
    """Where the unit itself is."""

    OWNER = "owner"
    STOCK = "stock"
    COLLECTED = "collected"
    DESTROYED = "destroyed"


# What is asked for with `help_asked` where somebody was hurt or a part has broken.
HURT = "hurt"
# Why a person must call, whatever mail goes too: what we said, or sent, has put an owner in danger.
TOLD_SAFE, WAS_CLEARED, BAD_LOT = "told_safe", "was_cleared", "bad_lot"
# Endings after which the unit is no longer out there, and where it then is.
PUT_AWAY: Mapping[str, Whereabouts] = {
    "in_stock": Whereabouts.STOCK,
    "refunded": Whereabouts.COLLECTED,
    "replaced": Whereabouts.COLLECTED,
    "destroyed": Whereabouts.DESTROYED,
}
# Endings that leave the unit out there: never counted as corrected.
STILL_OUT = frozenset({"unreachable", "refused_by_owner", "stolen_or_lost"})
ENDINGS = frozenset({"fixed", "cleared", "listed_twice"}) | PUT_AWAY.keys() | STILL_OUT


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """One unit's standing.

    *version* counts the events folded; *live* the notices to present holders that have not come back; *first_on*
    is the day of the first notice, *steps* the follow-up steps already taken; *urgent_on* the day since when a
    person must call; *instruct_on* the day since when a changed instruction is due; *help_on* since when
    help is asked for, *aside_on* since when an answer waits for a person to look; *changed_on* the day of the last
    change of stage; *told_code* is the code that we know by somebody's word alone; *used_at* the moment at which the
    use was last stated. *told_safe* says that by our last word to its owner the unit may be used; *alarm* why a person
    must call though nobody asked (`TOLD_SAFE` …); *lots* are those of the parts that it was sent or fitted with,
    *lot_withdrawn* the one of these that must not be used.
    """

    unit_id: str
    version: int = 0
    keeper_id: str | None = None
    whereabouts: Whereabouts = Whereabouts.OWNER
    stopped: Stopped = Stopped.NO_WORD
    verdict: str | None = None
    why: str = ""
    judged_by: str = ""
    judged_via: str = ""
    segment: Segment = Segment.UNKNOWN
    stage: Stage = Stage.LISTED
    ending: str | None = None
    live: int = 0
    listed_on: date | None = None
    first_on: date | None = None
    steps: tuple[str, ...] = ()
    urgent_on: date | None = None
    instruct_on: date | None = None
    instruct_why: str = ""
    help_on: date | None = None
    help_what: str = ""
    aside_on: date | None = None
    changed_on: date | None = None
    told_code: str = ""
    used_at: str = ""
    told_safe: bool = False
    alarm: str = ""
    lots: tuple[str, ...] = ()
    lot_withdrawn: str = ""
    lessors: tuple[str, ...] = ()
