"""How long a phone waits for the first screen, and how much it loads before anybody searches.

    .venv/bin/python -m tests.benchmarks.phone SITE [--plain]

SITE is a site built with `--served`. A line of 1.6 Mbit/s with 150 ms, a quarter of this machine's processor, nothing kept
from before. The server compresses as web servers do; `--plain` sends every file as it is. Told are bytes over the line, the
first paint, the largest part of the first screen painted, and the page whole. A slow machine tells longer times.
"""

from __future__ import annotations

import argparse
import gzip
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from shutil import which

from playwright.sync_api import Browser, sync_playwright

LINE = {"offline": False, "latency": 150, "downloadThroughput": 1.6e6 / 8, "uploadThroughput": 0.75e6 / 8}
"""1.6 Mbit/s down, 750 kbit/s up, 150 ms: a slow mobile network, common practice, no source."""

SLOWER = 4
PACKED = (".html", ".css", ".js", ".json", ".svg")

PAINTED = """() => new Promise(done => new PerformanceObserver(list => { const whole = performance.getEntriesByType('navigation')[0];
  done([performance.getEntriesByName('first-contentful-paint')[0].startTime, list.getEntries().at(-1).startTime, whole.loadEventEnd]) })
  .observe({type: 'largest-contentful-paint', buffered: true}))"""


class _Server(SimpleHTTPRequestHandler):
    plain = False

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        if self.plain or path.suffix not in PACKED or not path.is_file():
            super().do_GET()
            return
        data = gzip.compress(path.read_bytes(), 6)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, *_: object) -> None:
        """A benchmark prints its figures alone."""


def looked_at(browser: Browser, address: str) -> tuple[int, list[float]]:
    """Bytes over the line until the page is whole, and its three times [ms]."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, device_scale_factor=2)
    page = context.new_page()
    tools = context.new_cdp_session(page)
    loaded: list[float] = []
    tools.on("Network.loadingFinished", lambda event: loaded.append(event["encodedDataLength"]))
    tools.send("Network.enable")
    tools.send("Network.emulateNetworkConditions", LINE)
    tools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(address, wait_until="load")
    page.wait_for_timeout(1500)
    times = page.evaluate(PAINTED)
    context.close()
    return int(sum(loaded)), times


def main() -> None:
    """Print a line for each page."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("site", type=Path)
    parser.add_argument("--plain", action="store_true")
    asked = parser.parse_args()
    _Server.plain = asked.plain
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Server, directory=str(asked.site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    procedure = sorted((asked.site / "p").glob("sop-08*.html"))[0].relative_to(asked.site).as_posix()
    workings = max(
        sorted((asked.site / "reference").glob("workings*.html")), key=lambda one: one.stat().st_size
    )
    pages = ("index.html", procedure, "today.html", "reference/workings.html", f"reference/{workings.name}")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=which("chromium"), args=["--no-sandbox"])
        print(f"{'page':36} {'kB':>6} {'first paint':>12} {'first screen':>13} {'whole':>8}  (seconds)")
        for name in dict.fromkeys(pages):
            size, times = looked_at(browser, f"http://127.0.0.1:{server.server_port}/{name}")
            first, largest, whole = (one / 1000 for one in times)
            print(f"{name:36} {size / 1000:6.0f} {first:12.1f} {largest:13.1f} {whole:8.1f}")
        browser.close()
    server.shutdown()


if __name__ == "__main__":
    main()
