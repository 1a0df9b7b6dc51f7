"""A program of the pages run in node, many questions in one process."""

import json
import os
import shutil
import subprocess
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest

NODE = shutil.which("node")
NO_NODE = "JAVASCRIPT TESTS SKIPPED: no node (Debian: apt-get install nodejs). What runs on the phone is unchecked."


def need_node() -> str:
    """The program; without it the test skips, or fails where VALVECALC_NEED_BROWSER=1 asks for all of them."""
    if NODE is None:
        if os.environ.get("VALVECALC_NEED_BROWSER") == "1":
            pytest.fail("VALVECALC_NEED_BROWSER=1, but node is not installed")
        pytest.skip(NO_NODE)
    return NODE


def ask_node(folder: Path, code: str, given: Iterable[Any]) -> list[str]:
    """The lines that `code` writes to process.argv[3] for the questions in process.argv[2], one JSON a line."""
    script, asked, told = (folder / name for name in ("script.js", "asked.ndjson", "told.ndjson"))
    script.write_text(code, "utf-8")
    asked.write_text("\n".join(json.dumps(one, allow_nan=False) for one in given), "utf-8")
    command = [need_node(), str(script), str(asked), str(told)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    return told.read_text("utf-8").split("\n")
