"""The operation that reads a drawing."""

from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, Operation
from filmbuild.plans.reading import PlanReader
from filmbuild.plans.scan import LARGEST_FILE
from filmbuild.plans.wire import PlanQuery, PlanReading

DXF = ("image/vnd.dxf", "application/dxf")


def plan_operations() -> tuple[AnyOperation, ...]:
    """Nothing is stored: what is read is answered, to be put into a site."""
    reader = PlanReader()

    async def read(call: Call[bytes, PlanQuery]) -> Answer:
        return Answer(encode(await reader.read(call.body, call.query), "us"))

    return (
        Operation(
            method="POST",
            path="/v1/plans",
            id="readPlan",
            reads=True,
            cost=10,
            tag="stages",
            summary="Read areas from a DXF drawing",
            description="The body is the file itself, saved as text, of at most 20 MB. Closed "
            "polylines, circles, ellipses, splines and hatches of the chosen layers become areas "
            "in the form in which a site takes them; arcs and ellipses keep their area exactly, "
            "and splines to 0.01 %. Blocks are taken apart. Notes say what was skipped and why. "
            "Nothing is stored.",
            handler=read,
            query=PlanQuery,
            body=bytes,
            body_media_types=DXF,
            body_limit=LARGEST_FILE,
            answer=PlanReading,
            failures=("unavailable",),
        ),
    )
