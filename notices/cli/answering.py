"""Hear: the owners' pages, and what staff hear by telephone, mail, letter or at the counter."""

from datetime import date
from typing import Annotated

import typer

from notices.cli.options import HERE, By, Campaign, day
from notices.cli.saying import MEND, end, number, say, say_findings, warn


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(serve)
    app.command()(record)


def serve(
    *,
    host: Annotated[
        str,
        typer.Option(
            "--host", metavar="HOST", help="The address to listen on; your web server stands before it."
        ),
    ] = "127.0.0.1",
    port: Annotated[
        int, typer.Option("--port", metavar="N", min=0, max=65535, help="The port to listen on.")
    ] = 8000,
    behind_proxy: Annotated[
        bool,
        typer.Option(
            "--behind-proxy",
            help="Your web server stands before it and writes who asks into X-Forwarded-For.",
        ),
    ] = False,
    campaign: Campaign = HERE,
) -> None:
    """Serve the owners' answer pages until you end it."""
    from notices.cli.entry import site
    from notices.cli.entry.world import opened
    from notices.work import serving

    with opened(campaign) as world:
        lacking = serving.lacking(world)
        if say_findings(lacking):
            end(mend=True)
        with site.listening(host, port) as at:
            say(f"Serving the owners' pages on http://{host}:{at.getsockname()[1]}/ until Ctrl-C.")
            site.serve(world, at, behind_proxy=behind_proxy)


def record(  # noqa: PLR0913 - each is an option of its own
    *,
    which: Annotated[
        str,
        typer.Argument(
            metavar="ID",
            help="A unit's reference or code; an owner's link or address; a lot, shop, country or report.",
        ),
    ],
    what: Annotated[
        str, typer.Argument(metavar="WHAT", help="What was heard; notices record --help lists the words.")
    ],
    value: Annotated[
        str, typer.Argument(metavar="DETAIL", help="Its detail: how used, a code, a remedy, an outcome …")
    ] = "",
    by: By,
    via: Annotated[
        str, typer.Option("--via", metavar="WAY", help="How it was heard: phone, mail, letter or counter.")
    ] = "phone",
    text: Annotated[
        str, typer.Option("--text", metavar="TEXT", help="A reason or the owner's own words.")
    ] = "",
    on: Annotated[
        date | None,
        typer.Option(
            "--day",
            metavar="DAY",
            parser=day,
            help="The day that was agreed, told, or on which it happened, YYYY-MM-DD.",
        ),
    ] = None,
    lot: Annotated[
        str, typer.Option("--lot", metavar="LOT", help="The lot of the parts that were sent.")
    ] = "",
    learned: Annotated[
        date | None,
        typer.Option("--learned", metavar="DAY", parser=day, help="The day we learned of an incident."),
    ] = None,
    age: Annotated[
        str, typer.Option("--age", metavar="BAND", help="Age of who was hurt: 0-4, 5-14, 15-24, 25-64, 65+.")
    ] = "unknown",
    part: Annotated[
        str,
        typer.Option(
            "--part",
            metavar="WHERE",
            help="Where the part that failed is: with-us, with-owner, with-shop, with-authority, gone.",
        ),
    ] = "unknown",
    campaign: Campaign = HERE,
) -> None:
    """Write down what staff heard from an owner or did.

    WHAT is one of: stopped, in-use, use SEGMENT, lower SEGMENT, code CODE, seen-code CODE, remedy KEY,
    call spoke|no-answer|dead, help, looked, visit, visit-missed, parts, done, confirmed, taken-back, passed-on,
    email ADDRESS, phone NUMBER, bounced STATUS, closed ENDING, reopen. Of a lot of parts: lot-withdrawn. Of a shop or
    lessor that was given addresses to forward: forwarded N. Of the country where it happened, as IE: incident HARM,
    none, damage, injury, serious-injury or death. Of a report that notices deadlines names: authority-told.
    """
    from notices.cli import deadline_lines, taken_back
    from notices.cli.entry.world import opened
    from notices.work import forwarding, hearing, incidents, lots, reporting

    word = hearing.Word(what=what, by=by, via=via, value=value, text=text, on=on, lot=lot)
    with opened(campaign) as world:
        try:
            if what == "lot-withdrawn":
                say(taken_back.lot(lots.withdraw_lot(world, which, why=text, by=by)))
                return
            if what == "forwarded":
                name = forwarding.forwarded(world, which, count=value, by=by, via=via)
                say(f"Written down for {name}: {value} forwarded.")
                return
            if what == "incident":
                incident = incidents.Incident(
                    country=which,
                    harm=value,
                    text=text,
                    by=by,
                    happened=on,
                    learned=learned,
                    age=age,
                    part=part,
                    via=via,
                )
                say(deadline_lines.learned(*incidents.learn(world, incident)))
                return
            if what == "authority-told":
                say(f"Written down as told: {reporting.tell(world, which, day=on, by=by, via=via).key}")
                return
            units = hearing.hear(world, which, word)
        except hearing.HearingError as fault:
            warn(f"notices: {fault}")
            raise typer.Exit(MEND) from None
    say(f"Written down for {number(len(units), 'unit')}: {', '.join(units)}")
