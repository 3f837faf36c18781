"""A terminal with a folder and a record of its own."""

from pathlib import Path

import pytest
from terminal import Terminal


@pytest.fixture
def spc(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Terminal:
    """Commands in an empty folder, with no record named in the environment."""
    monkeypatch.delenv("SPC_DB", raising=False)
    monkeypatch.chdir(tmp_path)
    return Terminal(capsys, tmp_path)
