"""Whether the owners' pages can be served: what the signed revision lacks for them."""

from audiences.findings import Finding
from notices.campaign.needs import lacking as campaign_lacks
from notices.work.ports import World
from notices.work.revisions import CAMPAIGN_FILE, signed


def lacking(world: World) -> tuple[Finding, ...]:
    """Return what the pages need and the signed revision does not hold; () where they can be served."""
    with world.register.look() as tx:
        held = signed(tx)
    if held is None:
        return (not_signed(),)
    return tuple(campaign_lacks(held.campaign, "serve", {}))


def proof_key(world: World) -> bytes:
    """Return the register's newest key for the hidden field that proves the signs."""
    with world.register.look() as tx:
        return bytes.fromhex(tx.safe.secrets("proof")[-1].secret)


def not_signed() -> Finding:
    """Return the finding that nothing can be shown to anybody before the first signature."""
    return Finding(
        code="nothing-signed",
        file=CAMPAIGN_FILE,
        message="no revision is signed yet, and only what is signed is shown to anybody",
        mend="read notices proofs, then notices sign --by NAME --all",
    )
