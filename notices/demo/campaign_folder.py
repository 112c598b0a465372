"""The campaign folder of the demo: the shipped files of a revision, and the settings of its own mail server."""

from pathlib import Path

from notices.assembly import MAIL_FILE, DiskFolder
from notices.work.revisions import CAMPAIGN_FILE

BULLETIN = "https://aldmere.example/drayling/bulletin"  # the public page as `notices serve` shows it
_SHIPPED = Path(__file__).resolve().parent / "folder"
_MAIL = """\
# The demo's own mail server listened here while the demo ran; put your own server in its place before you send.
host = "127.0.0.1"
port = {port}
security = "none"
pace = "60/min"
"""


def write(into: Path, *, revision: int, port: int) -> None:
    """Write campaign.yaml, translations, pictures and mail.toml as they stand at *revision*."""
    folder = DiskFolder(into)
    into.mkdir(parents=True, exist_ok=True)
    folder.write(CAMPAIGN_FILE, (_SHIPPED / f"campaign-{revision}.yaml").read_bytes())
    for name, below in ((f"translations-{revision}", "translations"), ("pictures", "pictures")):
        for file in sorted((_SHIPPED / name).iterdir()):
            folder.write(f"{below}/{file.name}", file.read_bytes())
    folder.write(MAIL_FILE, _MAIL.format(port=port).encode())
