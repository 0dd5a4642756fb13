"""Files sent through the SDK."""

import httpx
import pytest
import serving
from calling import KEY
from plan_cases import by_hand, square
from serving import NewDatabase

from filmbuild_sdk import Call, Client, InvalidInput, models

BASE = "http://127.0.0.1"
ROOMS = by_hand(square(0, 0), square(9, 9))


class Line(httpx.BaseTransport):
    def __init__(self, service: httpx.Client) -> None:
        self._service = service

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        answer = self._service.send(request)
        return httpx.Response(answer.status_code, headers=answer.headers, content=answer.content)


def test_bytes_are_sent_as_they_are() -> None:
    call = Call("POST", "/v1/plans", dict, body=b"\x00{", media_type="image/png")
    assert call.content == b"\x00{"
    assert call.headers["content-type"] == "image/png"


def test_a_drawing_becomes_areas_that_go_into_a_site(new_sqlite: NewDatabase) -> None:
    with (
        serving.serving(new_sqlite) as service,
        Client(BASE, key=KEY, transport=Line(service), retries=None) as client,
    ):
        reading = client.read_plan(ROOMS, layers="floor")
        assert reading.unit == "m"
        areas = [models.SiteArea(id=one.id, outline=one.outline) for one in reading.areas]
        takeoff = client.takeoff(models.TakeoffRequest(units="si", site=models.Site(areas=areas)))
        assert takeoff.takeoff.totals.floor.value == 50
        with pytest.raises(InvalidInput) as caught:
            client.read_plan(b"<html>", layers="floor")
        (fault,) = caught.value.errors
        assert fault.code == "not-dxf"
