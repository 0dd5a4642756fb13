"""Areas of a site on their own: where the coating ran on into what is left out, it stops."""

import json
from typing import Any

import pytest
from takeoff_cases import box

from filmbuild.edge.decoding import decode
from filmbuild.errors import Fault, Faults
from filmbuild.pipeline.results import AreaTakeoff, Takeoff
from filmbuild.pipeline.scope import part_of
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off


def cut(*areas: dict[str, Any], left_out: str = "b", **site: Any) -> tuple[Takeoff, Takeoff]:
    """The whole site, and the site without one area."""
    body = {"areas": [*areas], **site}
    whole_site = decode(Site, json.dumps(body).encode())
    whole = take_off(whole_site, Faults().at("site"))
    part = part_of(whole_site, {left_out}, whole)
    return whole, take_off(part.site, Faults().at("site"))


def room(name: str, x: float, **rest: Any) -> dict[str, Any]:
    """4 m by 3 m; side 1 is the one away from the origin, side 3 the one near it."""
    return {"id": name, "outline": box(4, 3, x, 0), **rest}


def of(takeoff: Takeoff, name: str) -> AreaTakeoff:
    return next(one for one in takeoff.areas if one.id == name)


def test_a_joined_edge_becomes_an_open_one() -> None:
    joined = {"side": 1, "kind": "joined", "joins": "b", "offset": "0.5 m", "length": "2 m"}
    back = {"side": 3, "kind": "joined", "joins": "a", "offset": "0.5 m", "length": "2 m"}
    whole, part = cut(room("a", 0, edges=[joined]), room("b", 4, edges=[back]))
    assert (of(whole, "a").joined_length, of(whole, "a").open_length) == (2.0, 0.0)
    assert (of(part, "a").joined_length, of(part, "a").open_length) == (0.0, 2.0)
    assert of(part, "a").wall_length == of(whole, "a").wall_length
    assert of(part, "a").floor == of(whole, "a").floor


def test_floor_that_the_site_joins_ends_in_an_open_edge() -> None:
    whole, part = cut(room("a", 0), room("b", 4), joins=[{"between": ["a", "b"]}])
    assert of(whole, "a").joined_length == pytest.approx(3.0)
    assert of(part, "a").open_length == pytest.approx(3.0)
    assert of(part, "a").joined_length == 0.0
    assert of(part, "a").wall_length == pytest.approx(of(whole, "a").wall_length)


def test_a_doorway_stops_the_coating_from_whichever_room_it_was_given() -> None:
    door = {"width": "1 m", "offset": "1 m", "coating": "runs_through", "door": True}
    here = cut(room("a", 0, doorways=[{**door, "side": 1, "to": "b"}]), room("b", 4.1))
    there = cut(room("a", 0), room("b", 4.1, doorways=[{**door, "side": 3, "to": "a"}]))
    for whole, part in (here, there):
        assert of(whole, "a").joined_length == pytest.approx(1.0)
        assert of(part, "a").open_length == pytest.approx(1.0)
        (found,) = part.doorways
        assert (found.between, found.exit, found.coating) == (("a",), True, "stops")


def test_the_crew_leaves_over_floor_that_stays_bare() -> None:
    door = {"width": "1 m", "offset": "1 m", "coating": "stops", "door": True}
    out = {"side": 1, "kind": "open", "offset": "0 m", "length": "1 m", "exit": True}
    whole, part = cut(
        room("a", 0, doorways=[{**door, "side": 1, "to": "b"}]), room("b", 4.1, edges=[out])
    )
    assert whole.traffic is not None
    assert part.traffic is not None
    assert part.traffic.steps[0].crossings == 0


def test_what_comes_after_an_area_that_is_left_out_does_not_wait_for_it() -> None:
    whole, part = cut(room("a", 0, place_before=["b"]), room("b", 5))
    assert [one.placing_order for one in whole.areas] == [1, 2]
    assert [one.placing_order for one in part.areas] == [1]


def test_areas_that_are_not_beside_what_is_left_out_stay_as_they_are() -> None:
    out = {"side": 0, "kind": "open", "offset": "1 m", "length": "1 m"}
    whole, part = cut(room("a", 0, edges=[out]), room("b", 5), room("c", 10))
    assert of(part, "a") == of(whole, "a")
    assert of(part, "c").floor == of(whole, "c").floor


def test_faults_are_told_by_the_numbers_of_the_whole_site() -> None:
    body = {"areas": [room("a", 0), room("b", 5), room("c", 10)]}
    site = decode(Site, json.dumps(body).encode())
    part = part_of(site, {"b"}, take_off(site, Faults().at("site")))
    fault = Fault("/site/areas/1/edges/0/side", "no-such-side", "there is none")
    assert part.pointed(fault).pointer == "/site/areas/2/edges/0/side"
    for elsewhere in ("/job/system", "/site/substrate", "/site/areas", ""):
        assert part.pointed(Fault(elsewhere, "x", "y")).pointer == elsewhere
