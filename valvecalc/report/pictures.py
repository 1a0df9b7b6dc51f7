"""The photographs that a page carries within itself: as they were taken, the first of them up to a whole size.

Which ones is told by the report alone, so that verify knows which have to be there.
"""

from base64 import b64encode
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from valvecalc.report.words import Row

#: All photographs of a page together, bytes: more of them makes no page for a phone. The PDF has them all.
MOST = 12_000_000
#: The pictures that paper and page take as they are.
_KINDS = {".jpg": "jpeg", ".jpeg": "jpeg", ".png": "png", ".gif": "gif", ".webp": "webp"}


def photo_rows(report: Mapping[str, Any]) -> list[Row]:
    """The photos that a report names."""
    return list(report.get("photos", ()))


def photo_name(row: Row) -> str:
    """The file of a photo as the job names it."""
    return str(row.get("file", ""))


def carried(report: Mapping[str, Any]) -> dict[str, str]:
    """Name -> SHA-256 of the photographs that the page of a report carries."""
    names: dict[str, str] = {}
    total = 0
    for row in photo_rows(report):
        name = photo_name(row)
        if row.get("sha256") and name not in names:
            total += int(row.get("size", 0))
            if total > MOST:
                break
            names[name] = str(row["sha256"])
    return names


def photo_file(folder: Path | None, name: str) -> Path | None:
    """The picture of this name in a folder or below it, None where there is none."""
    if folder is None or not name:
        return None
    try:
        path = (folder / name).resolve()
        inside = path.is_relative_to(folder.resolve())
        return path if inside and path.suffix.lower() in _KINDS and path.is_file() else None
    except (OSError, ValueError):  # a name that no system takes
        return None


def beside(report: Mapping[str, Any], folder: Path | None) -> dict[str, bytes]:
    """The bytes of these photographs, from the folder of the job."""
    paths = {name: photo_file(folder, name) for name in carried(report)}
    return {name: path.read_bytes() for name, path in paths.items() if path is not None}


def address(name: str, picture: bytes) -> str:
    """A photograph as an address that holds it."""
    return f"data:image/{_KINDS[Path(name).suffix.lower()]};base64,{b64encode(picture).decode()}"
