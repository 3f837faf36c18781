"""Start the page server with the settings a shop floor needs: nothing asked, nothing sent, nothing left behind."""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Mapping
from importlib.resources import files
from pathlib import Path
from typing import Final

from spc.drawing.theme import page_colours, theme
from spc.errors import Refused
from spc.pages.clock import CLOCK_FROM
from spc.pages.demo import make_demo
from spc.settings import read_settings
from spc.station import open_station

__all__ = ["PORT", "SERVER_SETTINGS", "launch"]

PORT: Final = 8501
ADDRESS: Final = "127.0.0.1"
SERVER_SETTINGS: Final = {
    "server.headless": "true",
    "server.address": ADDRESS,
    "server.showEmailPrompt": "false",
    "server.fileWatcherType": "none",
    "browser.gatherUsageStats": "false",
    "logger.level": "warning",
    "client.toolbarMode": "minimal",
    "client.showErrorDetails": "none",
}
"""Without the address the server would ask an outside host for its own; without the rest it asks or reports."""

_PATIENCE_S: Final = 120.0


def launch(db: str | None, port: int | None, demo: bool) -> int:
    """Open the station's pages until somebody ends it, for the command `spc station`.

    Parameters
    ----------
    db : str or None
        Path or URL of the record; None: `SPC_DB`, else `spc-record.sqlite` here.
    port : int or None
        None: 8501.
    demo : bool
        A record of its own with invented data, removed at the end; `db` is left alone.

    Returns
    -------
    int
        0 when it was ended by Ctrl-C, 1 when it could not start; the reason stands on stderr.
    """
    number = PORT if port is None else port
    try:
        _refuse_used_port(number)
        if not demo:
            path = read_settings(os.environ, db).db
            open_station(path).close()  # a record that cannot be used is refused here, in words
            return _serve(number, {"SPC_DB": path, CLOCK_FROM: ""})
        with tempfile.TemporaryDirectory(prefix="spc-demo-") as folder, _ended_by_signal():
            record, begins = make_demo(Path(folder), _say)
            return _serve(number, {"SPC_DB": str(record), CLOCK_FROM: begins.isoformat()})
    except Refused as refused:
        print(refused, file=sys.stderr)  # noqa: T201  # a command prints
        return 1
    except KeyboardInterrupt:
        return 0


def _refuse_used_port(port: int) -> None:
    do = f"end the program that uses it, or take another one: spc station --port {port + 1}"
    if not 1 <= port <= 65535:
        raise Refused.one("there is no such port", value=str(port), column="--port", allowed="1 to 65535")
    with socket.socket() as probe:
        if os.name != "nt":  # a port that was closed a moment ago is free
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((ADDRESS, port))
        except PermissionError:
            reason = "this port is kept for the system"
            raise Refused.one(reason, value=str(port), column="--port", allowed="1024 to 65535") from None
        except OSError:
            reason = f"port {port} of this machine is in use already, maybe by another station"
            raise Refused.one(reason, column="--port", allowed="a free port", do=do) from None


def _serve(port: int, environ: Mapping[str, str]) -> int:
    """Run the server as a child and end it with this command."""
    with _ended_by_signal():
        server = subprocess.Popen(
            _command(port), env={**os.environ, **environ}, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL
        )
        try:
            if _is_up(server, f"http://{ADDRESS}:{port}/_stcore/health"):
                _say(f"The station is open at http://{ADDRESS}:{port}  (Ctrl-C ends it)")
            return 1 if server.wait() else 0
        except KeyboardInterrupt:
            return 0
        finally:
            _end(server)


def _command(port: int) -> list[str]:
    script = str(files("spc.pages.served").joinpath("station_pages.py"))
    command = [sys.executable, "-m", "streamlit", "run", script, f"--server.port={port}"]
    command += [f"--{name}={value}" for name, value in SERVER_SETTINGS.items()]
    for name in ("light", "dark"):
        for key, value in page_colours(theme(name)).items():
            command.append(f"--theme.{name}.{key}={str(value).lower() if value is True else value}")
    return command


def _is_up(server: "subprocess.Popen[bytes]", url: str) -> bool:
    deadline = time.monotonic() + _PATIENCE_S
    while server.poll() is None and time.monotonic() < deadline:
        try:
            with urllib.request.urlopen(url, timeout=2) as answer:
                return bool(answer.status == 200)
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    return False


def _end(server: "subprocess.Popen[bytes]") -> None:
    if server.poll() is not None:
        return
    server.terminate()
    try:
        server.wait(10)
    except subprocess.TimeoutExpired:
        server.kill()
        server.wait()


@contextlib.contextmanager
def _ended_by_signal() -> Iterator[None]:
    """Let a polite end from outside (SIGTERM) tidy up as Ctrl-C does."""
    if threading.current_thread() is not threading.main_thread():
        yield  # only the main thread may listen to signals
        return
    before = signal.signal(signal.SIGTERM, _interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _interrupt(*_: object) -> None:
    raise KeyboardInterrupt


def _say(text: str) -> None:
    print(text, flush=True)  # noqa: T201  # a command prints
