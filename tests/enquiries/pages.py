"""A contractor's own web page on an origin of its own, with the form in it, behind a strict policy."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

THEMES = {
    "": "",
    "dark": (
        "body{background:#15191c;color:#eef1f2}filmbuild-quote-form{--quote-paper:#15191c;--quote-ink:#eef1f2;"
        "--quote-quiet:#b4bdc2;--quote-line:#7f8b91;--quote-accent:#6fd0c4;"
        "--quote-on-accent:#0c1f1d;--quote-wrong:#ff9c8f;color-scheme:dark}"
    ),
}


class Host:
    """`service` and `key` are set before a page is asked for; what a browser reports is kept."""

    def __init__(self, server: ThreadingHTTPServer) -> None:
        self.origin = f"http://127.0.0.1:{server.server_port}"
        self.service = ""
        self.key = ""

    def page(self, path: str) -> tuple[str, bytes]:
        """Of "/language" or "/language/theme", and its policy."""
        language, _, theme = path.strip("/").partition("/")
        policy = (
            f"default-src 'none'; script-src {self.service}; connect-src {self.service}; "
            "style-src 'self'; base-uri 'none'; form-action 'none'; require-trusted-types-for "
            "'script'"
        )
        text = (
            f'<!doctype html><html lang="{language}"><head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width"><title>Demo Resin Floors</title>'
            f'<link rel="stylesheet" href="/style/{theme}">'
            f'<script type="module" src="{self.service}/quote-form/v1.js"></script></head><body>'
            "<main><h1>Demo Resin Floors (demo data)</h1>"
            f'<filmbuild-quote-form key="{self.key}" lang="{language}"></filmbuild-quote-form>'
            "</main></body></html>"
        )
        return policy, text.encode()


@contextmanager
def host() -> Iterator[Host]:
    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            if self.path.startswith("/style/"):
                self._send("text/css", THEMES[self.path.removeprefix("/style/")].encode(), "")
            elif self.path == "/favicon.ico":
                self._send("image/x-icon", b"", "")
            else:
                policy, content = made.page(self.path)
                self._send("text/html", content, policy)

        def _send(self, kind: str, content: bytes, policy: str) -> None:
            self.send_response(200)
            self.send_header("content-type", kind)
            self.send_header("content-length", str(len(content)))
            if policy:
                self.send_header("content-security-policy", policy)
            self.end_headers()
            self.wfile.write(content)

        def log_message(self, *_: object) -> None:
            """Nothing: what matters is asserted."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    made = Host(server)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield made
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
