"""The plainest web host that there is: files from a folder, texts compressed, as every static host sends them."""

from __future__ import annotations

import gzip
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

KINDS = {
    ".html": "text/html; charset=utf-8",
    ".json": "application/json",
    ".avif": "image/avif",
    ".webp": "image/webp",
    ".jpg": "image/jpeg",
    ".mp4": "video/mp4",
    ".pdf": "application/pdf",
}
_TEXTS = {".html", ".json"}


@contextmanager
def host(folder: Path) -> Iterator[str]:
    """Serve `folder` on a free port of this machine; gives the address."""

    class Answer(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def do_GET(self) -> None:  # the base class asks for this name
            path = folder / unquote(urlsplit(self.path).path).lstrip("/")
            if not path.is_file():
                self.send_response(204 if path.name == "favicon.ico" else 404)
                self.send_header("Content-Length", "0")
                self.end_headers()
                return
            content = path.read_bytes()
            self.send_response(200)
            self.send_header("Content-Type", KINDS.get(path.suffix, "application/octet-stream"))
            if path.suffix in _TEXTS:
                content = gzip.compress(content)
                self.send_header("Content-Encoding", "gzip")
            self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            self.wfile.write(content)

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Answer)
    server.daemon_threads = True
    thread = threading.Thread(target=server.serve_forever, name="static host")
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
