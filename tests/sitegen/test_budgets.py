"""Bytes and requests of a first view, on every page; what a phone keeps of the whole site."""

from pathlib import Path

from tests.sitegen import budgets


def test_every_first_view_keeps_its_budget(built_site: Path) -> None:
    print("\n" + budgets.table(built_site))
    views = budgets.first_views(built_site)
    assert len(views) > 250 and any(view.maths for view in views)
    assert [f"{view.page}: {view.size} > {view.most}" for view in views if view.size > view.most] == []


def test_a_first_view_asks_for_few_files_and_for_none_elsewhere(built_site: Path) -> None:
    views = budgets.first_views(built_site)
    assert {view.page: view.files for view in views if len(view.files) > budgets.REQUESTS} == {}
    assert {view.page: view.elsewhere for view in views if view.elsewhere} == {}


def test_the_font_keeps_its_budget(built_site: Path) -> None:
    assert budgets.packed(built_site / budgets.FONT_FILE) <= budgets.FONT


def test_the_whole_site_fits_a_phone_with_a_bad_line(built_site: Path) -> None:
    size, pages = budgets.stored_by_page(built_site)
    assert size / pages <= budgets.A_PAGE
