"""What holds for every answer that leaves: no script, no frame, no trace; and for every form that arrives."""

from collections.abc import Iterable, Mapping
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import RedirectResponse
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


class Guarded:
    """Sets the headers of every answer, and lets the pages live below *base* whether a proxy strips it or not."""

    def __init__(self, app: ASGIApp, base: str) -> None:
        self.app = app
        self.base = base

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass one request on, and set the headers of its answer."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        if self.base and scope["path"].removeprefix(scope.get("root_path", "")) == self.base:
            # The links of every page are relative, so the last slash is needed.
            slashed = RedirectResponse(f"{self.base.rpartition('/')[2]}/", status_code=308)
            await slashed(scope, receive, guarded)
            return
        await self.app(self._below(scope), receive, guarded)

    def _below(self, scope: Scope) -> Scope:
        """Return the scope with *base* taken from the front of its path."""
        inner = scope["path"].removeprefix(scope.get("root_path", ""))
        if not self.base or not inner.startswith(f"{self.base}/"):
            return scope
        return {**scope, "root_path": scope.get("root_path", "") + self.base}


def base_of(address: str | None) -> str:
    """Return the path below which the pages live, from the address that owners are given: ``/drayling``."""
    if not address:
        return ""
    return urlsplit(address if "//" in address else f"https://{address}").path.rstrip("/")


def may_send(headers: Headers, ours: Iterable[str | None]) -> bool:
    """Say whether a form comes from a page of ours.

    Under our referrer policy browsers send ``Origin: null`` with our own forms (Fetch standard, "append a request
    Origin header"); then Sec-Fetch-Site, where there is one, must say that the page was ours.
    """
    origin = headers.get("origin")
    if origin in {None, "null"}:
        return headers.get("sec-fetch-site", "same-origin") in {"same-origin", "none"}
    host = urlsplit(origin).netloc.lower()
    hosts = {urlsplit(each if "//" in each else f"https://{each}").netloc.lower() for each in ours if each}
    return host in hosts | {headers.get("host", "").lower()}
