"""A process that reads one drawing: `python -m filmbuild.plans.child CHOSEN < FILE`.

It limits itself before it looks at the file, so that a drawing made to exhaust a reader ends here.
It writes a reading or a refusal, as JSON, and nothing else.
"""

import os
import resource
import sys

import msgspec

from filmbuild.errors import Refusal
from filmbuild.plans.outcome import Asked, Outcome
from filmbuild.plans.scan import LARGEST_FILE, check_kind, check_size

MOST_MEMORY = 2 << 30
"""[byte] Of address space; a drawing of the largest size that is read takes a quarter of it."""
MOST_SECONDS = 40
"""[s] Of processor time."""


def limit() -> None:
    # numpy's library would set aside memory for a thread on each of the machine's processors
    os.putenv("OPENBLAS_NUM_THREADS", "1")
    for kind, most in (
        (resource.RLIMIT_AS, MOST_MEMORY),
        (resource.RLIMIT_CPU, MOST_SECONDS),
        (resource.RLIMIT_CORE, 0),
    ):
        _, hard = resource.getrlimit(kind)
        allowed = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(kind, (allowed, allowed))


def outcome(content: bytes, asked: Asked) -> Outcome:
    try:
        check_kind(content)
        check_size(content)
        # half a second to import, which rubbish need not wait for
        from filmbuild.plans.areas import Chosen, reading_of  # noqa: PLC0415 - as said
        from filmbuild.plans.drawing import read_drawing  # noqa: PLC0415 - as said
        from filmbuild.plans.units import scale_of  # noqa: PLC0415 - as said

        drawing = read_drawing(content)
        scale = scale_of(drawing.unit_code, asked.unit)
        chosen = Chosen(layers=asked.layers, islands=asked.islands, names=asked.names)
        return Outcome(reading=reading_of(drawing, scale, chosen))
    except Refusal as refusal:
        return Outcome(code=refusal.code, detail=refusal.detail)
    except (MemoryError, RecursionError):
        return Outcome(code="plan-too-large", detail="")


def main() -> None:
    limit()
    asked = msgspec.json.decode(sys.argv[1], type=Asked)
    content = sys.stdin.buffer.read(LARGEST_FILE + 1)
    sys.stdout.buffer.write(msgspec.json.encode(outcome(content, asked)))


if __name__ == "__main__":
    main()
