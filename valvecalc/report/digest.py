"""The digest of a report: SHA-256 over its whole content in one canonical spelling."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any


def canonical(told: Mapping[str, Any]) -> bytes:
    """A report in the one spelling that counts: names in order, no blanks, UTF-8, numbers as Python prints them."""
    text = json.dumps(told, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return text.encode("utf-8", "surrogatepass")


def digest(told: Mapping[str, Any]) -> str:
    """SHA-256 over everything but the digest itself: one letter changed anywhere gives another."""
    content = {key: value for key, value in told.items() if key != "digest"}
    return "sha256:" + hashlib.sha256(canonical(content)).hexdigest()


def as_file(told: Mapping[str, Any]) -> str:
    """A report as it lies in a folder and travels in a PDF: a line for each part, and for each row of a part.

    More lines than these would cost a tenth of the time of a report: Python indents without its quick encoder.
    """
    return "{\n" + ",\n".join(f" {_line(key)}: {_part(part)}" for key, part in told.items()) + "\n}\n"


def _part(part: Any) -> str:
    if not isinstance(part, list) or not part:
        return _line(part)
    return "[\n" + ",\n".join(f"  {_line(row)}" for row in part) + "\n ]"


def _line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
