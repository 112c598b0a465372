"""Say how serious it is, for the file and for the authority."""

from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print
from notices.cli.saying import end, finding_as_json, say, say_findings, say_json, stop


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(risk)


def risk(
    *,
    begin: Annotated[
        bool, typer.Option("--begin", help="Write risk.toml with an invented scenario, to be written over.")
    ] = False,
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Say how serious the risk is, for your file and the authority, never for a notice.

    It reads the scenarios of risk.toml: steps with a probability and a reason each, a severity from 1 to 4. The
    level is that of the EU's matrix; the highest decides. It shows what moves the level, and which step decides.
    """
    from notices.cli import risk_text
    from notices.cli.entry.world import opened
    from notices.figures.risk_file import FILE
    from notices.work import risks

    with opened(campaign) as world:
        if begin:
            if not risks.begin(world.folder):
                stop(f"{FILE} is there already, and stays as it is")
            say(f"{FILE} is written. Next: write your own scenario over the invented one, then notices risk.")
            return
        found, findings = risks.judged(world.folder)
    if output is Format.JSON:
        say_json({**risks.as_json(found), "findings": [finding_as_json(one) for one in findings]})
    else:
        say_findings(findings)
        if found:
            say("\n".join(risk_text.lines(found)))
        for line in risks.CLOSING:
            say(line)
    end(mend=found is None)
