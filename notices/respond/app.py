"""The application that owners meet: reading changes nothing, a form is answered with the next page itself."""

from collections.abc import Callable
from typing import Literal

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.body_limit import RequestBodyLimitMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route

from notices.cases import ids
from notices.compose.pictures import media_of
from notices.respond import forms, steps, verbs, ways
from notices.respond.forms import Form
from notices.respond.guards import HEADERS, Guarded, base_of, may_send
from notices.respond.public import Bulletin, public_page
from notices.respond.rendering import STYLE, picture_name, render
from notices.respond.scenes import START, Page, Scene, catalogue_of, language_of
from notices.respond.seals import Seals
from notices.work.answering import read_link, speaking
from notices.work.ports import World
from notices.work.revisions import Signed

_NOT_FOUND, _TOO_LARGE, _FORBIDDEN, _NOT_YET = 404, 413, 403, 503
_STAYS = {"Cache-Control": "public, max-age=86400, immutable"}


def application(
    world: World, *, key: bytes, base: str | None = None, bulletin: Bulletin | None = None
) -> Starlette:
    """Return the owners' pages on *world*; *key* signs the hidden fields.

    *base* is the path below which owners reach them, by default that of ``issuer.answers``; a proxy may strip it or
    leave it. *bulletin* makes the public page of a signed revision in a language.
    """
    pages = _Pages(world, Seals(key), bulletin)
    held = speaking(world)
    below = base_of(held.campaign.issuer.answers if held else None) if base is None else base.rstrip("/")
    return Starlette(
        routes=[
            Route("/", pages.front, methods=["GET", "POST"]),
            Route("/style.css", pages.style),
            Route("/bulletin", pages.bulletin),
            Route("/picture/{name}", pages.picture),
            Route("/{who}", pages.visit, methods=["GET", "POST"]),
            Route("/{who}/", pages.visit, methods=["GET", "POST"]),
            Route("/{who}/{way}", pages.way, methods=["GET", "POST"]),
        ],
        middleware=[
            Middleware(Guarded, base=below),
            Middleware(RequestBodyLimitMiddleware, max_body_size=forms.MOST_BYTES),
        ],
        exception_handlers={HTTPException: pages.refused, Exception: _broken},
    )


class _Pages:
    """The routes: each reads the last signed revision, makes the scene, and hands it to a verb in a thread."""

    def __init__(self, world: World, seals: Seals, bulletin: Bulletin | None) -> None:
        self.world = world
        self.seals = seals
        self.make_bulletin = bulletin

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
        held = await run_in_threadpool(speaking, self.world)
        for data in held.revision.pictures.values() if held else ():
            media = media_of(data)
            if media and picture_name(data) == request.path_params["name"]:
                return Response(data, media_type=media, headers=_STAYS)
        raise HTTPException(_NOT_FOUND)

    async def bulletin(self, request: Request) -> Response:
        """Serve the public page of the signed revision."""
        held = await run_in_threadpool(speaking, self.world)
        if held is None or self.make_bulletin is None:
            raise HTTPException(_NOT_FOUND if held else _NOT_YET)
        asked, accepted = request.query_params.get("lang", ""), request.headers.get("accept-language", "")
        tag, _ = language_of(held, asked, None, accepted)
        return await run_in_threadpool(public_page, self.make_bulletin, held, tag)

    async def refused(self, request: Request, fault: Exception) -> Response:
        """Answer what cannot be served with one page, the same for unknown and retired links."""
        status = fault.status_code if isinstance(fault, HTTPException) else _NOT_FOUND
        return await run_in_threadpool(self._refusal, request, status)

    def _refusal(self, request: Request, status: int) -> Response:
        held = speaking(self.world)
        if held is None:
            return PlainTextResponse("There is nothing here yet.\n", status_code=_NOT_YET)
        scene = self._scene(request, held, START, Form())
        kind = {_NOT_FOUND: "unknown", _TOO_LARGE: "large"}.get(status, "refused")
        return render(scene, Page(template="refused", status=status, values={"kind": kind}))

    async def _serve(self, request: Request, who: str, way: str | None) -> Response:
        form = await _form(request) if request.method == "POST" else None
        return await run_in_threadpool(self._answer, request, who, way, form)

    def _answer(self, request: Request, who: str, way: str | None, form: Form | None) -> Response:
        held = speaking(self.world)
        if held is None:
            raise HTTPException(_NOT_YET)
        issuer = held.campaign.issuer
        if form and not may_send(request.headers, (issuer.answers, issuer.bulletin, issuer.web)):
            raise HTTPException(_FORBIDDEN)
        scene = self._scene(request, held, who, form or Form())
        page = _page(scene, way, "GET" if form is None else "POST")
        if page is None:
            raise HTTPException(_NOT_FOUND)
        return render(scene, page)

    def _scene(self, request: Request, held: Signed, who: str, form: Form) -> Scene:
        link = START if who == START else ids.read_link(who[:40])
        visit = None if link == START else read_link(self.world, link)
        if visit is None and link != START:
            raise HTTPException(_NOT_FOUND)
        asked = form.token("lang") or request.query_params.get("lang", "")
        tag, chosen = language_of(held, asked, visit, request.headers.get("accept-language", ""))
        inner = request.url.path.removeprefix(request.scope.get("root_path", ""))
        return Scene(
            world=self.world,
            seals=self.seals,
            held=held,
            campaign=held.localised(tag),
            catalogue=catalogue_of(self.world.catalogues.get(f"{tag}/notices"), tag),
            who=link,
            root="../" * (inner.count("/") - 1),
            now=self.world.now(),
            chosen=chosen,
            visit=visit,
            form=form,
            nonce=form.nonce() or ids.long_id(self.world.draw),
        )


def _page(scene: Scene, way: str | None, method: Literal["GET", "POST"]) -> Page | None:
    if way is not None:
        return ways.show(scene, way) if method == "GET" else ways.send(scene, way)
    if method == "GET":
        return steps.first(scene)
    verb: Callable[[Scene], Page] = verbs.VERBS.get(scene.form.token("do"), verbs.show)
    return verb(scene)


async def _form(request: Request) -> Form:
    """Read a form of plain fields; a file is refused, and of two fields of one name the last counts."""
    sent = await request.form(max_files=0, max_fields=forms.MOST_FIELDS, max_part_size=forms.MOST_BYTES)
    return Form(fields={name: value for name, value in sent.items() if isinstance(value, str)})


async def _broken(_request: Request, _fault: Exception) -> Response:
    """Answer a fault of ours without a word about it; the server's own log has it."""
    text = "<!doctype html><title>Error</title><p>Something went wrong here. Please call us, or try again later.</p>"
    return HTMLResponse(text, status_code=500, headers=HEADERS)
