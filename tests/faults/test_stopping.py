"""Asked to stop in the middle: what was begun is finished, and the rest is gone on with later."""

import json
import socket
import threading

import calling
import msgspec
import repricing_cases as cases
import serving
from running import Running, running
from serving import NewDatabase
from waiting import until

import examples

MANY = 400


def half_sent(service: Running, path: str, body: bytes) -> socket.socket:
    """A request of which the second half is yet to come."""
    connection = socket.create_connection(("127.0.0.1", service.port), timeout=60)
    head = (
        f"POST {path} HTTP/1.1\r\nHost: test\r\nContent-Type: application/json\r\n"
        f"Authorization: {calling.HEADERS['authorization']}\r\n"
        f"Content-Length: {len(body)}\r\n\r\n"
    )
    connection.sendall(head.encode() + body[: len(body) // 2])
    return connection


def answer_on(connection: socket.socket) -> tuple[int, bytes]:
    """Status and body, to the end of what is sent."""
    received = b"".join(iter(lambda: connection.recv(1 << 16), b""))
    head, _, content = received.partition(b"\r\n\r\n")
    return int(head.split(b" ")[1]), content


def body_of(operation: str) -> bytes:
    return msgspec.json.encode(examples.read(operation)[0].body)


def test_a_request_that_is_being_sent_is_answered_before_the_end(new_sqlite: NewDatabase) -> None:
    with new_sqlite(True, loaded=True) as url:
        with running(url) as service:
            body = body_of("createEstimate")
            with half_sent(service, "/v1/estimates", body) as connection:
                # the first half has been read by the time that a later request is answered
                assert service.client.get("/v1/health").status_code == 200
                service.ask_to_stop()
                until(lambda: not service.listening())
                connection.sendall(body[len(body) // 2 :])
                status, content = answer_on(connection)
            assert status == 201
            assert service.stopped() in (0, -15)
        with serving.client_of(url) as client:
            assert client.get(f"/v1/estimates/{json.loads(content)['id']}").status_code == 200


def test_a_client_that_stops_halfway_leaves_nothing_and_keeps_nobody(
    new_sqlite: NewDatabase,
) -> None:
    with new_sqlite(True, loaded=True) as url, running(url) as service:
        body = body_of("createEstimate")
        with half_sent(service, "/v1/estimates", body):
            created = service.client.post("/v1/estimates", json=json.loads(body))
            assert created.status_code == 201
        listed = service.client.get("/v1/estimates").json()["items"]
        assert [one["id"] for one in listed] == [created.json()["id"]]


def test_a_repricing_is_put_down_and_taken_up_again(new_database: NewDatabase) -> None:
    """Those who follow it are told to come again, not kept until it ends."""
    with new_database(True, loaded=True) as url:
        cases.make_many(url, MANY)
        cases.raise_prices(url)
        with running(url) as service:
            name, told = begin_and_follow(service)
        assert 0 < told < MANY
        with running(url) as service:
            path = f"/v1/repricings/{name}"
            until(lambda: service.client.get(path).json()["state"] == "done")
            assert service.client.get(path).json()["repriced"] == MANY
            headers = {"last-event-id": str(told)}
            rest = service.client.get(f"{path}/events", headers=headers).text
            assert rest.count("event: estimate") == MANY - told
            assert rest.count("event: end") == 1


def begin_and_follow(service: Running) -> tuple[str, int]:
    """The repricing, and how many of its estimates were told of before the service stopped."""
    body = {"note": "Dearer resin"}
    name = service.client.post("/v1/repricings", json=body).json()["id"]
    received: list[str] = []
    began = threading.Event()

    def follow() -> None:
        with service.client.stream("GET", f"/v1/repricings/{name}/events") as stream:
            for line in stream.iter_lines():
                received.append(line)
                if line == "event: progress":
                    began.set()

    following = threading.Thread(target=follow)
    following.start()
    assert began.wait(30)
    service.ask_to_stop()
    following.join(30)
    assert not following.is_alive()
    assert service.stopped() in (0, -15)
    assert "event: end" not in received
    return name, received.count("event: estimate")


def newest(service: Running) -> int:
    return int(service.client.get("/v1/catalogue").json()["revision"])


def test_two_services_share_one_database(new_database: NewDatabase) -> None:
    """What one of them changes the next request to the other finds; one of them does the work."""
    with new_database(True, loaded=True) as url, running(url) as one, running(url) as other:
        made = one.client.post("/v1/estimates", json=cases.request()).json()
        found = other.client.get(f"/v1/estimates/{made['id']}").json()
        assert found == made
        cases.raise_prices(url)
        assert (newest(one), newest(other)) == (2, 2)
        begun = other.client.post("/v1/repricings", json={"note": "Dearer resin"}).json()
        assert begun["catalogue_revision"] == 2
        path = f"/v1/repricings/{begun['id']}"
        until(lambda: one.client.get(path).json()["state"] == "done")
        assert one.client.get(path).json()["repriced"] == 1
        assert other.client.get(f"/v1/estimates/{made['id']}").json()["revision"] == 2


def test_another_service_takes_over_the_work_of_one_that_is_killed(
    new_database: NewDatabase,
) -> None:
    with new_database(True, loaded=True) as url:
        cases.make_many(url, MANY)
        cases.raise_prices(url)
        with running(url) as worker, running(url) as other:
            name = other.client.post("/v1/repricings", json={"note": "x"}).json()["id"]
            path = f"/v1/repricings/{name}"
            until(lambda: other.client.get(path).json()["done"] > 0)
            worker.kill()
            assert other.client.get(path).json()["done"] < MANY
            until(lambda: other.client.get(path).json()["state"] == "done")
            assert other.client.get(path).json()["repriced"] == MANY
