"""Drives Firefox through WebDriver BiDi (W3C), which it speaks by itself: no driver besides it is needed."""

import json
import re
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from websockets.sync.client import ClientConnection, connect

PATIENCE = 60.0  # seconds, on a machine that does other work too
POINTER = {"type": "pointer", "id": "thumb", "parameters": {"pointerType": "touch"}}


class Firefox:
    """One window of a browser with a profile of its own."""

    def __init__(self, socket: ClientConnection) -> None:
        self._socket = socket
        self._count = 0
        self.complaints: list[str] = []
        self.send("session.new", capabilities={})
        self.send("session.subscribe", events=["log.entryAdded"])
        self._window = self.send("browsingContext.getTree")["contexts"][0]["context"]
        viewport = {"width": 360, "height": 640}
        self.send("browsingContext.setViewport", context=self._window, viewport=viewport)

    def send(self, method: str, **params: Any) -> dict[str, Any]:
        """Send a command and wait for its answer; events on the way are heard."""
        self._count += 1
        self._socket.send(json.dumps({"id": self._count, "method": method, "params": params}))
        while True:
            told = json.loads(self._socket.recv(timeout=PATIENCE))
            if told.get("id") == self._count:
                if told["type"] == "error":
                    raise RuntimeError(f"{method}: {told['error']} {told['message']}")
                result: dict[str, Any] = told["result"]
                return result
            if told.get("method") == "log.entryAdded" and told["params"]["level"] == "error":
                self.complaints.append(told["params"]["text"])

    def open(self, address: str) -> None:
        self.send("browsingContext.navigate", context=self._window, url=address, wait="complete")

    def ask(self, function: str, *given: Any) -> Any:
        """Run a function of the page; what it gives back as plain data."""
        call = f"(async () => JSON.stringify(await ({function})(...{json.dumps(given)})))()"
        told = self.send("script.evaluate", expression=call, target={"context": self._window}, awaitPromise=True)
        if told["type"] == "exception":
            raise RuntimeError(told["exceptionDetails"]["text"])
        return json.loads(told["result"].get("value", "null"))

    def until(self, function: str, *given: Any) -> Any:
        """Wait until a function of the page gives something true; on the way to another page it may well fail."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            with suppress(RuntimeError):
                if found := self.ask(function, *given):
                    return found
            time.sleep(0.1)
        raise TimeoutError(function)

    def text(self, selector: str) -> str:
        return str(self.ask("selector => document.querySelector(selector).innerText", selector))

    def tap(self, selector: str) -> None:
        """Touch the middle of an element, scrolled into sight."""
        middle = """selector => {
            const element = document.querySelector(selector);
            element.scrollIntoView({ block: "center", behavior: "instant" });
            const box = element.getBoundingClientRect();
            return [Math.round(box.x + box.width / 2), Math.round(box.y + box.height / 2)];
        }"""
        x, y = self.ask(middle, selector)
        moves = [
            {"type": "pointerMove", "x": x, "y": y},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        self.send("input.performActions", context=self._window, actions=[{**POINTER, "actions": moves}])

    def type(self, text: str) -> None:
        """Press keys one after the other."""
        keys = [{"type": kind, "value": letter} for letter in text for kind in ("keyDown", "keyUp")]
        actions = [{"type": "key", "id": "keys", "actions": keys}]
        self.send("input.performActions", context=self._window, actions=actions)


@contextmanager
def firefox(program: str, profile: Path) -> Iterator[Firefox]:
    """A browser without a window on the screen; it ends with the block."""
    profile.joinpath("user.js").write_text('user_pref("datareporting.policy.dataSubmissionEnabled", false);\n', "utf-8")
    command = [program, "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port", "0"]
    with subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True) as process:
        try:
            assert process.stderr is not None
            found = (re.search(r"BiDi listening on (ws://\S+)", line) for line in process.stderr)
            address = next(match[1] for match in found if match)
            with connect(f"{address}/session", max_size=None, open_timeout=PATIENCE) as socket:
                yield Firefox(socket)
        finally:
            process.kill()
