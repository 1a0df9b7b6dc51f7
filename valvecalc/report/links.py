"""How a calculation of a report is opened again with its entries: by a link and its QR code where the shop's pages have
an address, else by a command."""

from re import fullmatch
from shlex import quote
from typing import Any
from urllib.parse import unquote

from valvecalc.report import qr
from valvecalc.report.words import Row

SAID = "Open this calculation with its inputs"
TOO_LONG = f"{SAID} (the link is too long for a QR code)"
BY_COMMAND = "Work this calculation again with its inputs:"
#: Why a reopened calculation may tell a narrower ± than the report, or none.
SPREAD = (
    "Opened again, a calculation gives the same values. Its ± is not all there: the report carries the error of each "
    "instrument, once where two readings share it, and a link carries only what was typed with ±."
)


def url(row: Row, site: str) -> str:
    """The address of a calculation with its entries; "" where the shop's pages have none that a browser opens."""
    link = str(row.get("link", ""))
    return site.rstrip("/") + link if link and site.startswith(("https://", "http://")) else ""


def code(row: Row, address: str) -> dict[str, Any] | None:
    """The QR code of that address, None where it is too long."""
    return qr.code(address, f"QR code of the link that opens {row['id']} with these inputs")


def command(row: Row) -> str:
    """The command that works a calculation again with its entries, from its link; "" where it has none."""
    fragment = str(row.get("link", "")).partition("#")[2]
    pairs = [pair.partition("=") for pair in fragment.split("&")]
    entries = [_argument(name, unquote(text)) for name, _, text in pairs if name not in ("", "e")]
    return " ".join(["valvecalc calc", str(row["id"]), *entries]) if entries else ""


def _argument(name: str, text: str) -> str:
    """An entry as a shell takes it: in double quotes, which every shell knows, where nothing in it could be obeyed."""
    if fullmatch(r"[\w.+-]+", text):
        return f"{name}={text}"
    return f'{name}="{text}"' if fullmatch(r"[\w .,;|/±²³°·µ()%+*-]+", text) else quote(f"{name}={text}")
