"""Where shops stand, in plain text: one line a shop, and what is due for it."""

from notices.cases.shops import FORWARD, HANDED_OVER, ShopCase
from notices.work.shop_standings import ShopStanding


def standing(one: ShopStanding, page: str) -> str:
    """Return a shop's line: its word, its counts, its customers' names, what is due, and its page where asked for."""
    word = _stopped(one.case) if one.lets is None else f"lets {one.listed}, {one.lets} without an answer"
    parts = [f"{one.owner.name}: {word}", *(_counts(one) if one.lets is None else ()), *_names(one)]
    if one.due:
        parts.append(f"due {one.due.on.isoformat()}: {one.due.step} by {one.due.channel}")
    return "; ".join(parts) + (f"\n    {page}" if page else "")


def due(one: ShopStanding) -> str:
    """Return what is due for a shop as one line of the day's list."""
    assert one.due is not None  # noqa: S101 - only shops with a step are listed
    reach = "; ".join(", ".join(each.splitlines()) for each in one.to) or "no usable way"
    who = "shop" if one.lets is None else "lessor"
    step = f"{one.due.step} by {one.due.channel}: {one.due.why}"
    return f"{one.due.on.isoformat()}  {who:<8}  {step} ({one.owner.name}; {reach})"


def _stopped(case: ShopCase) -> str:
    return {None: "no word", True: "has stopped", False: "has not stopped"}[case.stopped]


def _counts(one: ShopStanding) -> list[str]:
    said = one.case
    listed = f"{one.listed} on the lists"
    return [listed] if said.sold is None else [f"{said.shelf} on the shelf, {said.sold} sold, {listed}"]


def _names(one: ShopStanding) -> list[str]:
    said = one.case
    found = {HANDED_OVER: ["hands over the names"], FORWARD: ["forwards by itself"]}.get(said.names, [])
    if said.packed:
        told = "no word how many were forwarded" if said.forwarded is None else f"{said.forwarded} forwarded"
        found.append(f"{said.packed} addresses made, {told}, {one.answered} answered")
    return found
