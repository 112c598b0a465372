"""A lot of parts that was withdrawn, in plain text."""

from notices.cli.saying import number
from notices.work.lots import Withdrawn


def lot(done: Withdrawn) -> str:
    """Return what withdrawing a lot did, and what to do next."""
    lines = [f"Lot {done.lot} is withdrawn: {number(len(done.told), 'unit')} got parts of it."]
    if done.reopened:
        lines.append(f"  open again: {', '.join(done.reopened)}")
    if done.told:
        lines.append("Call their owners today (notices due). Next: notices proofs, sign and send")
    return "\n".join(lines)
