"""A form as it arrives: of the two kinds that browsers send, in time, and never larger than ours can be."""

import asyncio
import re
from dataclasses import dataclass
from math import inf

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.types import Message, Receive

from notices.respond.forms import Form
from notices.respond.limits import UPLOAD, Caller, busy
from notices.respond.uploads import MOST_PHOTO_BYTES, MOST_PHOTOS, remade
from notices.work.photos import Photo, Unfit

URLENCODED, MULTIPART = "application/x-www-form-urlencoded", "multipart/form-data"
MOST_FIELDS = 40
MOST_BYTES = 32 * 1024
MOST_UPLOAD_BYTES = MOST_PHOTOS * MOST_PHOTO_BYTES + 2 * MOST_BYTES
_MOST_FILES = 10  # more than we take, so that we can say how many we take
_TIMEOUT, _TOO_LARGE, _WRONG_TYPE, _UNREADABLE = 408, 413, 415, 400
_CHARSET = re.compile(r";\s*charset\s*=\s*\"?([^\s\";]*)", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True, slots=True)
class Patience:
    """How many seconds a body may take: until the next piece of it, and in all."""

    pause: float
    whole: float


FORM_PATIENCE = Patience(pause=10, whole=30)
UPLOAD_PATIENCE = Patience(pause=30, whole=300)  # a photo over a slow mobile network


def media_type(request: Request) -> str:
    """Return the media type of a form, in small letters and without its parameters."""
    return request.headers.get("content-type", "").partition(";")[0].strip().lower()


def length_of(request: Request) -> float:
    """Return how many bytes a body says it has; infinity where it does not say, or says no number."""
    said = request.headers.get("content-length", "")
    is_number = said.isascii() and said.isdecimal() and len(said) <= len(str(MOST_UPLOAD_BYTES))
    return int(said) if is_number else inf


def check_kind(request: Request, *, most: int) -> None:
    """Raise HTTPException for a form of a kind or size that no page of ours sends; its body is not read."""
    charset = _CHARSET.search(request.headers.get("content-type", ""))
    odd = charset is not None and charset[1].lower() not in {"utf-8", "utf8"}
    if odd or media_type(request) not in {URLENCODED, MULTIPART}:
        raise HTTPException(_WRONG_TYPE)  # other charsets name decoders that can be made to work for minutes
    if request.headers.get("content-length") is not None and length_of(request) > most:
        raise HTTPException(_TOO_LARGE)


async def read_form(request: Request, *, patience: Patience = FORM_PATIENCE) -> Form:
    """Read a form of plain fields; a file is refused, and of two fields of one name the last counts."""
    check_kind(request, most=MOST_BYTES)
    sent = await _sent(request, MOST_BYTES, patience, files=0)
    return Form(fields=_fields(sent))


def is_large(request: Request) -> bool:
    """Say whether a form is so large that it must hold photographs, or does not say how large it is."""
    return length_of(request) > MOST_BYTES


async def read_upload(
    request: Request, caller: Caller, *, turn: asyncio.Semaphore, patience: Patience = UPLOAD_PATIENCE
) -> Form:
    """Read a form that may hold photographs, each made anew when it is this one's *turn*.

    A token for them is taken before a large body is read, else once there is one.
    """
    check_kind(request, most=MOST_UPLOAD_BYTES)
    if is_large(request) and (wait := caller.take(UPLOAD)):
        raise busy(wait)
    sent = await _sent(request, MOST_UPLOAD_BYTES, patience, files=_MOST_FILES)
    photos: list[Photo | Unfit] = []
    try:
        chosen = [each for _, each in sent.multi_items() if isinstance(each, UploadFile) and _chosen(each)]
        if len(chosen) > MOST_PHOTOS:
            return Form(fields=_fields(sent), photos=(Unfit.TOO_MANY,))
        if chosen and not is_large(request) and (wait := caller.take(UPLOAD)):
            raise busy(wait)
        for each in chosen:
            data = await each.read(MOST_PHOTO_BYTES + 1)
            async with turn:  # a picture takes much memory while it is decoded
                photos.append(await run_in_threadpool(remade, data))
    finally:
        await sent.close()
    return Form(fields=_fields(sent), photos=tuple(photos))


def _chosen(file: UploadFile) -> bool:
    """Say whether a file was chosen: a browser sends an empty part without a name where none was."""
    return bool(file.filename or file.size)


def _fields(sent: FormData) -> dict[str, str]:
    return {name: value for name, value in sent.multi_items() if isinstance(value, str)}


async def _sent(request: Request, most: int, patience: Patience, *, files: int) -> FormData:
    bounded = Request(request.scope, _bounded(request.receive, most, patience))
    try:
        return await bounded.form(max_files=files, max_fields=MOST_FIELDS, max_part_size=MOST_BYTES)
    except ClientDisconnect:
        raise HTTPException(_UNREADABLE) from None


def _bounded(receive: Receive, most: int, patience: Patience) -> Receive:
    """Return *receive* with an end to its patience, and to what it takes."""
    clock = asyncio.get_running_loop().time
    ends = clock() + patience.whole
    taken = 0

    async def next_piece() -> Message:
        nonlocal taken
        try:
            async with asyncio.timeout_at(min(ends, clock() + patience.pause)):
                message = await receive()
        except TimeoutError:
            raise HTTPException(_TIMEOUT, headers={"Connection": "close"}) from None
        taken += len(message.get("body", b""))
        if taken > most:
            raise HTTPException(_TOO_LARGE)
        return message

    return next_piece
