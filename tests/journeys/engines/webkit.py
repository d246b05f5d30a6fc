"""Debian's WebKitGTK, its own small browser over WebDriver, on a screen of its own."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

from selenium.common.exceptions import StaleElementReferenceException, WebDriverException
from selenium.webdriver import WebKitGTK, WebKitGTKOptions
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait
from selenium.webdriver.webkitgtk.service import Service

from tests.journeys.engines.engine import FIND, LOOK_EVERY_S, PATIENCE_S, patiently

BROWSERS = "/usr/lib/*/webkit2gtk-4*/MiniBrowser"


class Screen:
    """An X server that shows nothing, with a number that it chose itself; Source: Xvfb(1), Xserver(1)."""

    def __init__(self) -> None:
        read, write = os.pipe()
        self._process = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", "1024x900x24", "-nolisten", "tcp"],
            pass_fds=[write],
            stderr=subprocess.DEVNULL,
        )
        os.close(write)
        with os.fdopen(read) as numbers:
            self.name = f":{numbers.readline().strip()}"

    def close(self) -> None:
        self._process.terminate()
        self._process.wait(PATIENCE_S)


class WebKit:
    """One MiniBrowser. It keeps nothing beyond its own end, so that restarting is a new tab in place of the old."""

    name = "WebKit"

    def __init__(self, program: str, screen: Screen) -> None:
        options = WebKitGTKOptions()
        options.binary_location = program
        options.add_argument("--automation")
        service = Service(shutil.which("WebKitWebDriver"), env={**os.environ, "DISPLAY": screen.name})
        self._driver = WebKitGTK(options=options, service=service)
        self._driver.set_script_timeout(3 * PATIENCE_S)

    def go(self, address: str) -> None:
        self._driver.get(address)

    def run(self, script: str, *values: Any) -> Any:
        body = f"""const [values, done] = arguments;
            (async (args) => {{ {script} }})(JSON.parse(values)).then(
                (value) => done({{ value: JSON.stringify(value ?? null) }}),
                (error) => done({{ error: String(error) }}));"""
        answer = self._driver.execute_async_script(body, json.dumps(values))
        assert "error" not in answer, answer
        return json.loads(answer["value"])

    def _find(self, sort: str, words: str, within: str = "") -> WebElement:
        script = f"const args = arguments; {FIND}"
        # A page that is being drawn anew may drop an element before the driver has a handle of it.
        wait: WebDriverWait[WebKitGTK] = WebDriverWait(
            self._driver, PATIENCE_S, LOOK_EVERY_S, [StaleElementReferenceException]
        )
        found: WebElement = wait.until(
            lambda driver: driver.execute_script(script, sort, words, within),
            f"no {sort} {words}",
        )
        return found

    def press(self, words: str, within: str = "") -> None:
        # Pressed by the page itself: the bar at the thumb may lie over a control that is scrolled to the lower edge.
        self._driver.execute_script("arguments[0].click();", self._find("press", words, within))

    def type(self, label: str, text: str) -> None:
        def enter() -> None:
            control = self._find("label", label)
            control.clear()
            control.send_keys(text)

        patiently(enter, WebDriverException)

    def choose_file(self, label: str, file: Path) -> None:
        self._find("label", label).send_keys(str(file))

    def restart(self) -> None:
        before = self._driver.current_window_handle
        self._driver.switch_to.new_window("tab")
        after = self._driver.current_window_handle
        self._driver.switch_to.window(before)
        self._driver.close()
        self._driver.switch_to.window(after)

    def close(self) -> None:
        self._driver.quit()
