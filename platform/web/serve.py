#!/usr/bin/python3
"""Holds the page's folder on this machine alone and prints its address: platform/web/serve.py FOLDER [PORT]

Any web server that hands out files will do in its place; for other devices it has to be one with https, without which
no browser lets a page keep records safely.
"""
import functools
import http.server
import os
import sys


class Files(http.server.SimpleHTTPRequestHandler):
    extensions_map = {**http.server.SimpleHTTPRequestHandler.extensions_map, ".wasm": "application/wasm",
                      ".js": "text/javascript", ".webmanifest": "application/manifest+json", ".otf": "font/otf",
                      ".ttf": "font/ttf", ".svg": "image/svg+xml"}

    def send_head(self):
        """What lies there compressed already goes out so, to a browser that takes it."""
        path = self.translate_path(self.path)
        if os.path.isdir(path):
            path = os.path.join(path, "index.html")
        takes = [one.split(";")[0].strip() for one in self.headers.get("Accept-Encoding", "").split(",")]
        for coding, end in (("br", ".br"), ("gzip", ".gz")):
            if coding in takes and os.path.isfile(path + end):
                file = open(path + end, "rb")
                self.send_response(200)
                self.send_header("Content-Type", self.guess_type(path))
                self.send_header("Content-Encoding", coding)
                self.send_header("Content-Length", str(os.fstat(file.fileno()).st_size))
                self.send_header("Vary", "Accept-Encoding")
                self.end_headers()
                return file
        return super().send_head()

    def end_headers(self):
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, *_):
        pass


def main():
    folder = sys.argv[1]
    port = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    server = http.server.ThreadingHTTPServer(("127.0.0.1", port), functools.partial(Files, directory=folder))
    print(f"http://127.0.0.1:{server.server_address[1]}/", flush=True)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        pass


if __name__ == "__main__":
    main()
