"""The lead at work: a revision's files, proofs read and signed, mails sent, the bulletin made public."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from notices import assembly
from notices.demo import campaign_folder
from notices.demo.clock import Clock
from notices.demo.readers import Readers
from notices.demo.staff import LEAD
from notices.work import dispatching, proving, publishing, signing
from notices.work.ports import World
from notices.work.sending import Sent

HELD_BACK = "US"  # recall notices wait there for the authority's agreement


@dataclass(kw_only=True, slots=True)
class Lead:
    """The one who signs and sends; *held_back* is the market whose authority has not agreed yet."""

    into: Path
    port: int
    world: World
    clock: Clock
    say: Callable[[str], None]
    held_back: str | None = HELD_BACK

    def write(self, revision: int) -> None:
        """Put the files of a revision into the folder."""
        campaign_folder.write(self.into, revision=revision, port=self.port)

    def sign(self, what: str) -> None:
        """Read the proofs and sign them, but for a market in which an authority must agree to a recall first."""
        proofs = proving.write_proofs(self.world)
        held = [one for one in proofs.items if one.key.market == self.held_back and one.key.kind != "stop"]
        names = [one.name for one in proofs.items if one not in held]
        self.clock.advance(20 * 60)
        done = signing.sign(self.world, by=LEAD, which=names if held else None)
        waiting = (
            f"; {sum(one.owners for one in held)} owners in the US wait for the authority" if held else ""
        )
        self.say(f"  {what}: {done.signed} variants read and signed by {LEAD}{waiting}")

    def send(self, what: str) -> None:
        """Send what is owed and signed."""
        ready = dispatching.ready(self.world)
        post, findings = assembly.mail_post(self.world)
        if post is None:
            raise AssertionError(findings)
        sender = dispatching.Sender(
            worker="demo", gone=lambda _worker: False, sleep=self.clock.advance, halted=lambda: None
        )
        sent = dispatching.dispatch(self.world, post.way, sender, by=LEAD, pace=post.pace)
        self.say(f"  {what}: {_figures_of(sent)}; {ready.no_address} owners have no usable e-mail address")

    def send_to(self, readers: Readers, what: str) -> None:
        """Send, and let one provider's scanner at the mails."""
        self.send(what)
        self.scanned(readers)

    def scanned(self, readers: Readers) -> None:
        """Let one provider's scanner at the mails that have come."""
        count = readers.scan()
        if count:
            self.say(f"  a provider's mail scanner fetched the links of {count} mails and pressed a button")

    def publish(self) -> None:
        """Make the bulletin of the signed revision public."""
        published = publishing.publish(self.world, by=LEAD)
        self.say(f"  the bulletin of revision {published.number} is public, in {len(published.pages)} files")


def _figures_of(sent: Sent) -> str:
    return f"{sent.handed_over} handed over, {sent.refused} refused"
