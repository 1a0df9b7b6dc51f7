"""The printed module in a browser: every worked example gives the figure that Python gives."""

import math

from playwright.sync_api import Browser

from valvecalc.door import calc, load
from valvecalc.formula import REGISTER
from valvecalc.printing.javascript import module_text

RUN = "asked => asked.map(([id, given]) => valvecalc.run(id, given))"


def test_every_example_gives_the_same_in_chromium(browser: Browser) -> None:
    """Loaded as a classic script, as the page loads it; 1e-12 of the result, words letter by letter."""
    load()
    answers = [calc(card.id, **card.example) for card in REGISTER.values() if card.example and not card.rows]
    asked = [[answer.card.id, {name: entry.si for name, entry in answer.entries.items()}] for answer in answers]
    page = browser.new_page()
    page.add_script_tag(content=module_text(REGISTER.values()))
    told = page.evaluate(RUN, asked)
    page.close()
    assert len(told) == len(answers) > 40
    for answer, theirs in zip(answers, told, strict=True):
        found = {answer.card.result: theirs} if answer.card.kind == "formula" else theirs
        for name, ours in answer.results.items():
            if isinstance(ours, float):
                assert math.isclose(found[name], ours, rel_tol=1e-12), (answer.card.id, name)
            elif isinstance(ours, str):
                assert found[name] == ours
