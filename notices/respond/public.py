"""The public page, as another room makes it, with a policy that lets its own style sheet in and nothing else."""

import base64
import hashlib
import re
from collections.abc import Callable

from starlette.responses import HTMLResponse

from notices.respond.guards import POLICY
from notices.work.revisions import Signed

Bulletin = Callable[[Signed, str], str]
CODE_PAGE = (
    '<!doctype html><html lang="en"><head><meta charset="utf-8">'
    '<meta name="viewport" content="width=device-width, initial-scale=1"><title>Trying the page</title>'
    '<link rel="stylesheet" href="style.css"></head><body><main><h1>{code}</h1>'
    "<p>This page loads. Whoever tries it types this code back: notices ready page {code} --by NAME</p>"
    "</main></body></html>"
)
_STYLES = re.compile(r"<style[^>]*>(.*?)</style>", re.DOTALL | re.IGNORECASE)


def public_page(make: Bulletin, held: Signed, tag: str) -> HTMLResponse:
    """Return the public page in a language; each style in it is allowed by its digest (CSP level 3)."""
    text = make(held, tag)
    digests = [hashlib.sha256(style.encode()).digest() for style in _STYLES.findall(text)]
    allowed = " ".join(f"'sha256-{base64.b64encode(digest).decode()}'" for digest in digests)
    policy = POLICY.format(style=allowed or "'self'").replace("img-src 'self'", "img-src 'self' data:")
    return HTMLResponse(text, headers={"Content-Security-Policy": policy, "X-Robots-Tag": "all"})
