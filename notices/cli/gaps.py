"""Look for what is missing: units that were sold and stand on no list."""

import typer

from notices.cli.options import HERE, Campaign, Format, Print
from notices.cli.saying import finding_as_json, say, say_findings, say_json


def add_to(owners: typer.Typer) -> None:
    """Add this group's commands."""
    owners.command("gaps")(gaps)


def gaps(*, campaign: Campaign = HERE, output: Print = Format.TEXT) -> None:
    """Count the units sold that no list names, by shop and month, and say where to look.

    The numbers sold stand in campaign.yaml under product.sold: units in all, by_shop for each shop and month. A unit
    counts for the shop that its list names in a column, else for the list itself.
    """
    from notices.cli import gap_tables
    from notices.cli.entry.world import opened
    from notices.figures.gaps import PLACES
    from notices.work import missing

    with opened(campaign) as world:
        found = missing.missing(world)
    if output is Format.JSON:
        say_json(
            {**missing.as_json(found), "findings": [finding_as_json(one) for one in found.findings]},
        )
        return
    say("\n".join(gap_tables.lines(found.gaps)))
    say("Where such units usually turn up (common practice, no source):")
    for place in PLACES:
        say(f"  {place.where}: {place.ask}; {place.why}.")
    say_findings(found.findings)
