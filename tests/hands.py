"""Commands typed on one notebook."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cli import main


class Hand:
    """Types commands on one notebook."""

    def __init__(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.path, self._capsys = path, capsys

    def __call__(self, *words: str, code: int = 0) -> str:
        """What a command says; on standard error when it is refused."""
        self._capsys.readouterr()
        try:
            done = main([*words, "--notebook", str(self.path)])
        except SystemExit as left:  # how the parser leaves
            done = int(left.code or 0)
        assert done == code, words
        said = self._capsys.readouterr()
        return said.err if code else said.out
