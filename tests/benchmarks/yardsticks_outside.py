"""The fastest bare ways known of what happens outside this process: sending mail, and starting a program."""

import asyncio
import smtplib
import subprocess
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

_COMMANDS = "Commands:\n"
_HEAD = """
import typer

app = typer.Typer(name="bare", add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None)


@app.callback()
def _options() -> None:
    pass
"""
_COMMAND = '''

@app.command(name={name!r})
def _command_{number}(one: str = "") -> None:
    """Do what {name} does."""
'''


def commands(help_text: str) -> list[str]:
    """Return the names of the commands in the help of a program."""
    _, _, listed = help_text.partition(_COMMANDS)
    return [line.split()[0] for line in listed.splitlines() if line.strip()]


def program(help_text: str) -> str:
    """Write a Typer program that does nothing, with the commands of this help."""
    parts = [_COMMAND.format(name=name, number=number) for number, name in enumerate(commands(help_text))]
    return "".join([_HEAD, *parts, "\n\napp()\n"])


class Relay:
    """A relay on a port of its own that passes every byte on, each way so many seconds late."""

    def __init__(self, port: int, delay: float) -> None:
        self._target = port
        self._delay = delay
        self._loop = asyncio.new_event_loop()
        self._thread = threading.Thread(target=self._loop.run_forever, daemon=True)
        self.port = 0

    @contextmanager
    def open(self) -> Iterator[int]:
        """Yield the port of the relay, open."""
        self._thread.start()
        server = asyncio.run_coroutine_threadsafe(self._serve(), self._loop).result()
        try:
            yield server.sockets[0].getsockname()[1]
        finally:
            asyncio.run_coroutine_threadsafe(self._end(server), self._loop).result()
            self._loop.call_soon_threadsafe(self._loop.stop)
            self._thread.join()
            self._loop.close()

    async def _end(self, server: asyncio.Server) -> None:
        server.close()
        others = [task for task in asyncio.all_tasks() if task is not asyncio.current_task()]
        if others:  # both ends have hung up; the last of it is still on its way
            await asyncio.wait(others, timeout=5)

    async def _serve(self) -> asyncio.Server:
        return await asyncio.start_server(self._accept, "127.0.0.1", 0)

    async def _accept(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        far_reader, far_writer = await asyncio.open_connection("127.0.0.1", self._target)
        await asyncio.gather(self._pass_on(reader, far_writer), self._pass_on(far_reader, writer))

    async def _pass_on(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """Hand each piece on when its time has come; the next is read meanwhile."""
        waiting: deque[tuple[float, bytes]] = deque()
        come = asyncio.Event()

        async def hand_on() -> None:
            while True:
                while not waiting:
                    come.clear()
                    await come.wait()
                due, piece = waiting.popleft()
                await asyncio.sleep(max(due - self._loop.time(), 0))
                if not piece:
                    writer.close()
                    return
                writer.write(piece)

        task = asyncio.create_task(hand_on())
        with suppress(OSError):
            while piece := await reader.read(1 << 16):
                waiting.append((self._loop.time() + self._delay, piece))
                come.set()
        waiting.append((self._loop.time() + self._delay, b""))
        come.set()
        with suppress(OSError):
            await task


def send_plainly(port: int, messages: Sequence[tuple[str, str, bytes]]) -> None:
    """Hand messages (from, to, data) over one connection with the standard library."""
    with smtplib.SMTP("127.0.0.1", port) as server:
        server.ehlo()
        for sender, recipient, data in messages:
            server.sendmail(sender, [recipient], data)


def source(command: str, port: int, *, connections: int, count: int, message: Path) -> None:
    """Hand one message over *count* times with Postfix's smtp-source, each connection used again and again."""
    words = ("-d", "-s", str(connections), "-m", str(count), "-F", str(message))
    people = ("-f", "safety@aldmere.example", "-t", "owner@mail.example")
    subprocess.run([command, *words, *people, f"127.0.0.1:{port}"], check=True)
