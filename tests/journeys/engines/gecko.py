"""Debian's Firefox over WebDriver BiDi. Source of the commands: W3C, WebDriver BiDi."""

from __future__ import annotations

import itertools
import json
import re
import subprocess
from contextlib import ExitStack
from pathlib import Path
from typing import Any

from websockets.sync.client import ClientConnection, connect

from tests.journeys.engines.engine import FIND, PATIENCE_S, PHONE

LISTENING = re.compile(r"WebDriver BiDi listening on (ws://\S+)")
ENTER_KEYS = 'const [element] = args; element.scrollIntoView({ block: "center" }); element.focus(); element.select?.();'


class Refused(Exception):
    """The browser could not do what it was asked."""


class Gecko:
    """One Firefox on one profile folder."""

    name = "Firefox"

    def __init__(self, program: str, profile: Path) -> None:
        self._program, self._profile = program, profile
        profile.mkdir(exist_ok=True)
        self._numbers = itertools.count(1)
        self._start()

    def _start(self) -> None:
        self._process = subprocess.Popen(
            [
                self._program,
                "--headless",
                "--remote-debugging-port",
                "0",
                "--profile",
                str(self._profile),
                "--no-remote",
            ],
            stderr=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            text=True,
        )
        assert self._process.stderr is not None
        address = next(found[1] for line in self._process.stderr if (found := LISTENING.search(line)))
        self._connected = ExitStack()
        self._socket: ClientConnection = self._connected.enter_context(
            connect(f"{address}/session", max_size=None)
        )
        self._ask("session.new", capabilities={})
        self._tab = self._ask("browsingContext.getTree")["contexts"][0]["context"]
        self._ask("browsingContext.setViewport", context=self._tab, viewport=PHONE)

    def _ask(self, method: str, **parameters: Any) -> Any:
        number = next(self._numbers)
        self._socket.send(json.dumps({"id": number, "method": method, "params": parameters}))
        while True:
            answer = json.loads(self._socket.recv(timeout=3 * PATIENCE_S))
            if answer.get("id") == number:
                if answer["type"] != "success":
                    raise Refused(f"{method}: {answer['error']}: {answer['message']}")
                return answer["result"]

    def go(self, address: str) -> None:
        self._ask("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def run(self, script: str, *values: Any) -> Any:
        body = f"(async (args) => {{ {script} }})(JSON.parse(values)).then((value) => JSON.stringify(value ?? null))"
        answer = self._call(f"(values) => {body}", {"type": "string", "value": json.dumps(values)})
        return json.loads(answer["value"])

    def _call(self, function: str, *arguments: dict[str, Any]) -> Any:
        answer = self._ask(
            "script.callFunction",
            functionDeclaration=function,
            arguments=list(arguments),
            awaitPromise=True,
            target={"context": self._tab},
            userActivation=True,
        )
        assert answer["type"] == "success", answer
        return answer["result"]

    def _find(self, sort: str, words: str, within: str = "") -> dict[str, Any]:
        look = f"""async (values) => {{
            const args = JSON.parse(values);
            const find = () => {{ {FIND} }};
            for (const end = Date.now() + {PATIENCE_S * 1000:.0f}; Date.now() < end; ) {{
                const found = find();
                if (found) return found;
                await new Promise(requestAnimationFrame);
            }}
            const began = Date.now();
            const storage = await Promise.race([
                new Promise((ended) => {{ indexedDB.open("intake").onsuccess = () => ended("answers"); }}),
                new Promise((ended) => setTimeout(ended, 5000, "does not answer")),
            ]);
            throw new Error(`no ${{args}} in: ${{document.body.innerText}} (at ${{location.href}},
                ${{document.visibilityState}}; the storage ${{storage}} after ${{Date.now() - began}} ms)`);
        }}"""
        found = self._call(look, {"type": "string", "value": json.dumps([sort, words, within])})
        return {"sharedId": found["sharedId"]}

    def press(self, words: str, within: str = "") -> None:
        # Pressed by the page itself: the bar at the thumb may lie over a control that is scrolled to the lower edge.
        self._call("(element) => element.click()", self._find("press", words, within))

    def type(self, label: str, text: str) -> None:
        element = self._find("label", label)
        self._call(f"(...args) => {{ {ENTER_KEYS} }}", element)
        keys = [{"type": sort, "value": sign} for sign in text for sort in ("keyDown", "keyUp")]
        self._act("key", keys)

    def _act(self, sort: str, actions: list[dict[str, Any]]) -> None:
        source = {"type": sort, "id": sort, "actions": actions}
        self._ask("input.performActions", context=self._tab, actions=[source])

    def choose_file(self, label: str, file: Path) -> None:
        element = self._find("label", label)
        self._ask("input.setFiles", context=self._tab, element=element, files=[str(file)])

    def restart(self) -> None:
        self.close()
        self._start()

    def close(self) -> None:
        self._ask("browser.close")
        self._connected.close()
        self._process.wait(PATIENCE_S)
