"""Bad lines, new pages and what the reader wants of the store."""

import json
import shutil
from pathlib import Path

from playwright.sync_api import Browser, expect

from tests.browser.conftest import FLAGS
from tests.browser.reception import BELOW, FRESH, SOON, STORED, Phone, Serve, says, update

# ---- lines that fail ----------------------------------------------------------------------------------------------


def test_one_failing_file_loses_no_other(phone: Phone, serve: Serve, built_site: Path) -> None:
    """A page that fails, and one that a guest network answers with its sign-in page; both come at the next visit."""
    host = serve(built_site)
    host.broken = {"learn/": 500, "checked/": b"<title>Guest network: sign in</title>"}
    phone.visit(host.start, "Stored 99 %")
    assert not [url for url in phone.stored() if "/learn/index" in url or "/checked/index" in url]
    host.broken = {}
    host.asked.clear()
    phone.visit(host.start)
    assert sorted(path for path in host.asked if path != "sw.js") == ["checked/", "learn/"]


def test_a_page_that_is_not_stored_yet_is_told(phone: Phone, serve: Serve, built_site: Path) -> None:
    """Not as an address that leads nowhere: it is there, but not on this device."""
    host = serve(built_site)
    host.broken = {"do/readings/": 500}
    phone.visit(host.start, "Stored 99 %")
    host.end()
    answer = phone.page.goto(f"{host.start}do/readings/")
    assert answer is not None and answer.status == 503
    expect(phone.page.locator(".offline__means")).to_contain_text("Not all of it came", timeout=SOON)
    phone.page.locator(".strip__hurt").tap()
    expect(phone.page.locator("h1")).to_have_text("Hurt or jet? What to do")


def test_two_sites_of_one_host_keep_apart(phone: Phone, serve: Serve, built_site: Path, tmp_path: Path) -> None:
    host = serve(built_site)
    phone.visit(host.start)
    assert {url.split(BELOW)[0] + BELOW for url in phone.stored()} == {host.start}
    names = phone.page.evaluate("caches.keys()")
    assert names == [f"valvecalc {host.start}"]
    assert phone.page.evaluate("navigator.serviceWorker.controller.scriptURL") == f"{host.start}sw.js"


# ---- new pages ----------------------------------------------------------------------------------------------------


def test_an_update_moves_what_changed_and_waits_for_the_tap(phone: Phone, serve: Serve, copy: Path) -> None:
    host = serve(copy)
    phone.visit(host.start)
    before = phone.stored()
    update(copy, "learn", "A line of the next version")
    host.asked.clear()
    phone.visit(f"{host.start}offline/", FRESH)
    # The browser may look for a new worker by itself besides.
    assert set(host.asked) == {"learn/", "sw.js"} and host.asked.count("learn/") == 1
    phone.visit(f"{host.start}learn/", FRESH)
    assert not phone.page.get_by_text("A line of the next version").count()

    phone.page.locator(".strip__offline").tap()
    load = phone.page.get_by_role("button", name="Load the new pages")
    load.tap()
    says(phone.page, STORED)
    expect(phone.page.locator(".offline__facts")).to_contain_text("the next version", timeout=SOON)
    expect(load).to_be_hidden()
    phone.visit(f"{host.start}learn/")
    expect(phone.page.get_by_text("A line of the next version")).to_be_visible()
    after = phone.stored()
    assert len(after) == len(before) and len(set(after) - set(before)) == 1  # the old page is gone
    assert host.asked.count("learn/") == 1
    assert phone.complaints == []


def test_no_page_changes_over_while_it_is_edited(phone: Phone, serve: Serve, copy: Path) -> None:
    """Another window of the browser loads the new pages; the one with an entry under the finger waits."""
    host = serve(copy)
    phone.visit(host.start)
    edited = phone.window()
    edited.goto(f"{host.start}calc/annular-leakage/")
    entry = edited.locator(".calculator input[name=clearance]")
    entry.fill("7")
    edited.evaluate("window.sameAsBefore = true")
    update(copy, "learn", "A line of the next version")
    phone.visit(f"{host.start}offline/", FRESH)
    phone.page.get_by_role("button", name="Load the new pages").tap()
    says(phone.page, STORED)
    edited.bring_to_front()
    edited.wait_for_timeout(3000)
    assert edited.evaluate("window.sameAsBefore") is True
    expect(entry).to_have_value("7")
    with edited.expect_navigation(timeout=SOON):
        entry.blur()
    expect(entry).to_have_value("7")  # from the address
    assert phone.complaints == []


def test_an_update_that_breaks_off_changes_nothing(phone: Phone, serve: Serve, copy: Path) -> None:
    host = serve(copy)
    phone.visit(host.start)
    before = phone.stored()
    update(copy, "learn", "A line of the next version")
    update(copy, "size", "Another line of the next version")
    host.broken = {"size/": 500}
    host.asked.clear()
    phone.page.goto(f"{host.start}offline/")
    phone.page.wait_for_timeout(2500)
    assert {"sw.js", "learn/", "size/"} <= set(host.asked)
    assert set(before) <= set(phone.stored())
    says(phone.page, STORED)

    host.broken = {}
    host.asked.clear()
    phone.page.get_by_role("button", name="Look for new pages").tap()
    says(phone.page, FRESH)
    assert sorted(host.asked) == ["size/", "sw.js"]  # what had come is not asked for again


# ---- the reader's wish --------------------------------------------------------------------------------------------


def test_stored_pages_can_be_removed_and_stored_again(phone: Phone, serve: Serve, built_site: Path) -> None:
    host = serve(built_site)
    phone.visit(f"{host.start}offline/")
    phone.page.get_by_role("button", name="Remove the stored pages").tap()
    says(phone.page, "Not stored")
    assert phone.stored() == []
    phone.visit(f"{host.start}hurt/", "Not stored")
    phone.page.wait_for_timeout(1000)
    assert phone.stored() == []
    phone.visit(f"{host.start}offline/", "Not stored")
    phone.page.get_by_role("button", name="Store these pages").tap()
    says(phone.page, STORED)
    assert phone.complaints == []


def test_over_plain_http_nothing_is_stored_and_all_else_works(browser: Browser, serve: Serve, built_site: Path) -> None:
    """A shop's own net without a certificate is no secure context."""
    host = serve(built_site)
    chromium = browser.browser_type.launch(
        executable_path=shutil.which("chromium"), args=[*FLAGS, "--host-resolver-rules=MAP shop.test 127.0.0.1"]
    )
    try:
        phone = Phone(chromium.new_context(viewport={"width": 360, "height": 640}, has_touch=True))
        phone.visit(f"http://shop.test:{host.port}{BELOW}offline/", "Not stored")
        expect(phone.page.locator(".offline__means")).to_contain_text("plain http")
        phone.page.goto(f"http://shop.test:{host.port}{BELOW}fault/coil-burns/#ask")
        expect(phone.page.locator(".finder h2").first).to_contain_text("Next check")
        assert phone.complaints == []
    finally:
        chromium.close()


def test_it_goes_on_the_home_screen(served: str, built_site: Path, browser: Browser) -> None:
    """Chromium reads the manifest without a complaint, and every file and page that it names is there."""
    manifest = json.loads((built_site / "manifest.webmanifest").read_text("utf-8"))
    for icon in manifest["icons"]:
        head = (built_site / icon["src"]).read_bytes()[:24]
        width, height = (int.from_bytes(head[at : at + 4], "big") for at in (16, 20))
        assert f"{width}x{height}" == icon["sizes"]
    for place in (*(shortcut["url"] for shortcut in manifest["shortcuts"]), manifest["start_url"]):
        assert (built_site / place / "index.html").is_file(), place
    page = browser.new_page()
    page.goto(served)
    told = page.context.new_cdp_session(page).send("Page.getAppManifest")
    assert told["errors"] == [] and told["url"] == f"{served}manifest.webmanifest"
    page.close()
