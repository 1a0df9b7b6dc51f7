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
    """A report as it lies in a folder and travels in a PDF."""
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"
