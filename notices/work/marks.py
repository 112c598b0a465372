"""The mark that each run leaves beside the register and outside it: by it an older copy of the register is known."""

import json
from dataclasses import dataclass

from audiences import canonical
from notices.cases.outgoing import Outcome, RegisterError
from notices.work.ports import Folder, Transaction, World
from notices.work.runs import COUNTER

MARK_FILE = "last-run.json"
_MADE_AT = "made_at"
_TRIES = "tries"
_RECONCILE = "reconcile"
_WAY_OUT = (
    "run notices outbox reconcile first, with --maildir DIR or --folder DIR where copies of what was sent lie"
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark:
    """Which register (by the moment it was made), how many runs were begun, how many tries."""

    register: str
    run: int
    tries: int


def of(tx: Transaction) -> Mark:
    """Return the mark that the register itself bears."""
    return Mark(register=tx.safe.note(_MADE_AT) or "", run=int(tx.safe.note(COUNTER) or 0), tries=_tries(tx))


def _tries(tx: Transaction) -> int:
    counted = tx.safe.note(_TRIES)
    return len(tx.record.tries()) if counted is None else int(counted)


def count(tx: Transaction, begun: int) -> Mark:
    """Count tries that have just been recorded, and return the mark that follows."""
    before = tx.safe.note(_TRIES)
    if begun or before is None:
        # where nobody has counted yet, the tries just recorded lie in the table already
        tx.safe.put_note(_TRIES, str(_tries(tx) if before is None else int(before) + begun))
    return of(tx)


def write(folder: Folder, mark: Mark) -> None:
    """Leave *mark* in the campaign folder; OSError where that cannot be."""
    text = canonical.dump({"register": mark.register, "run": mark.run, "tries": mark.tries})
    folder.write(MARK_FILE, text.encode())


def unmarked(fault: OSError) -> Outcome:
    """Return what becomes of a try whose mark cannot be left: it does not go out, nor does any after it."""
    why = fault.strerror or type(fault).__name__
    return Outcome(result="stop", reply=f"{MARK_FILE} cannot be written in the campaign folder ({why})")


def require(tx: Transaction) -> None:
    """Note in the register that it may not know of all that was sent."""
    tx.safe.put_note(_RECONCILE, "restored")


def clear(tx: Transaction) -> None:
    """Note that what may have been sent without its knowledge is settled."""
    tx.safe.put_note(_RECONCILE, "")


def why_not(world: World) -> str | None:
    """Return why nothing may be sent from this register, with the way out; None where it may."""
    # the file first: a run going on elsewhere counts in the register before it marks
    left = world.folder.read(MARK_FILE)
    with world.register.look() as tx:
        return reason(tx, left)


def reason(tx: Transaction, left: bytes | None) -> str | None:
    """Return why nothing may be sent from this register, *left* being the mark's file; None where it may."""
    if tx.safe.note(_RECONCILE):
        return f"this register was put back from a backup and may not know of all that was sent; {_WAY_OUT}"
    if left is None:
        return None
    mark, mine = _read(left), of(tx)
    if mark is None:
        return f"{MARK_FILE} cannot be read, and this register may not know of all that was sent; {_WAY_OUT}"
    if mark.register != mine.register:
        return f"{MARK_FILE} tells of another register than this one; {_WAY_OUT}"
    if mark.run > mine.run or mark.tries > mine.tries:
        return (
            f"this register is older than the mail sent from it (run {mine.run} of {mark.run}, "
            f"try {mine.tries} of {mark.tries}); {_WAY_OUT}"
        )
    return None


def matches(tx: Transaction, left: bytes | None) -> bool:
    """Say whether the mark in the folder is just the one that the register bears."""
    return left is not None and _read(left) == of(tx)


def hold_back(world: World) -> None:
    """Raise RegisterError where nothing may be sent from this register."""
    why = why_not(world)
    if why is not None:
        raise RegisterError(why)


def _read(left: bytes) -> Mark | None:
    try:
        found = json.loads(left)
        return Mark(register=str(found["register"]), run=int(found["run"]), tries=int(found["tries"]))
    except (ValueError, TypeError, LookupError, RecursionError):
        return None
