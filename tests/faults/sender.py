"""One sending process: the program as its command assembles it, but for the clock that it is given."""

import json
import time
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

from notices import assembly
from notices.settings import Settings
from notices.work import dispatching, looking_again, posting
from notices.work.ports import World

BY = "Ines Hall"


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """What one process does: send from *register*, and write how it ended to *result*.

    The clock stands at *base* where the machine's monotonic one stands at *since*, so that two processes agree.
    """

    folder: str
    register: str
    base: str
    since: float
    result: str


class Clock:
    """A clock that goes with the machine's, and that sleeping moves on at once."""

    def __init__(self, base: datetime, since: float) -> None:
        self._base = base
        self._since = since
        self._slept = 0.0

    def now(self) -> datetime:
        """Return where the clock stands."""
        return self._base + timedelta(seconds=time.monotonic() - self._since + self._slept)

    def sleep(self, seconds: float) -> None:
        """Move on, and let others have their turn."""
        self._slept += seconds
        time.sleep(0.001)


def run(job: Job) -> int:
    """Send until nothing more can go now; return 0, or 1 where something was in the way."""
    clock = Clock(datetime.fromisoformat(job.base), job.since)
    settings = Settings(register=job.register)
    with assembly.opened(Path(job.folder), settings, now=clock.now) as world, assembly.sender() as real:
        post, findings = assembly.mail_post(world, settings)
        assert post is not None, findings

        sent = dispatching.dispatch(
            world,
            post.way,
            replace(real, sleep=clock.sleep),
            by=BY,
            pace=post.pace,
            connections=post.connections,
        )
    Path(job.result).write_text(json.dumps(asdict(sent), default=str), "utf-8")
    return 0 if sent.finished else 1


def warm(world: World) -> None:
    """Compose what every process composes first, once for all that are born of this one."""
    with world.register.change() as tx:
        seen = set()
        for one in tx.outbox.postings():
            if one.fingerprint not in seen:
                seen.add(one.fingerprint)
                assert looking_again.look_again(world, tx, [one]) == {}
                posting.messages(tx, [one])(one, world.now())
