"""What the documents promise holds: commands parse, the test line is the one run, links lead somewhere."""

import importlib
import re
import shlex
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
DOCUMENTS = ("README.md", "DEVELOPERS.md")
LINK = re.compile(r"\]\(([^)\s]+)(?:\s+\"[^\"]*\")?\)|<(?:img|source)[^>]*\bsrc(?:set)?=\"([^\"]+)\"")


def text_of(name: str) -> str:
    """Text of a document of the project; a clear failure if it is missing."""
    path = PROJECT / name
    assert path.exists(), f"{name} is missing"
    return path.read_text(encoding="utf-8")


def shell_lines(markdown: str) -> list[str]:
    """Lines of the fenced blocks, without prompts, with continued lines joined."""
    blocks = re.findall(r"^```[^\n]*\n(.*?)^```", markdown, re.DOTALL | re.MULTILINE)
    text = "\n".join(blocks).replace("\\\n", " ")
    return [line.strip().removeprefix("$ ") for line in text.splitlines()]


def station_commands(markdown: str) -> list[list[str]]:
    """Arguments of every ``spc …`` command in the fenced blocks, wherever in its line it stands."""
    found = []
    for line in shell_lines(markdown):
        for piece in re.split(r"&&|\|\||[;|>]", line):
            if re.match(r"\s*(\S*/)?spc\s", f"{piece} "):
                found.append(shlex.split(piece, comments=True)[1:])
    return found


def test_commands_are_found_in_a_document() -> None:
    markdown = (
        "```sh\n$ python3 -m venv .venv && .venv/bin/spc station --demo\n"
        "spc limits --chart xbar_r \\\n  --readings 'my rings.csv' --json | less  # centre\n```\n"
        "and `spc inline`, which is prose\n```python\nfrom spc.station import open_station\n```\n"
    )
    assert station_commands(markdown) == [
        ["station", "--demo"],
        ["limits", "--chart", "xbar_r", "--readings", "my rings.csv", "--json"],
    ]


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_command_in_the_documents_parses(document: str, capsys: pytest.CaptureFixture[str]) -> None:
    cli = importlib.import_module("spc.cli")
    assert hasattr(cli, "build_parser"), "spc.cli offers no build_parser() that gives its argparse parser"
    commands = station_commands(text_of(document))
    assert commands or document != "README.md", "README.md shows no spc command"
    refused = []
    for arguments in commands:
        try:
            cli.build_parser().parse_args(arguments)
        except SystemExit as end:
            if end.code:
                refused.append(f"spc {shlex.join(arguments)}: {capsys.readouterr().err.strip()}")
    assert refused == []


def test_the_readme_shows_the_test_line_that_is_run() -> None:
    run = (PROJECT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert run[-1] in shell_lines(text_of("README.md"))


@pytest.mark.parametrize("document", DOCUMENTS)
def test_no_link_is_broken(document: str) -> None:
    text = re.sub(r"^```.*?^```", "", text_of(document), flags=re.DOTALL | re.MULTILINE)
    links = [first or second for first, second in LINK.findall(text)]
    assert [link for link in links if not leads_somewhere(link, text)] == []


def leads_somewhere(link: str, text: str) -> bool:
    """Tell whether a link is outward, or names a file of the project, or a heading of the same document."""
    if re.match(r"[a-z]+:", link):
        return True
    path, _, heading = link.partition("#")
    if path:
        return (PROJECT / path).exists()
    headings = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    return heading in {re.sub(r"[^\w\- ]", "", title.lower()).replace(" ", "-") for title in headings}
