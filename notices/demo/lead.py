"""The lead at work: a revision's files, proofs read and signed, mails sent, the bulletin made public."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from notices import assembly
from notices.demo import campaign_folder
from notices.demo.clock import Clock
from notices.demo.readers import Readers
from notices.demo.staff import LEAD
from notices.work import dispatching, gates, proving, publishing, signing
from notices.work.ports import World
from notices.work.sending import Sent

WAITS = "US"  # recall notices wait there for the authority's agreement, by themselves


@dataclass(kw_only=True, slots=True)
class Lead:
    """The one who signs and sends."""

    into: Path
    port: int
    world: World
    clock: Clock
    say: Callable[[str], None]

    def write(self, revision: int) -> None:
        """Put the files of a revision into the folder."""
        campaign_folder.write(self.into, revision=revision, port=self.port)

    def sign(self, what: str) -> None:
        """Read the proofs and sign them, those too that wait for an authority."""
        proving.write_proofs(self.world)
        self.clock.advance(20 * 60)
        done = signing.sign(self.world, by=LEAD, unread_too=True)
        self.say(f"  {what}: {done.signed} variants signed by {LEAD}, at her word those that nobody has read")

    def agreed(self) -> None:
        """Record that the authority of the market that waits has agreed."""
        gates.release(self.world, WAITS, by=LEAD, reason="agreement in writing of 10 March 2026")

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
        for one in ready.held:
            self.say(f"  {one.owners} owners in {one.gate.market} wait: {one.gate.why}")

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
