"""The QR code of a link, as SVG; drawn by segno (ISO/IEC 18004), which belongs to the extra `report`."""

from typing import Any

#: A longer link fills more modules than a phone reads from paper at the size that the page has.
MOST = 860


def code(url: str, alt: str) -> dict[str, Any] | None:
    """The drawing with the number of its modules, edges included; None where the link is too long for paper."""
    import segno

    if len(url.encode()) > MOST:
        return None
    made = segno.make(url, error="l", boost_error=False, micro=False)
    rows = [list(row) for row in made.matrix_iter(border=4)]
    path = "".join(f"M{x} {y}h1v1h-1z" for y, row in enumerate(rows) for x, dark in enumerate(row) if dark)
    size = len(rows)
    drawn = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}">'
        f'<rect width="{size}" height="{size}" fill="#ffffff"/><path d="{path}" fill="#000000"/></svg>'
    )
    return {"svg": drawn, "modules": size, "alt": alt}
