"""A new campaign folder: every part of the file as an example, and the two names that are needed to begin."""

import json

from notices.campaign.starter import MAIL_TOML, STARTER
from notices.work.ports import Folder
from notices.work.revisions import CAMPAIGN_FILE

_ISSUER = "name: Your firm "
_PRODUCT = "name: Your product "


def found(folder: Folder, *, issuer: str = "", product: str = "") -> None:
    """Write campaign.yaml and mail.toml into an empty folder; a name left out stays the example's."""
    text = STARTER
    for example, name in ((_ISSUER, issuer.strip()), (_PRODUCT, product.strip())):
        if name:
            text = text.replace(example, f"name: {_quoted(name)} ", 1)
    folder.write(CAMPAIGN_FILE, text.encode())
    folder.write("mail.toml", MAIL_TOML.encode())


def _quoted(name: str) -> str:
    """Quote a name as JSON, which YAML reads as it is."""
    return json.dumps(name, ensure_ascii=not name.isprintable())
