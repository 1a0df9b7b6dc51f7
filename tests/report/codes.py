"""QR codes of a report read by a decoder that has nothing to do with what drew them."""

from re import findall

import numpy as np
import zxingcpp


def decoded(svg: str, modules: int) -> list[str]:
    """What stands in a code of so many modules a side, drawn as runs of squares."""
    dark = np.full((modules, modules), 255, np.uint8)
    for x, y, long, _ in findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", svg):
        dark[int(y), int(x) : int(x) + int(long)] = 0
    found = zxingcpp.read_barcodes(np.kron(dark, np.ones((4, 4), np.uint8)), formats=zxingcpp.BarcodeFormat.QRCode)
    return [one.text for one in found]
