"""The gate before the pages: known methods, headers of a sane size, and no more than our share of anybody."""

from collections.abc import Awaitable, Callable

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Receive, Scope, Send

from notices.respond.limits import PAGE, STOP, Caller, Limits, address_of, busy
from notices.respond.receiving import URLENCODED, length_of, media_type

METHODS = frozenset({"GET", "HEAD", "POST"})
CALLER = "notices.caller"
_STYLE = "/style.css"
_MOST_HEADERS, _MOST_HEADER_BYTES = 100, 16 * 1024
_LONGEST_PATH, _LONGEST_QUERY = 400, 400
_MOST_OF_A_PRESS = 2048  # bytes: a button, a nonce, a language
_NOT_ALLOWED, _TOO_LONG, _HEADERS_TOO_LARGE = 405, 414, 431

Refuse = Callable[[Request, Exception], Awaitable[Response]]


class Gate:
    """Lets a request in, or has it *refused* before anything is read or looked up."""

    def __init__(self, app: ASGIApp, *, limits: Limits | None, behind_proxy: bool, refuse: Refuse) -> None:
        self.app = app
        self.limits = limits
        self.behind_proxy = behind_proxy
        self.refuse = refuse

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass one request on with its `Caller`, or answer it here."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request = Request(scope, receive)
        fault = misshapen(request)
        if fault is None:
            caller = Caller(limits=self.limits, address=address_of(scope, behind_proxy=self.behind_proxy))
            scope[CALLER], wait = _let_in(request, caller)
            fault = busy(wait) if wait else None
        if fault is not None:
            answer = await self.refuse(request, fault)
            await answer(scope, receive, send)
            return
        await self.app(scope, receive, send)


def caller_of(request: Request) -> Caller:
    """Return who asks."""
    found: Caller = request.scope[CALLER]
    return found


def misshapen(request: Request) -> HTTPException | None:
    """Return why a request is refused for its shape alone, None where nothing is wrong."""
    if request.method not in METHODS:
        return HTTPException(_NOT_ALLOWED, headers={"Allow": ", ".join(sorted(METHODS))})
    path = request.scope.get("raw_path") or request.scope["path"].encode()
    if len(path) > _LONGEST_PATH or len(request.scope["query_string"]) > _LONGEST_QUERY:
        return HTTPException(_TOO_LONG)
    headers = request.scope["headers"]
    if len(headers) > _MOST_HEADERS or sum(len(n) + len(v) for n, v in headers) > _MOST_HEADER_BYTES:
        return HTTPException(_HEADERS_TOO_LARGE)
    return None


def _let_in(request: Request, caller: Caller) -> tuple[Caller, float]:
    """Return the caller and how long to wait; what may be a pressed *stopped* is let in to be looked at."""
    if request.url.path.endswith(_STYLE):  # a refusal wears it too
        return caller, 0.0
    wait = caller.take(PAGE)
    if wait and _may_be_a_press(request) and not caller.take(STOP):
        return Caller(limits=caller.limits, address=caller.address, over=wait), 0.0
    return caller, wait


def _may_be_a_press(request: Request) -> bool:
    small = length_of(request) <= _MOST_OF_A_PRESS
    return request.method == "POST" and media_type(request) == URLENCODED and small
