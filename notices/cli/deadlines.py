"""Report: what is due to which authority, and what the firm owes others, by which day."""

from pathlib import Path
from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, On, Print
from notices.cli.saying import end, number, say, say_json, stop


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(deadlines)


def deadlines(
    *,
    market: Annotated[
        str,
        typer.Option(
            "--market", metavar="MARKET", help="Another market, as US-vehicles; all shows every one."
        ),
    ] = "",
    ics: Annotated[
        Path | None,
        typer.Option("--ics", metavar="FILE", help="Also write what is open as a calendar file (RFC 5545)."),
    ] = None,
    campaign: Campaign = HERE,
    on: On = None,
    output: Print = Format.TEXT,
) -> None:
    """List the reports that are due, the most urgent first, each with its source.

    The markets of campaign.yaml decide which; duties: there holds the firm's own, and the days that are counted from.
    No legal advice: counsel and the authority decide.
    """
    from notices.cli import deadline_lines
    from notices.cli.entry.world import opened
    from notices.compose.calendar import calendar
    from notices.work import reporting

    if market and market != reporting.ALL and market not in reporting.markets():
        stop(f"no market is called {market} here; known are: {', '.join(reporting.markets())}, all")
    with opened(campaign) as world:
        found = reporting.find(world, on=on, market=market)
        now = world.now()
    if ics is not None:
        ics.write_bytes(calendar(found.lines, name=found.name, today=found.on, now=now))
    if output is Format.JSON:
        say_json(reporting.as_json(found))
    else:
        say("\n".join(deadline_lines.lines(found)))
        if ics is not None:
            written = sum(one.day is not None and one.report is None for one in found.lines)
            say(f"{number(written, 'deadline')} written to {ics}.")
    end(mend=found.late)
