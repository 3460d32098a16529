"""Somebody who reads pages in a browser of their own."""

from screens import SCREENS

SETTLED = """() => {
  const app = document.querySelector('[data-testid="stApp"]');
  return app && app.dataset.testScriptState === 'notRunning'
    && app.dataset.testConnectionState === 'CONNECTED'
    && document.querySelector('.foot')
    && !document.querySelector('[data-testid="stSkeleton"], [data-stale="true"]');
}"""


class Reader:
    """One browser context that lets nothing out and keeps every complaint.

    Args:
        browser: Chromium.
        address: Of the server.
        size: One of `SCREENS`.
        shade: "light" or "dark".
        screen: Of another size, as the browser's words for it.

    Attributes:
        outside: Addresses beyond the server that a page asked for.
        complaints: Errors of the console, without the frame's own probes below a deep link.
    """

    def __init__(self, browser, address, size, shade, **screen):
        self.address, self.size = address, size
        self.outside, self.complaints = [], []
        self.context = browser.new_context(color_scheme=shade, **(screen or SCREENS[size]))
        self.context.route(self._is_outside, self._refuse)
        self.page = self.context.new_page()
        self.page.on("console", self._keep)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def fresh(self):
        """Forget what was complained about, for another test."""
        self.outside.clear()
        self.complaints.clear()
        return self

    def open(self, path=""):
        """Open one of the leader's pages, settled."""
        self.page.goto(f"{self.address}/{path}")
        self.settle()
        return self.page

    def settle(self):
        """Wait until the page is drawn; it shows no traceback."""
        self.page.wait_for_function(SETTLED, timeout=90_000)
        assert self.page.get_by_test_id("stException").count() == 0

    def _is_outside(self, url):
        return url.startswith("http") and not url.startswith(self.address)

    def _refuse(self, route):
        self.outside.append(route.request.url)
        route.abort()

    def _keep(self, message):
        # Below a deep link the frame first asks in the wrong folder, is told 404, then finds it.
        is_probe = "/_stcore/" in message.location.get("url", "") and "404" in message.text
        if message.type == "error" and not is_probe:
            self.complaints.append(f"{message.text} {message.location.get('url', '')}")
