"""Whether the remedies can be carried out, and do no harm themselves."""

from collections.abc import Iterator

from audiences.findings import Finding, Severity
from notices.campaign.looking import Look
from notices.campaign.models import RemedyFor

_PARTS = ("all", "unridden", "ridden_no_symptoms", "symptomatic")


def _each(look: Look) -> Iterator[tuple[str, RemedyFor]]:
    """Yield each remedy for each segment with its path."""
    for key, remedy in (look.campaign.remedies or {}).items():
        for name in _PARTS:
            part: RemedyFor | None = getattr(remedy, name)
            if part is not None:
                yield f"remedies.{key}.{name}", part


def part_names(look: Look) -> Iterator[Finding]:
    """Hold that each part number has a name that an owner understands."""
    for path, part in _each(look):
        for number in part.parts:
            if number not in look.campaign.parts:
                yield Finding(
                    code="part-without-name",
                    **look.at(f"{path}.parts.{number}"),
                    message=f"parts: has no name for {number}",
                    mend=f"add {number} and its name to parts: at the end of the remedies",
                )


def qualified_first(look: Look) -> Iterator[Finding]:
    """Hold that an owner who may do the work is offered a qualified person first, and is warned."""
    for path, part in _each(look):
        if "owner" in part.by and part.by[0] == "owner":
            yield Finding(
                code="owner-before-mechanic",
                **look.at(f"{path}.by"),
                message="the owner is to do the work, and a qualified person is not offered first",
                mend="write by: [mechanic, owner]",
                source="Regulation (EU) 2023/988, article 37",
            )
        if "owner" in part.by and not look.campaign.cautions:
            yield Finding(
                code="cautions-missing",
                **look.at(f"{path}.by"),
                message="the owner may do the work, and no cautions are written",
                mend="write cautions: and what a qualified person would warn of",
            )
        if "owner" in part.by and not part.steps:
            yield Finding(
                code="owner-without-steps",
                **look.at(f"{path}.by"),
                message="the owner may do the work, and is not told how",
                mend="write steps:, one a line, or take owner out",
            )


def minutes(look: Look) -> Iterator[Finding]:
    """Hold that time is planned for those who do the work and for nobody else."""
    for path, part in _each(look):
        for fitter in part.minutes:
            if fitter not in part.by:
                yield Finding(
                    code="minutes-for-nobody",
                    **look.at(f"{path}.minutes.{fitter}"),
                    message=f"{fitter} has minutes, and is not among those who do the work",
                    mend=f"add {fitter} to by:, or take the minutes out",
                )


def refund_price(look: Look) -> Iterator[Finding]:
    """Hold that a refund can be reckoned."""
    for key, remedy in (look.campaign.remedies or {}).items():
        if remedy.kind == "refund" and look.campaign.product.price is None:
            yield Finding(
                code="refund-without-price",
                **look.at(f"remedies.{key}"),
                message="money is promised back, and product.price is not written",
                mend="write price: {cents: …, currency: …} below product",
                severity=Severity.CONSIDER,
            )


REMEDY_CHECKS = (part_names, qualified_first, minutes, refund_price)
