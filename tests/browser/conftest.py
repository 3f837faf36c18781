"""One real browser and real servers for every browser test; a request leaving this machine fails the test."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from spc.station import Station, open_station

BROWSER_NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
BROWSER_FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
SERVER_SETTINGS = {
    "server.headless": "true",
    "server.address": "127.0.0.1",
    "server.fileWatcherType": "none",
    "server.showEmailPrompt": "false",
    "browser.gatherUsageStats": "false",
    "client.toolbarMode": "minimal",
}
SETTLED = '[data-testid="stApp"][data-test-script-state="notRunning"]'

expect.set_options(timeout=30_000)  # a busy machine is slow, not wrong

Serve = Callable[..., str]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def started(command: list[str], url: str, env: Mapping[str, str], log: Path) -> Iterator[str]:
    """Run a server until the block ends; it must answer at ``url`` within a minute."""
    with log.open("w") as out:
        server = subprocess.Popen(command, stdout=out, stderr=out, env={**os.environ, **env})
        try:
            wait_until_up(server, url + "/_stcore/health", log)
            yield url
        finally:
            server.terminate()
            try:
                server.wait(10)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()


@contextmanager
def start_streamlit(script: Path, env: Mapping[str, str], log: Path) -> Iterator[str]:
    """Serve one script on a free port of this machine and yield its address."""
    port = free_port()
    command = [sys.executable, "-m", "streamlit", "run", str(script), f"--server.port={port}"]
    command += [f"--{name}={value}" for name, value in SERVER_SETTINGS.items()]
    with started(command, f"http://127.0.0.1:{port}", env, log) as url:
        yield url


def wait_until_up(server: "subprocess.Popen[bytes]", url: str, log: Path) -> None:
    deadline = time.monotonic() + 60
    while time.monotonic() < deadline:
        if server.poll() is not None:
            raise RuntimeError(f"the server ended with {server.returncode}:\n{log.read_text()}")
        try:
            with urllib.request.urlopen(url, timeout=2) as answer:
                if answer.status == 200:
                    return
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
    raise RuntimeError(f"no answer from {url} within a minute:\n{log.read_text()}")


@pytest.fixture(scope="session")
def serve(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serve]:
    """A function (script, **env) -> address; the same script and environment share one server."""
    running: dict[tuple[str, tuple[tuple[str, str], ...]], str] = {}
    with ExitStack() as servers:

        def start(script: Path, **env: str) -> str:
            asked = (str(script), tuple(sorted(env.items())))
            if asked not in running:
                log = tmp_path_factory.mktemp("server") / "log.txt"
                running[asked] = servers.enter_context(start_streamlit(script, env, log))
            return running[asked]

        yield start


@pytest.fixture(scope="session")
def serve_station(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[Path], str]]:
    """A function (record) -> address of a station on it, started as `spc station` starts it."""
    with ExitStack() as servers:

        def start(record: Path) -> str:
            port = free_port()
            code = (
                "import sys; from spc.pages.launch import launch; "
                f"sys.exit(launch({str(record)!r}, {port}, False))"
            )
            log = tmp_path_factory.mktemp("station") / "log.txt"
            command = [sys.executable, "-c", code]
            return servers.enter_context(started(command, f"http://127.0.0.1:{port}", {}, log))

        yield start


@pytest.fixture(scope="module")
def record(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Station, Path]]:
    """A station on a record of its own that has taken the plan of the test file, and where the record is."""
    path = tmp_path_factory.mktemp("record") / "cell.sqlite"
    station = open_station(path)
    station.take_plan(request.module.PLAN)
    yield station, path
    station.close()


@pytest.fixture(scope="module")
def url(record: tuple[Station, Path], serve_station: Callable[[Path], str]) -> str:
    """Where the station on that record answers."""
    return serve_station(record[1])


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The Chromium of this machine, one for the session."""
    path = next((found for name in BROWSER_NAMES if (found := shutil.which(name))), None)
    if path is None:
        pytest.skip(f"no browser on this machine: none of {', '.join(BROWSER_NAMES)} is on the path")
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, headless=True, args=list(BROWSER_FLAGS))
        yield chromium
        chromium.close()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    """A browser that knows nothing yet; ends the test in failure when a request left this machine."""
    fresh = browser.new_context(viewport={"width": 1280, "height": 900}, locale="en-GB")
    left: list[str] = []
    own = ("http://127.0.0.1:", "ws://127.0.0.1:", "data:", "blob:")

    def note(url: str) -> None:
        if not url.startswith(own):
            left.append(url)

    fresh.on("request", lambda request: note(request.url))
    fresh.on("page", lambda page: page.on("websocket", lambda socket: note(socket.url)))
    yield fresh
    fresh.close()
    assert left == [], f"requests left this machine: {left}"


@pytest.fixture
def page(context: BrowserContext) -> Page:
    """An empty page; `page.goto(address)` then `page.wait_for_selector(SETTLED)`."""
    tab = context.new_page()
    tab.set_default_timeout(30_000)
    return tab


@pytest.fixture
def settle() -> Callable[[Page], None]:
    """Wait until the script of the page has run to its end."""
    return lambda page: page.locator(SETTLED).wait_for()
