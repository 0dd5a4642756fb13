"""Has drawings read in processes of their own, a few at a time and each for a limited time."""

import asyncio
import sys

import msgspec

from filmbuild.errors import Fault, InvalidInput, Refusal, Unavailable
from filmbuild.plans.outcome import Asked, Outcome
from filmbuild.plans.scan import check_kind
from filmbuild.plans.wire import PlanQuery, PlanReading

AT_ONCE = 2
MOST_WAITING = 8
SECONDS = 60.0
_TOO_HEAVY = (
    "reading the drawing takes more time or memory than is given to one; save the layers of the "
    "floor to a drawing of their own"
)
_PARAMETERS = {
    "unknown-layer": "/layers",
    "unknown-islands-layer": "/islands_layer",
    "unknown-names-layer": "/names_layer",
    "missing-unit": "/unit",
    "unknown-unit": "/unit",
    "unit-contradicts-drawing": "/unit",
}


class PlanReader:
    """One for each application."""

    def __init__(self) -> None:
        self._places = asyncio.Semaphore(AT_ONCE)
        self._waiting = 0

    async def read(self, content: bytes, query: PlanQuery) -> PlanReading:
        """Raises InvalidInput for what is no drawing or too large a one, and Unavailable."""
        try:
            check_kind(content)
        except Refusal as refusal:
            raise _refused(refusal.code, refusal.detail) from refusal
        if self._waiting >= MOST_WAITING:
            raise Unavailable("Other drawings are being read; send this one again in a minute.")
        self._waiting += 1
        try:
            async with self._places:
                found = await _in_child(content, _asked(query))
        finally:
            self._waiting -= 1
        if found.reading is None:
            raise _refused(found.code or "plan-too-large", found.detail or _TOO_HEAVY)
        return found.reading


def _asked(query: PlanQuery) -> Asked:
    layers = None if query.layers is None else tuple(query.layers.split(","))
    return Asked(
        layers=layers, islands=query.islands_layer, names=query.names_layer, unit=query.unit
    )


async def _in_child(content: bytes, asked: Asked) -> Outcome:
    """An outcome that says nothing where the process came to an end without one."""
    process = await asyncio.create_subprocess_exec(
        sys.executable,
        "-m",
        "filmbuild.plans.child",
        msgspec.json.encode(asked).decode(),
        stdin=asyncio.subprocess.PIPE,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.DEVNULL,
    )
    try:
        written, _ = await asyncio.wait_for(process.communicate(content), SECONDS)
    except TimeoutError:
        return Outcome()
    finally:
        if process.returncode is None:
            process.kill()
            await process.wait()
    if process.returncode:
        return Outcome()
    return msgspec.json.decode(written, type=Outcome)


def _refused(code: str, detail: str) -> InvalidInput:
    fault = Fault(_PARAMETERS.get(code, ""), code, detail)
    return InvalidInput("The drawing is not read.", (fault,))
