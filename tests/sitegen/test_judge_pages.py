"""The pages of the small sheets: what is asked first, what each verdict means, what is kept for the job."""

import re
from html import unescape

import pytest

from valvecalc.door import calc, find, load
from valvecalc.facts import load_toml
from valvecalc.formula import REGISTER
from valvecalc.meaning import meanings
from valvecalc.sitegen.card_page import card_page
from valvecalc.sitegen.pages import judge_index

load()
WORDS = load_toml("words/judge.toml")["doors"]
FIRST = [find(name) for name in WORDS["first"]]
CHECKS = {row["id"] for row in load_toml("faults/checks.toml")["checks"]}


def test_the_index_asks_what_was_measured_and_leads_to_every_sheet() -> None:
    sheets = [card for card in REGISTER.values() if card.kind == "sheet" and not card.part]
    page = judge_index(sheets)
    assert "# What did you measure?" in page
    doors = re.findall(r'href="page:judge/([\w-]+)\.md"', page)
    assert doors[: len(FIRST)] == WORDS["first"]
    assert sorted(doors) == sorted(card.id for card in sheets)
    assert page.index(f"## {WORDS['more']}") > page.index(f"judge/{doors[len(FIRST) - 1]}.md")


@pytest.mark.parametrize("card", FIRST, ids=lambda card: str(card.id))
def test_a_page_shows_the_meaning_of_every_verdict(card) -> None:
    page = unescape(card_page(card, {}, {}))
    listed = page.partition("## What each verdict means")[2].partition("\n## ")[0]
    for known in meanings(card).values():
        assert known["against"] in page
        for row in known["verdicts"].values():
            assert row["means"] in listed
        for side in ("low", "high") if known["sided"] else ():
            assert f'<span class="verdict reject">reject</span> too {side}' in listed
    links = re.findall(r'href="page:do/([\w-]+)\.md"', page)
    assert set(links) <= CHECKS and len(links) >= 5


@pytest.mark.parametrize("card", FIRST, ids=lambda card: str(card.id))
def test_the_worked_answer_says_what_can_hurt_before_the_next_step(card) -> None:
    page = unescape(card_page(card, {}, {}))
    body = page.partition('<div class="answer__body">')[2]
    at = 0
    for row in calc(card.id, **card.example).to_json()["meaning"]:
        at = body.index(row["means"], at)
        if row["next"]:
            at = body.index(row["next"]["caution"], at)
            at = body.index(f">{row['next']['title']}</a>", at)


def test_what_has_a_place_in_the_job_file_is_kept_with_one_button() -> None:
    for card in FIRST:
        page = unescape(card_page(card, {}, {}))
        keep = calc(card.id, **card.example).to_json().get("keep")
        assert ("data-keep" in page) == ("assets/keep-ui.js" in page) == (keep is not None)
        assert keep is None or f">{keep}</pre>" in page
    assert "data-keep" not in card_page(find("coil-check"), {}, {})
