"""One sending from its preparation on: what would go, to how many, and whether the folder's draft differs."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo

from notices.cases.outgoing import Outcome, Pace
from notices.cases.records import Posting, PostingState
from notices.work import gates, looking_again, marks, posting, sending, tries
from notices.work.looking import time_zone
from notices.work.ports import World
from notices.work.revisions import draft, signed
from notices.work.ways_out import WayOut


@dataclass(frozen=True, kw_only=True, slots=True)
class Ready:
    """What stands ready: the signed revision (None: none yet), messages and owners waiting, and what cannot go.

    *draft_differs* says whether the folder says something else than what goes out; *unsettled* counts messages in
    doubt or left in a try, which a run settles first; *next_at* is when the next message may go. *held* counts the
    owners of each market that waits, *older* names the markets whose agreement is older than the revision.
    """

    revision: int | None
    draft_differs: bool
    made: int
    waiting: int
    owners: int
    unsettled: int
    no_address: int
    unsigned: Mapping[str, int]
    next_at: datetime | None
    zone: tzinfo
    held: tuple[gates.Held, ...] = ()
    older: tuple[gates.Gate, ...] = ()

    @property
    def anything(self) -> bool:
        """Say whether a run has something to do."""
        return bool(self.waiting or self.unsettled)


def ready(world: World, *, channel: str = "email") -> Ready:
    """Put what is owed into the outbox and say what stands ready to go by *channel*.

    Raises RegisterError where the register may not know of all that was sent.
    """
    marks.hold_back(world)
    prepared = posting.prepare(world, channel=channel)
    drafted = draft(world)
    with world.register.look() as tx:
        held = signed(tx)
        now = world.now()
        waiting = [
            one
            for one in tx.outbox.postings(state=PostingState.WAITING)
            if one.channel == channel and (one.not_before is None or one.not_before <= now)
        ]
        unsettled = sum(
            one.channel == channel
            for state in (PostingState.IN_DOUBT, PostingState.TRYING)
            for one in tx.outbox.postings(state=state)
        )
        next_at = tries.next_at(tx, channel=channel, now=now)
        older = gates.older(tx, held.campaign, held.number) if held else ()
    return Ready(
        revision=held.number if held else None,
        draft_differs=held is not None and drafted.revision is not None and drafted.digest != held.digest,
        made=prepared.made,
        waiting=len(waiting),
        owners=len({one.owner_id for one in waiting}),
        unsettled=unsettled,
        no_address=prepared.no_address,
        unsigned=prepared.unsigned,
        next_at=next_at,
        zone=time_zone(held.campaign if held else None),
        held=prepared.held,
        older=older,
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Sender:
    """The process that sends: its name in the register, and how it asks about others, waits and is stopped."""

    worker: str
    gone: Callable[[str], bool]
    sleep: Callable[[float], None]
    halted: Callable[[], str | None]


def dispatch(
    world: World,
    way: WayOut,
    sender: Sender,
    *,
    by: str,
    pace: Pace,
    connections: int = 1,
    seen: Callable[[Posting, Outcome], None] = lambda _posting, _outcome: None,
) -> sending.Sent:
    """Send what stands ready by e-mail until nothing more can go now.

    Raises RegisterError where the register may not know of all that was sent.
    """
    marks.hold_back(world)
    plan = sending.Plan(
        worker=sender.worker,
        begun_by=by,
        pace=pace,
        messages=posting.messages,
        look_again=lambda tx, some: looking_again.look_again(world, tx, some),
        gone=sender.gone,
        sleep=sender.sleep,
        halted=sender.halted,
        seen=seen,
        mark=lambda mark: marks.write(world.folder, mark),
        connections=connections,
    )
    return sending.send(world, way, plan)
