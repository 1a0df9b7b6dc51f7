"""Writes a file aside and puts it in place in one step: the old one lasts until the new one is whole."""

import os
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, content: bytes, lasting: bool = True) -> None:
    """Write a file. Two writers at once do not meet, for each has a part of its own; the last one counts.

    lasting  wait until the disk has it; a cache need not
    """
    part = path.with_name(f".{path.name.lstrip('.')}.{os.urandom(6).hex()}.part")
    try:
        with part.open("xb") as file:
            file.write(content)
            if lasting:
                file.flush()
                os.fsync(file.fileno())
        part.replace(path)
    finally:
        with suppress(OSError):
            part.unlink()
