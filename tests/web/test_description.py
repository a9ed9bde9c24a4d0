"""Everything that the server's own description allows, tried by a general-purpose tool."""

from __future__ import annotations

import json
from typing import Any

import httpx
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from web.running import Running

EXAMPLES = 25  # of each operation


def test_no_request_that_the_description_allows_breaks_the_server(
    browser: httpx.Client, server: Running
) -> None:
    description: dict[str, Any] = browser.get("/openapi.json").json()
    schema = schemathesis.openapi.from_dict(description)
    tried, codes = [], set()
    for found in schema.get_all_operations():
        operation = found.ok()

        @given(case=operation.as_strategy())
        @settings(
            max_examples=EXAMPLES,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        def sends(case: Any) -> None:
            asked = case.as_transport_kwargs(base_url=server.origin)
            answer = browser.request(
                asked["method"],
                asked["url"],
                params=asked.get("params"),
                json=asked.get("json"),
            )
            assert answer.status_code < 500, (case, answer.text[:500])
            codes.add(answer.status_code)

        sends()
        tried.append(operation.label)
    assert len(tried) >= 15
    assert {200, 404, 422} <= codes  # both sides of the description were reached


LEAVES = (
    st.none() | st.booleans() | st.text(max_size=20) | st.integers() | st.floats(allow_nan=False)
)
ANY_JSON = st.recursive(
    LEAVES,
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=10), inner, max_size=4)
    ),
)


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(body=ANY_JSON.filter(lambda one: one not in (float("inf"), float("-inf"))))
def test_any_json_as_a_document_is_answered(body: object, browser: httpx.Client) -> None:
    content = json.dumps({"document": body}).encode()
    answer = browser.post(
        "/api/read", content=content, headers={"content-type": "application/json"}
    )
    assert answer.status_code in (200, 422)
    assert json.loads(answer.text)
