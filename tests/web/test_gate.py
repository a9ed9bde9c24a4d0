"""Who may ask, from where, what, and how much: each rule by itself, on a running server."""

from __future__ import annotations

import http.client
import socket

import httpx
import pytest

from web.running import Running

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
    "font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
ADDRESSES = ["/", "/api/positions", "/api/tables", "/openapi.json", "/client/modules/app.js",
             "/fonts/stunline-sans-regular-basic.woff2", "/nothing"]  # fmt: skip


def test_the_start_address_gives_a_strict_cookie_and_leads_to_a_clean_address(
    browser: httpx.Client, server: Running
) -> None:
    # Through another start: the fixture's browser has used this one's key already.
    with server.stranger() as stranger:
        again = stranger.get(server.start)
    assert again.status_code == 403
    assert "used before" in again.json()["error"]["faults"][0]["what"]
    known = browser.get(server.start)
    assert known.status_code == 303
    assert known.headers["location"] == "/"


@pytest.mark.parametrize("address", ["/start?key=other", "/"])
def test_a_browser_that_is_refused_gets_a_page_to_read(server: Running, address: str) -> None:
    asks = {"accept": "text/html,application/xhtml+xml,*/*;q=0.8"}  # as browsers do
    with server.stranger() as stranger:
        answer = stranger.get(address, headers=asks)
    assert answer.status_code == 403
    assert answer.headers["content-type"].startswith("text/html")
    assert answer.headers["content-security-policy"] == POLICY
    assert "run it again" in answer.text
    assert "{" not in answer.text


def test_the_cookie_is_http_only_and_strict(tmp_path_factory: pytest.TempPathFactory) -> None:
    from web.running import running

    with running(tmp_path_factory.mktemp("other")) as other, other.stranger() as client:
        cookie = client.get(other.start).headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie


@pytest.mark.parametrize("address", ADDRESSES)
def test_nothing_is_shown_without_the_cookie(server: Running, address: str) -> None:
    with server.stranger() as stranger:
        answer = stranger.get(address)
    assert answer.status_code == 403
    assert answer.headers["content-security-policy"] == POLICY
    assert "not known" in answer.json()["error"]["faults"][0]["what"]


@pytest.mark.parametrize("address", ADDRESSES)
def test_every_answer_carries_its_headers(browser: httpx.Client, address: str) -> None:
    answer = browser.get(address)
    assert answer.headers["content-security-policy"] == POLICY
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert "access-control-allow-origin" not in answer.headers
    assert answer.status_code == (404 if address == "/nothing" else 200)


@pytest.mark.parametrize("host", ["localhost:{port}", "example.org", "127.0.0.1", "127.0.0.1:1"])
def test_only_its_own_exact_host_is_answered(
    browser: httpx.Client, server: Running, host: str
) -> None:
    named = host.format(port=server.origin.rsplit(":", 1)[1])
    answer = browser.get("/", headers={"host": named})
    assert answer.status_code == 403
    assert "one address only" in answer.json()["error"]["faults"][0]["what"]


@pytest.mark.parametrize("origin", ["http://example.org", "null", "http://localhost:14147", ""])
def test_what_changes_something_must_come_from_the_page(browser: httpx.Client, origin: str) -> None:
    answer = browser.put("/api/page-state", json={"state": {}}, headers={"origin": origin})
    assert answer.status_code == 403


def test_what_changes_something_must_say_where_it_comes_from(server: Running) -> None:
    with server.stranger() as bare:
        del bare.headers["origin"]
        answer = bare.post("/api/read", json={"text": ""})
    assert answer.status_code == 403


@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""]
)
def test_only_json_is_taken(browser: httpx.Client, kind: str) -> None:
    answer = browser.post("/api/read", content=b'{"text": ""}', headers={"content-type": kind})
    assert answer.status_code == 415


def test_more_than_a_megabyte_is_not_read(browser: httpx.Client, server: Running) -> None:
    cookies = "; ".join(f"{name}={value}" for name, value in browser.cookies.items())
    connection = http.client.HTTPConnection(server.origin.removeprefix("http://"), timeout=20)
    connection.putrequest("POST", "/api/read")
    for name, value in {
        "origin": server.origin,
        "cookie": cookies,
        "content-type": "application/json",
        "content-length": "1000001",
    }.items():
        connection.putheader(name, value)
    connection.endheaders()  # and none of the body: the answer must not wait for it
    answer = connection.getresponse()
    assert answer.status == 413
    assert b"not read" in answer.read()
    connection.close()


def test_it_listens_on_this_computer_only(server: Running) -> None:
    port = int(server.origin.rsplit(":", 1)[1])
    own = [info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)]
    for address in {one for one in own if not str(one).startswith("127.")}:
        with socket.socket() as one:
            one.settimeout(2)
            assert one.connect_ex((str(address), port)) != 0


@pytest.mark.parametrize(
    "name",
    ["..%2Fsecret", "%2e%2e", "..", "a%2Fb", "a%5Cb", "%00", "con", ".hidden", "x" * 300, "%20"],
)
def test_no_name_leads_out_of_the_library(
    browser: httpx.Client, server: Running, name: str
) -> None:
    (server.folder.parent / "secret.toml").write_text('title = "secret"\n')
    document = {"table": "snooker-12ft", "balls": {"white": [400, 800]},
                "strike": {"aim": 90, "pace": 1}}  # fmt: skip
    read = browser.get(f"/api/positions/{name}")
    saved = browser.put(f"/api/positions/{name}", json={"document": document, "revision": None})
    for answer in (read, saved):
        assert answer.status_code < 500
        assert "secret" not in answer.text or "Traceback" not in answer.text
        assert 'title = "secret"' not in answer.text
    assert (server.folder.parent / "secret.toml").read_text() == 'title = "secret"\n'
    assert {one.name for one in server.folder.parent.iterdir()} >= {"secret.toml"}


def test_a_link_out_of_the_library_is_not_followed(browser: httpx.Client, server: Running) -> None:
    outside = server.folder.parent / "outside.toml"
    outside.write_text('table = "snooker-12ft"\n')
    (server.folder / "link.toml").symlink_to(outside)
    answer = browser.get("/api/positions/link")
    assert 400 <= answer.status_code < 500
    assert "snooker-12ft" not in answer.text
