"""Fixtures of several files: scripts of the pages in node."""

import json
from typing import Any

import pytest

from tests.live.door import DRIVER, SHOWN, Ask, Case
from tests.live.worked import Asked, Told, script
from tests.node import ask_node, need_node
from valvecalc.sitegen.calculators import calculator, card_script


def whole(text: str) -> int | float:
    """JavaScript writes a large float without its point; as an int of Python it would be another number."""
    return float(text) if abs(int(text)) > 2**53 else int(text)


@pytest.fixture(scope="module")
def ask(tmp_path_factory: pytest.TempPathFactory) -> Ask:
    """What the scripts of the pages answer, many cases in one node process."""
    need_node()
    folder = tmp_path_factory.mktemp("door")
    code = "\n".join(['const fs = require("fs");', calculator(), *map(card_script, SHOWN), DRIVER])

    def run(cases: list[Case]) -> list[Any]:
        asked = ([one.card.id, *one[1:]] for one in cases)
        return [json.loads(line, parse_int=whole) for line in ask_node(folder, code, asked)]

    return run


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """What JavaScript tells for many (card, values, system) in one node process."""
    need_node()
    folder = tmp_path_factory.mktemp("worked")

    def run(asked: list[Asked]) -> list[Any]:
        code = script(list({card.id: card for card, _, _ in asked}.values()))
        return [json.loads(line) for line in ask_node(folder, code, ([card.id, *rest] for card, *rest in asked))]

    return run
