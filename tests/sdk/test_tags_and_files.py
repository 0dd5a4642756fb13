"""Changes that name the version they are of, and answers that are no JSON."""

import asyncio

import httpx

from filmbuild_sdk import AsyncClient, Call, Client

BASE = "http://testserver.local"
TAG = '"7-5f0c1a52"'


def answering(request: httpx.Request) -> httpx.Response:
    if request.method == "DELETE":
        right = request.headers.get("if-match") == TAG
        return httpx.Response(204 if right else 412)
    if "pdf" in request.headers["accept"]:
        return httpx.Response(200, content=b"%PDF-\xff", headers={"etag": TAG})
    return httpx.Response(200, json={"id": "a"}, headers={"etag": TAG})


def test_the_tag_of_what_was_read_lets_it_be_changed() -> None:
    with Client(BASE, transport=httpx.MockTransport(answering)) as client:
        read = client.send_for_tag(Call("GET", "/v1/things/a", dict[str, str]))
        assert (read.value, read.tag) == ({"id": "a"}, TAG)
        client.send(Call("DELETE", "/v1/things/a", type(None), if_match=read.tag))


def test_a_file_is_answered_as_it_is() -> None:
    with Client(BASE, transport=httpx.MockTransport(answering)) as client:
        content = client.send(Call("GET", "/v1/things/a", bytes, accept="application/pdf"))
    assert content == b"%PDF-\xff"


def test_the_waiting_client_does_the_same() -> None:
    async def run() -> None:
        async with AsyncClient(BASE, transport=httpx.MockTransport(answering)) as client:
            read = await client.send_for_tag(Call("GET", "/v1/things/a", dict[str, str]))
            assert read.tag == TAG
            await client.send(Call("DELETE", "/v1/things/a", type(None), if_match=read.tag))

    asyncio.run(run())
