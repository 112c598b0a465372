"""Decide which owners of several lists are one person."""

from typing import Annotated

import typer

from notices.cli.options import HERE, By, Campaign, Format, Print
from notices.cli.saying import MEND, number, say, say_json, warn

_SHOWN = 50  # pairs on a terminal; a person decides one after the other
_Owner = Annotated[str, typer.Argument(metavar="OWNER", help="The id of an owner, as pairs shows it.")]


def add_to(owners: typer.Typer) -> None:
    """Add this group's commands."""
    owners.command("pairs")(pairs)
    owners.command("join")(join)
    owners.command("apart")(apart)


def pairs(
    *,
    decided: Annotated[
        bool, typer.Option("--decided", help="Show the pairs that were joined or held apart instead.")
    ] = False,
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Show owners who may be the same person, with a score out of 100 and the reasons.

    It shows names and addresses, and decides nothing: two of one household look much alike. What was decided is not
    shown again.
    """
    from notices.cli import pair_tables
    from notices.cli.entry.world import opened
    from notices.work import pairs as work

    with opened(campaign) as world:
        if decided:
            stand = work.decisions(world)
            if output is Format.JSON:
                say_json({"decided": work.decisions_as_json(stand)})
            else:
                say("\n".join(pair_tables.decisions(stand)) or "Nothing was decided of any owners yet.")
            return
        found = work.likely(world)
    if output is Format.JSON:
        say_json({"pairs": work.likely_as_json(found)})
        return
    if not found:
        say("No owners look like one person, beside those of whom it was decided.")
        return
    say("\n".join(pair_tables.likely(found[:_SHOWN])))
    more = len(found) - _SHOWN
    say(f"{number(len(found), 'pair')}{f'; {more} more than shown: --format json' if more > 0 else ''}.")
    say("One person: notices owners join OWNER OWNER --by NAME")
    say("Two persons: notices owners apart OWNER OWNER --by NAME --reason TEXT")


def join(one: _Owner, other: _Owner, *, by: By, campaign: Campaign = HERE) -> None:
    """Record that two owners are one person.

    Units, names and addresses stay with both. Where the same is said of several units, they get one message, and one
    page shows all of them. To undo it: apart.
    """
    from notices.cli.entry.world import opened
    from notices.work import pairs as work

    with opened(campaign) as world:
        try:
            new = work.join(world, one, other, by=by)
        except work.PairError as fault:
            warn(f"notices: {fault}")
            raise typer.Exit(MEND) from None
    say(f"One person: {one} and {other}." if new else "That is recorded already.")


def apart(
    one: _Owner,
    other: _Owner,
    *,
    by: By,
    reason: Annotated[str, typer.Option("--reason", metavar="TEXT", help="Why they are two persons.")],
    campaign: Campaign = HERE,
) -> None:
    """Record that two owners are two persons, and why.

    What had gone to the one about the other's units is owed to the other again. To undo it: join.
    """
    from notices.cli.entry.world import opened
    from notices.work import pairs as work

    with opened(campaign) as world:
        try:
            new = work.apart(world, one, other, by=by, reason=reason)
        except work.PairError as fault:
            warn(f"notices: {fault}")
            raise typer.Exit(MEND) from None
    say(f"Two persons: {one} and {other}." if new else "That is recorded already.")
