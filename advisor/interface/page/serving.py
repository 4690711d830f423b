"""Serves the page until Ctrl-C: the socket, the link that opens it, and the other devices of the house."""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
import socket
import sys
import webbrowser
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import uvicorn

from advisor.interface.desk.output import write_page
from advisor.interface.page.app import Served, page_app
from advisor.interface.page.device_access import Begin, Doors
from advisor.interface.page.first_open import forget_running, link_of_running, note_running
from advisor.interface.page.workers import ProcessWorkers
from advisor.knowledge_base.faults import InputFault

_HERE = "127.0.0.1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What the command line asks for."""

    begin: Begin
    lan: bool = False
    port: int = 0
    """0: any that is free."""
    browser: bool = True


def serve_page(wish: Wish) -> int:
    """Serve until Ctrl-C, or hand over to the page that runs already; exit 0.

    Raises:
        InputFault: the port is taken or may not be used, or there is no network to let others in from.
    """
    if not wish.lan and not wish.port and (link := link_of_running(wish.begin)) is not None:
        write_page(f"The page runs already. Open it: {link}\n")
        _open(link, wish)
        return 0
    address = _address_in_house() if wish.lan else ""
    listening = _listening("0.0.0.0" if wish.lan else _HERE, wish.port)
    port = listening.getsockname()[1]
    hosts = {f"{name}:{port}" for name in (_HERE, "localhost", address) if name}
    doors, workers = Doors(), ProcessWorkers()
    served = Served(hosts=hosts, cookie=f"advisor-{port}", lan=f"http://{address}:{port}" if address else "")
    note_running(port, doors.owner)
    try:
        link = f"http://{_HERE}:{port}{doors.link(wish.begin)}"
        write_page(f"Open it on this machine: {link}\n")
        if served.lan:
            _let_in(served.lan, doors, wish.begin)
        write_page("Ctrl-C stops it. Each link lets one device in; 'advisor open' again gives another.\n")
        sys.stdout.flush()
        asyncio.run(_run(listening, doors, workers, served, lambda: _open(link, wish)))
    finally:
        forget_running(doors.owner)
        workers.close()
        listening.close()
    write_page("stopped\n")
    return 0


def _open(link: str, wish: Wish) -> None:
    if wish.browser and _has_windows():
        # Where there is none, the printed link is what is left, and that is said already.
        with contextlib.suppress(Exception):
            webbrowser.open(link)


def _has_windows() -> bool:
    """Whether a browser can show itself: not in a bare terminal, where one of text would take the terminal over."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY"))


def _let_in(lan: str, doors: Doors, begin: Begin) -> None:
    """Say a link for another device, as text and as a picture to be read by its camera."""
    link = f"{lan}{doors.link(begin)}"
    write_page(f"For another device of the house (nothing is encrypted on the way: at home only): {link}\n")
    if sys.stdout.isatty():
        import segno

        segno.make(link, error="m").terminal(compact=True)


async def _run(
    listening: socket.socket,
    doors: Doors,
    workers: ProcessWorkers,
    served: Served,
    once_open: Callable[[], None],
) -> None:
    config = uvicorn.Config(
        page_app(doors, workers, served),
        log_level="error", access_log=False, server_header=False, date_header=False, lifespan="off", ws="none",
        timeout_keep_alive=15, timeout_graceful_shutdown=2, limit_concurrency=100, h11_max_incomplete_event_size=32_000,
    )  # fmt: skip
    server = _Server(config)
    loop = asyncio.get_running_loop()
    for sign in (signal.SIGINT, signal.SIGTERM):
        with contextlib.suppress(NotImplementedError):  # where the system has no such signals
            loop.add_signal_handler(sign, server.stop)
    loop.call_later(0.2, lambda: loop.run_in_executor(None, once_open))
    warming = asyncio.create_task(workers.warm())
    await server.serve(sockets=[listening])
    warming.cancel()


class _Server(uvicorn.Server):
    """A server that leaves the signals to whoever started it, and stops without a word."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield

    def stop(self) -> None:
        self.force_exit = self.should_exit
        self.should_exit = True


def _listening(host: str, port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(128)
    except OSError as error:
        listening.close()
        reason = (error.strerror or type(error).__name__).lower()
        raise InputFault(
            f"advisor: port {port} cannot be used ({reason}); leave out --port, or name another"
        ) from None
    return listening


def _address_in_house() -> str:
    """The address of this machine in the house: the one from which it would send outwards. Nothing is sent.

    Raises:
        InputFault: it has none.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address kept for examples (RFC 5737)
            return str(probe.getsockname()[0])
        except OSError:
            raise InputFault("advisor: this machine is in no network; leave out --lan") from None
