"""Prove and sign: every variant that somebody gets next, to be read, then signed by name."""

from typing import Annotated

import typer

from notices.cli.options import HERE, By, Campaign, Format, Print, Yes, command
from notices.cli.saying import ask, end, finding_as_json, number, say, say_findings, say_json, stop


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(proofs)
    app.command()(sign)


def proofs(*, campaign: Campaign = HERE, output: Print = Format.TEXT) -> None:
    """Write down every variant that somebody gets next.

    It reads the draft, and writes pages to be read into out/proofs/.
    """
    from notices.cli import gate_lines, variants
    from notices.cli.entry.world import opened
    from notices.work import gates, proving

    with opened(campaign) as world:
        found = proving.write_proofs(world)
    findings = {*found.findings, *(one for item in found.items for one in item.findings)}
    if output is Format.JSON:
        say_json(
            {
                "variants": [variants.item_as_json(item) for item in found.items],
                "no_address": found.no_address,
                "held": gates.as_json(found.held),
                "findings": [finding_as_json(one) for one in findings],
            }
        )
        end(mend=not all(item.may_go for item in found.items) or not found.items)
        return
    mend = say_findings(findings)
    say(variants.listed(found.items))
    for line in gate_lines.held(found.held):
        say(line)
    if found.no_address:
        say(f"Not counted here, for no e-mail reaches them: {number(found.no_address, 'owner')}.")
    if found.items:
        if any(item.unread for item in found.items):
            say("What nobody has read goes out at your word alone: sign it with --unread-too.")
        read = campaign / "out" / "proofs" / "index.html"
        say(f"To be read in {read}; then {command('sign --by NAME --all', campaign)}")
    elif not found.no_address:
        say(f"Owners come from lists: {command('owners import FILE', campaign)}")
    end(mend=mend)


def sign(
    *,
    by: By,
    variants: Annotated[
        list[str] | None,
        typer.Argument(metavar="VARIANT…", help="Names or fingerprints of variants, as proofs lists them."),
    ] = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Sign every variant that somebody gets next.")
    ] = False,
    unread_too: Annotated[
        bool,
        typer.Option(
            "--unread-too",
            help="Give your word for wording that nobody who grew up with its language has read.",
        ),
    ] = False,
    campaign: Campaign = HERE,
    yes: Yes = False,
) -> None:
    """Sign the draft, so that its variants may go out.

    The draft becomes the revision, and every unit is judged by it. What follows is printed first, then asked.
    Wording that nobody has read goes out at your word alone, with stop and hazard in the campaign's own language
    beside it.
    """
    from notices.cli import variants as shown
    from notices.cli.entry.world import opened
    from notices.work import signing

    if bool(variants) == everything:
        stop("say which variants to sign, or --all; notices proofs lists them")
    if not by.strip():
        stop("a signature needs a name: --by NAME")
    with opened(campaign) as world:
        planned = signing.plan(world)
        say_findings({*planned.findings, *(one for item in planned.items for one in item.findings)})
        if planned.held_back:
            say("Nothing can be signed before that is mended.")
            end(mend=True)
        say(shown.plan(planned))
        word = " and give your word for what nobody has read" if unread_too else ""
        ask(f"Sign as {by}{word}?", yes=yes)
        done = signing.sign(world, by=by.strip(), which=variants or None, unread_too=unread_too)
    say(shown.signed(done, campaign))
    end(mend=bool(done.held or done.unread or done.unknown))
