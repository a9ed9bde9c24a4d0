"""Jobs of the page, begun and followed over HTTP as the page does; and what is done at once."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import Any

import httpx

Document = dict[str, Any]
ENDS = 180.0  # longest wait for a job [s]


def begun(browser: httpx.Client, address: str, document: Document) -> str:
    """The number of the job."""
    answer = browser.post(address, json={"document": document})
    assert answer.status_code == 200, answer.text
    number: str = answer.json()["job"]
    return number


def answered(browser: httpx.Client, address: str, document: Document) -> httpx.Response:
    """What is done at once, or said; asked again while the engine is being loaded."""
    ends = time.monotonic() + ENDS
    while time.monotonic() < ends:
        answer = browser.post(address, json={"document": document})
        if answer.status_code != 409:
            return answer
        time.sleep(0.05)
    raise AssertionError("the engine was not loaded")


def followed(browser: httpx.Client, number: str) -> Iterator[Document]:
    """What the job says, until it has ended."""
    ends = time.monotonic() + ENDS
    while time.monotonic() < ends:
        job = browser.get(f"/api/jobs/{number}").json()
        yield job
        if job["state"] not in ("waiting", "running"):
            return
        time.sleep(0.02)
    raise AssertionError("the job did not end")


def ended(browser: httpx.Client, address: str, document: Document) -> Document:
    """What the job says at its end."""
    *_, last = followed(browser, begun(browser, address, document))
    return last
