"""What holds for every answer that leaves: no script, no frame, no trace; and for every form that arrives."""

import logging
import traceback
from collections.abc import Awaitable, Callable, Iterable, Mapping
from pathlib import PurePath
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = (
    "default-src 'none'; style-src {style}; img-src 'self'; form-action 'self'; frame-ancestors 'none'; "
    "base-uri 'none'"
)
HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": POLICY.format(style="'self'"),
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
    "X-Robots-Tag": "noindex, nofollow",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}


Broken = Callable[[Request], Awaitable[Response]]
_LOG = logging.getLogger(__name__)


class Guarded:
    """Sets the headers of every answer, and lets the pages live below *base* whether a proxy strips it or not.

    A fault of ours is answered by *broken*. Of the fault itself only its type and place are written down: its words
    may hold what somebody typed.
    """

    def __init__(self, app: ASGIApp, *, base: str, broken: Broken) -> None:
        self.app = app
        self.base = base
        self.broken = broken

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass one request on, and set the headers of its answer."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        begun = False

        async def guarded(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        if self.base and scope["path"].removeprefix(scope.get("root_path", "")) == self.base:
            # The links of every page are relative, so the last slash is needed.
            slashed = RedirectResponse(f"{self.base.rpartition('/')[2]}/", status_code=308)
            await slashed(scope, receive, guarded)
            return
        inner = self._below(scope)
        try:
            await self.app(inner, receive, guarded)
        except Exception as fault:  # noqa: BLE001 - nothing may leave here with its words
            _LOG.error("a page failed: %s", place_of(fault))
            if not begun:
                answer = await self.broken(Request(inner))
                await answer(inner, receive, guarded)

    def _below(self, scope: Scope) -> Scope:
        """Return the scope with *base* taken from the front of its path."""
        inner = scope["path"].removeprefix(scope.get("root_path", ""))
        if not self.base or not inner.startswith(f"{self.base}/"):
            return scope
        return {**scope, "root_path": scope.get("root_path", "") + self.base}


def place_of(fault: BaseException) -> str:
    """Return a fault's type and where it came about, without its words: ``KeyError at app.py:120 steps.py:44``."""
    frames = traceback.extract_tb(fault.__traceback__)
    return f"{type(fault).__name__} at {' '.join(f'{PurePath(each.filename).name}:{each.lineno}' for each in frames)}"


def base_of(address: str | None) -> str:
    """Return the path below which the pages live, from the address that owners are given: ``/drayling``."""
    if not address:
        return ""
    return urlsplit(address if "//" in address else f"https://{address}").path.rstrip("/")


def may_send(headers: Headers, ours: Iterable[str | None]) -> bool:
    """Say whether a form comes from a page of ours.

    Under our referrer policy browsers send ``Origin: null`` with our own forms (Fetch standard, "append a request
    Origin header"); then Sec-Fetch-Site, where there is one, must say that the page was ours. Where both are there,
    a form of another site of ours says cross-site or same-site, and one of this host same-origin.
    """
    origin, site = headers.get("origin"), headers.get("sec-fetch-site", "same-origin")
    if origin in {None, "null"}:
        return site in {"same-origin", "none"}
    host = _host(origin)
    if host == headers.get("host", "").lower():
        return site == "same-origin"
    return host in {_host(each) for each in ours if each}


def _host(address: str) -> str:
    try:
        return urlsplit(address if "//" in address else f"https://{address}").netloc.lower()
    except ValueError:
        return ""
