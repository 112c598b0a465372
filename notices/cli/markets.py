"""Markets that wait: for what the law asks first, or because the lead says so."""

from enum import StrEnum
from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print, command
from notices.cli.saying import number, say, say_json, stop


class Word(StrEnum):
    """What is said of a market."""

    WAIT = "wait"
    RELEASE = "release"


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(market)


def market(
    *,
    name: Annotated[str, typer.Argument(metavar="[MARKET]", help="A market of campaign.yaml, as US.")] = "",
    word: Annotated[
        Word | None, typer.Argument(metavar="[wait|release]", help="Hold its recall notices, or let them go.")
    ] = None,
    by: Annotated[
        str, typer.Option("--by", metavar="NAME", help="Your name, as it shall stand in the record.")
    ] = "",
    reason: Annotated[
        str,
        typer.Option("--reason", metavar="TEXT", help="Why; of a release the agreement's day and number."),
    ] = "",
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Let recall notices to one market wait, or release them.

    Without words it shows how each market stands. The US waits by itself, until the commission's written agreement is
    recorded by release (16 CFR 1115.29(c)). A stop warning never waits: it promises no remedy, and holds for everybody.
    """
    from notices.cli import gate_lines
    from notices.cli.entry.world import opened
    from notices.work import gates

    with opened(campaign) as world:
        if word is None:
            if name or by or reason:
                stop("say wait or release: notices market MARKET wait --by NAME --reason TEXT")
            found = gates.standing(world)
            if output is Format.JSON:
                say_json(gates.standing_as_json(found))
            else:
                say("\n".join(map(gate_lines.standing, found)) or "The campaign names no market.")
            return
        try:
            if word is Word.WAIT:
                gone = gates.wait(world, name, by=by, reason=reason)
                waited = f"; {number(gone, 'waiting message')} withdrawn" if gone else ""
                say(f"{name} waits from now on{waited}. Stop warnings go all the same.")
                return
            gates.release(world, name, by=by, reason=reason)
        except gates.MarketError as fault:
            stop(str(fault))
    say(f"{name} is released. Next: {command('send', campaign)}")
