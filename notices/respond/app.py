"""The application that owners meet: reading changes nothing, a form is answered with the next page itself."""

import asyncio
from collections.abc import Callable, Mapping
from math import ceil
from typing import Literal

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route

from notices.cases import ids
from notices.cases.sayings import warning
from notices.compose.pictures import media_of
from notices.respond import receiving, steps, trade, verbs, ways
from notices.respond.forms import Form
from notices.respond.gate import Gate, caller_of
from notices.respond.guards import Guarded, base_of, may_send
from notices.respond.limits import BUSY, MISS, TYPED, Caller, Limits, busy
from notices.respond.public import CODE_PAGE, Bulletin, public_page
from notices.respond.rendering import STYLE, numbers, picture_name, render
from notices.respond.scenes import START, Page, Scene, catalogue_of, language_of
from notices.respond.seals import Seals
from notices.wording.catalogues import nearest
from notices.work import page_code
from notices.work.answering import read_link, speaking
from notices.work.answers import Visit
from notices.work.ports import World
from notices.work.revisions import Signed

_NOT_FOUND, _SLOW, _TOO_LARGE, _TOO_LONG, _FORBIDDEN, _BROKEN, _NOT_YET = 404, 408, 413, 414, 403, 500, 503
_STAYS = {"Cache-Control": "public, max-age=86400, immutable"}
_WITH_PHOTOS = frozenset({steps.PHOTO, "fixed"})
_UPLOADS_AT_ONCE = 8
_SOON = 10.0  # seconds
_LANGUAGE = "notices.language"
# What browsers ask for by themselves; nobody has mistyped a link.
_UNASKED = ("favicon.ico", "robots.txt", "apple-touch-icon", ".well-known")
_KINDS: Mapping[int, str] = {
    _NOT_FOUND: "unknown",
    _TOO_LONG: "unknown",
    _TOO_LARGE: "large",
    _SLOW: "slow",
    BUSY: "busy",
    _BROKEN: "broken",
}


def application(
    world: World,
    *,
    key: bytes,
    base: str | None = None,
    bulletin: Bulletin | None = None,
    limits: Limits | None = None,
    behind_proxy: bool = False,
) -> Starlette:
    """Return the owners' pages on *world*; *key* signs the hidden fields.

    *base* is the path below which owners reach them, by default that of ``issuer.answers``; a proxy may strip it or
    leave it. *bulletin* makes the public page of a signed revision in a language. Without *limits* everybody may ask
    as often as they like; *behind_proxy* says that a proxy writes X-Forwarded-For.
    """
    pages = _Pages(world, Seals(key), bulletin)
    held = speaking(world)
    below = base_of(held.campaign.issuer.answers if held else None) if base is None else base.rstrip("/")
    return Starlette(
        routes=[
            Route("/", pages.front, methods=["GET", "POST"]),
            Route("/style.css", pages.style),
            Route("/bulletin", pages.bulletin),
            Route(f"/{page_code.PATH}", pages.tried),
            Route("/picture/{name}", pages.picture),
            Route("/{who}", pages.visit, methods=["GET", "POST"]),
            Route("/{who}/", pages.visit, methods=["GET", "POST"]),
            Route("/{who}/{way}", pages.way, methods=["GET", "POST"]),
        ],
        middleware=[
            Middleware(Guarded, base=below, broken=pages.broken),
            Middleware(Gate, limits=limits, behind_proxy=behind_proxy, refuse=pages.refused),
        ],
        exception_handlers={HTTPException: pages.refused},
    )


class _Pages:
    """The routes: each reads the last signed revision, makes the scene, and hands it to a verb in a thread."""

    def __init__(self, world: World, seals: Seals, bulletin: Bulletin | None) -> None:
        self.world = world
        self.seals = seals
        self.make_bulletin = bulletin
        self.last: Signed | None = None
        self.turn = asyncio.Semaphore(1)
        self.uploads = 0

    async def front(self, request: Request) -> Response:
        """Serve those who come without a link."""
        return await self._serve(request, START, None)

    async def visit(self, request: Request) -> Response:
        """Serve the first page of a link, and take its forms."""
        return await self._serve(request, request.path_params["who"], None)

    async def way(self, request: Request) -> Response:
        """Serve the page of a way out, and take its form."""
        return await self._serve(request, request.path_params["who"], request.path_params["way"])

    async def style(self, _request: Request) -> Response:
        """Serve the one style sheet."""
        return Response(self.world.templates[STYLE], media_type="text/css", headers=_STAYS)

    async def picture(self, request: Request) -> Response:
        """Serve a picture of the signed revision by the digest in its address."""
        held = await run_in_threadpool(self._held)
        for data in held.revision.pictures.values():
            media = media_of(data)
            if media and picture_name(data) == request.path_params["name"]:
                return Response(data, media_type=media, headers=_STAYS)
        raise HTTPException(_NOT_FOUND)

    async def bulletin(self, request: Request) -> Response:
        """Serve the public page of the signed revision."""
        held = await run_in_threadpool(self._held)
        if self.make_bulletin is None:
            raise HTTPException(_NOT_FOUND)
        asked, accepted = request.query_params.get("lang", ""), request.headers.get("accept-language", "")
        tag, _ = language_of(held, asked, None, accepted)
        return await run_in_threadpool(public_page, self.make_bulletin, held, tag)

    async def tried(self, _request: Request) -> Response:
        """Show the code by which the lead proves that this page loads from outside, while there is one."""
        code = await run_in_threadpool(page_code.shown, self.world)
        if code is None:
            raise HTTPException(_NOT_FOUND)
        return HTMLResponse(CODE_PAGE.format(code=code))

    async def refused(self, request: Request, fault: Exception) -> Response:
        """Answer what cannot be served with one page, the same for unknown and retired links."""
        if not isinstance(fault, HTTPException):
            fault = HTTPException(_NOT_FOUND)
        return await run_in_threadpool(self._refusal, request, fault)

    async def broken(self, request: Request) -> Response:
        """Answer a fault of ours without a word about it; where the register is gone, as was last signed."""
        return await run_in_threadpool(self._broken, request)

    def _broken(self, request: Request) -> Response:
        try:
            return self._refused_by(self.last, request, HTTPException(_BROKEN))
        except Exception:  # noqa: BLE001 - the last answer there is must not fail
            text = "<!doctype html><title>Error</title><p>Something went wrong here. Please call us."
            return HTMLResponse(text, status_code=_BROKEN)

    def _refusal(self, request: Request, fault: HTTPException) -> Response:
        return self._refused_by(speaking(self.world), request, fault)

    def _refused_by(self, held: Signed | None, request: Request, fault: HTTPException) -> Response:
        if held is None:
            return PlainTextResponse("There is nothing here yet.\n", status_code=_NOT_YET)
        headers = fault.headers or {}
        lang = request.scope.get(_LANGUAGE, "")
        scene = self._scene(request, held, START, None, Form(fields={"lang": lang}))
        values = {
            "kind": _KINDS.get(fault.status_code, "refused"),
            "minutes": ceil(int(headers.get("Retry-After", 0)) / 60),
            "sent": request.method == "POST",
            "numbers": numbers(scene),
        }
        answer = render(scene, Page(template="refused", status=fault.status_code, values=values))
        answer.headers.update(headers)
        return answer

    def _held(self) -> Signed:
        """Return what the pages say; raise HTTPException before the first signature."""
        held = speaking(self.world)
        if held is None:
            raise HTTPException(_NOT_YET)
        self.last = held
        return held

    async def _serve(self, request: Request, who: str, way: str | None) -> Response:
        form = await self._form(request, who, way) if request.method == "POST" else None
        return await run_in_threadpool(self._answer, request, who, way, form)

    async def _form(self, request: Request, who: str, way: str | None) -> Form:
        """Read a form of one of our own pages; photographs only where a page asks for them, by a link of ours."""
        await run_in_threadpool(self._check_sender, request)
        if way not in _WITH_PHOTOS or receiving.media_type(request) != receiving.MULTIPART:
            return await receiving.read_form(request)
        if who != START:
            await run_in_threadpool(self._visit, caller_of(request), who)
        if self.uploads >= _UPLOADS_AT_ONCE:
            raise busy(_SOON)
        self.uploads += 1
        try:
            return await receiving.read_upload(request, caller_of(request), turn=self.turn)
        finally:
            self.uploads -= 1

    def _check_sender(self, request: Request) -> None:
        issuer = self._held().campaign.issuer
        if not may_send(request.headers, (issuer.answers, issuer.bulletin, issuer.web)):
            raise HTTPException(_FORBIDDEN)

    def _answer(self, request: Request, who: str, way: str | None, form: Form | None) -> Response:
        held, caller = self._held(), caller_of(request)
        sent = form or Form()
        request.scope[_LANGUAGE] = sent.token("lang")
        press = form is not None and way is None and sent.token("do") == "stop"
        if caller.over and not press:
            raise busy(caller.over)
        visit = None
        if who != START:
            visit = self._visit(caller, who, press=press)
        nobody = visit is None or visit.awaited
        if form and nobody and sent.token("do") != "show" and (wait := caller.take(TYPED)):
            raise busy(wait)
        scene = self._scene(request, held, who, visit, sent)
        page = _page(scene, way, "GET" if form is None else "POST")
        if page is None:
            raise HTTPException(_NOT_FOUND)
        return render(scene, page)

    def _visit(self, caller: Caller, who: str, *, press: bool = False) -> Visit:
        """Return whose link this is; who has tried too many that are nobody's may press *stopped* and no more."""
        if not press and (wait := caller.closed(MISS)):
            raise busy(wait)
        unasked = who.startswith(_UNASKED)
        visit = read_link(self.world, "" if unasked else ids.read_link(who[:40]))
        if visit is None:
            wait = 0.0 if unasked else caller.take(MISS)
            raise busy(wait) if wait else HTTPException(_NOT_FOUND)
        return visit

    def _scene(self, request: Request, held: Signed, who: str, visit: Visit | None, form: Form) -> Scene:
        asked = form.token("lang") or request.query_params.get("lang", "")
        waits = visit is not None and visit.waits
        tag, chosen = language_of(held, asked, visit, request.headers.get("accept-language", ""))
        inner = request.url.path.removeprefix(request.scope.get("root_path", ""))
        return Scene(
            world=self.world,
            seals=self.seals,
            held=held,
            campaign=warning(held.localised(tag)) if waits else held.localised(tag),
            catalogue=catalogue_of(nearest(self.world.catalogues, tag, "notices"), tag),
            who=START if who == START else ids.read_link(who[:40]),
            root="../" * (inner.count("/") - 1),
            now=self.world.now(),
            chosen=chosen,
            visit=visit,
            form=form,
            nonce=form.nonce() or ids.long_id(self.world.draw),
        )


def _page(scene: Scene, way: str | None, method: Literal["GET", "POST"]) -> Page | None:
    if scene.visit is not None and scene.visit.trades:
        if way is not None:
            return None
        return trade.show(scene) if method == "GET" else trade.take(scene)
    if way is not None:
        return ways.show(scene, way) if method == "GET" else ways.send(scene, way)
    if method == "GET":
        return steps.first(scene)
    verb: Callable[[Scene], Page] = verbs.VERBS.get(scene.form.token("do"), verbs.show)
    return verb(scene)
