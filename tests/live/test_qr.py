"""The QR code of a link: drawn by assets/qr.js in node, read back by an independent decoder."""

import hashlib
import json
import random
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy
import pytest
import zxingcpp

from tests.node import ask_node, need_node

ROOT = Path(__file__).parent.parent.parent
SCRIPT = ROOT / "site/pages/assets/qr.js"
QUIET = 4
# The script makes elements; this writes them out as text.
STAND_IN = """
const shop = {};
const made = (name) => ({
  name, own: [], inside: [], style: {},
  setAttribute(key, value) { this.own.push([key, value]); },
  append(...parts) { this.inside.push(...parts); },
  text() {
    const own = this.own.map(([key, value]) => ` ${key}="${value}"`).join("");
    return `<${this.name}${own}>${this.inside.map((each) => each.text()).join("")}</${this.name}>`;
  },
});
const document = { createElementNS: (space, name) => made(name) };
"""
DRIVER = """
const fs = require("fs");
const texts = JSON.parse(fs.readFileSync(process.argv[2], "utf8"));
const drawn = texts.map((text) => { const code = shop.qr(text); return code && [code.text(), code.style.width]; });
fs.writeFileSync(process.argv[3], JSON.stringify(drawn));
"""

Draw = Callable[[list[str]], list[Any]]


@pytest.fixture(scope="module")
def draw(tmp_path_factory: pytest.TempPathFactory) -> Draw:
    """The SVG texts and widths of the codes of many texts; None for one that is too long."""
    need_node()
    folder = tmp_path_factory.mktemp("qr")

    def run(texts: list[str]) -> list[Any]:
        code = "\n".join([STAND_IN, SCRIPT.read_text("utf-8"), DRIVER])
        (line,) = ask_node(folder, code, [texts])
        drawn: list[Any] = json.loads(line)
        return drawn

    return run


def picture(svg: str) -> Any:
    """The drawing as pixels, three for a module; each run of the path must be one row high."""
    root = ElementTree.fromstring(svg)
    size = int(root.attrib["viewBox"].split()[2])
    white, dark = list(root)
    assert (white.attrib["width"], white.attrib["fill"], dark.attrib["fill"]) == (str(size), "#fff", "#000")
    pixels = numpy.full((size, size), 255, dtype=numpy.uint8)
    path = dark.attrib["d"]
    runs = re.findall(r"M(\d+) (\d+)h(\d+)v1h-\3z", path)
    assert len(runs) == path.count("M")
    for x, y, length in (map(int, run) for run in runs):
        pixels[y, x : x + length] = 0
    return numpy.kron(pixels, numpy.ones((3, 3), dtype=numpy.uint8))


def read(svg: str) -> tuple[str, str]:
    """What a decoder that knows nothing of the encoder reads: the text, and the level of error correction."""
    found = zxingcpp.read_barcodes(
        picture(svg), formats=zxingcpp.BarcodeFormat.QRCode, text_mode=zxingcpp.TextMode.Plain
    )
    assert len(found) == 1
    return found[0].text, found[0].ec_level


def link(dice: random.Random) -> str:
    """The address of a calculation with its entries, as answer_json.link makes them."""
    entries = "&".join(f"entry_{place}={dice.randrange(10**5)}%C2%B5m" for place in range(dice.randrange(1, 30)))
    return f"https://shop.example/calc/annular-leakage/#e={dice.randrange(1, 9)}&{entries}"


def test_codes_read_back_to_their_text(draw: Draw) -> None:
    dice = random.Random(3)
    letters = "0123456789 ABCZ$%*+-./:abcz#&=;|_~µ²°·ΩäßЖ€漢字ｶ😎\n\x00"
    texts = [link(dice) for _ in range(40)]
    texts += [
        "1",
        "0" * 500,
        "HTTPS://SHOP.EXAMPLE/",
        "5 µm ± 0,5 µm",
        "Ölstand; 40 °C",
        "漢字カナ",
        "😎" * 20,
        "a\tb\r\n",
    ]
    texts += ["".join(dice.choices(letters, k=dice.randrange(1, 300))) for _ in range(60)]
    texts += ["".join(dice.choices("abcxyz0189%&=", k=length)) for length in range(1, 1100, 45)]
    drawn = draw(texts)
    levels = set()
    for text, (svg, _) in zip(texts, drawn, strict=True):
        told, level = read(svg)
        assert told == text
        levels.add(level)
    assert levels <= {"M", "Q", "H"}
    assert "M" in levels


def test_a_damaged_code_is_still_read(draw: Draw) -> None:
    """What level M is for: a smear over a tenth of the symbol."""
    ((svg, _),) = draw(["https://shop.example/calc/annular-leakage/#e=1&clearance=5%C2%B5m&diameter=12mm"])
    pixels = picture(svg)
    middle, smear = len(pixels) // 2, len(pixels) // 12
    pixels[middle - smear : middle + smear, middle - smear : middle + smear] = 0
    assert [one.text[:20] for one in zxingcpp.read_barcodes(pixels)] == ["https://shop.example"]


def test_too_long_is_told_and_not_cut(draw: Draw) -> None:
    short, long = draw(["https://shop.example/#" + "x" * 1000, "x" * 1200])
    assert short is not None
    assert long is None


def test_a_module_is_at_least_two_css_pixels(draw: Draw) -> None:
    for svg, width in draw(["1", "x" * 300, "x" * 1000]):
        size = int(ElementTree.fromstring(svg).attrib["viewBox"].split()[2])
        assert float(width.removesuffix("rem")) * 16 / size >= 2


def test_the_encoder_is_the_one_of_the_package() -> None:
    text = SCRIPT.read_text("utf-8")
    (told,) = re.findall(r"sha256 is ([0-9a-f]{64})", text)
    assert told in {hashlib.sha256(f"{line}\n".encode()).hexdigest() for line in text.split("\n")}
    assert "MIT License" in (SCRIPT.parent / "qr-licence.txt").read_text("utf-8")
