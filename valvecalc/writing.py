"""The one way a file is written: aside first, then put in place in one step.

Until the new file is whole on the disk the old one stands as it was; a writer that is killed, or finds the disk full,
leaves it so. Two writers at once do not meet, for each has parts of its own; the last one counts.
"""

import os
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from shutil import copymode
from time import time

#: Age in seconds from which a part is one that a killed writer left behind.
STALE = 3600


def write_whole(path: Path, content: bytes, lasting: bool = True) -> None:
    """Write one file.

    lasting  wait until the disk has it; a cache need not
    """
    _write({path: content}, lasting)


def write_together(folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
    """Write files by name into a folder: none of them is put in place before all are whole."""
    folder.mkdir(parents=True, exist_ok=True)
    _write({folder / name: content for name, content in contents.items()}, True)
    return [folder / name for name in contents]


def _write(contents: Mapping[Path, bytes], lasting: bool) -> None:
    """Raises OSError with the name of the file; whatever failed, no part stays behind."""
    parts: dict[Path, Path] = {}
    try:
        for named, content in contents.items():
            path = Path(os.path.realpath(named))  # a link stays one
            sweep(path)
            part = parts[path] = path.with_name(f".{path.name.lstrip('.')}.{os.urandom(6).hex()}.part")
            try:
                _fill(part, content, lasting)
            except OSError as fault:
                told = f"{fault.strerror or fault}; what stood there is as it was"
                raise OSError(fault.errno, told, str(named)) from fault
            with suppress(OSError):
                copymode(path, part)
        for path, part in parts.items():
            part.replace(path)
    finally:
        for part in parts.values():
            with suppress(OSError):
                part.unlink()


def _fill(part: Path, content: bytes, lasting: bool) -> None:
    with part.open("xb") as file:
        file.write(content)
        if lasting:
            file.flush()
            os.fsync(file.fileno())


def sweep(path: Path) -> None:
    """Remove the parts of a file that killed writers left long ago; one that is still at work is younger."""
    head = f".{path.name.lstrip('.')}."
    with suppress(OSError):
        for part in path.parent.iterdir():
            if part.name.startswith(head) and part.suffix == ".part":
                with suppress(OSError):
                    if part.stat().st_mtime < time() - STALE:
                        part.unlink()
