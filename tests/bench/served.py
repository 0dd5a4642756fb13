"""The application under load: the product's own, and one route that only decodes and encodes.

Run by `bench_http` and `bench_stored` in a process of its own:
`python served.py DATABASE_FOLDER PORT [DATABASE_URL]`.
"""

import sys

import reference
import uvicorn
from litestar import MediaType, Request, Response, post
from litestar.datastructures import State
from prepared import prepare

from filmbuild.app import create_app
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import EstimateRequest

ECHO = "/bench/decode-and-encode"
AREAS = 12


def main(folder: str, port: str, url: str | None = None) -> None:
    settings, catalogue = prepare(folder, url)
    asked = decode(EstimateRequest, reference.request(AREAS))
    document = estimate_document(asked, catalogue)

    @post(ECHO)
    async def decode_and_encode(request: Request[object, object, State]) -> Response[bytes]:
        """The body is decoded as an estimate's is; an answer computed before is encoded."""
        asked = decode(EstimateRequest, await request.body())
        return Response(encode(document, asked.units), media_type=MediaType.JSON)

    app = create_app(settings, extra_routes=[decode_and_encode])
    uvicorn.run(app, host="127.0.0.1", port=int(port), log_level="error", access_log=False)


if __name__ == "__main__":
    main(*sys.argv[1:])
