"""What every request must pass and every answer carries."""

from __future__ import annotations

import gzip
from urllib.parse import urlsplit

from flask import Flask, Response, g, request

from sporeline.api import COOKIE, current_services
from sporeline.errors import CrossOrigin
from sporeline.settings import Settings

PAGE_POLICY = (
    "default-src 'none'; "
    "script-src 'self' 'wasm-unsafe-eval'; "  # the reader of codes is WebAssembly
    "style-src 'self'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; "
    "worker-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; "
    "object-src 'none'; frame-ancestors 'none'; "
    "require-trusted-types-for 'script'; trusted-types app"
)
ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
}
ON_PAGES = {
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(self), camera=(self), microphone=(), payment=(), usb=()",
}
ON_CALLS = {
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    "Cache-Control": "no-store",
}
"""Short: one more entry on a weak signal must not weigh as much as its headers."""
COOKIE_SECONDS = 400 * 86_400
"""As long as browsers keep a cookie; the session itself ends by the server's rule."""
WORTH_PACKING = 1024
PACKABLE = ("application/json", "application/manifest+json", "image/svg+xml", "text/")


def register(app: Flask, settings: Settings) -> None:
    """Guard all routes of the app, its errors included."""
    always = dict(ALWAYS)
    if settings.secure:
        always["Strict-Transport-Security"] = "max-age=31536000"
    on_calls = always | ON_CALLS
    on_pages = always | ON_PAGES | {"Content-Security-Policy": _page_policy(settings)}
    app.before_request(refuse_other_sites)

    @app.after_request
    def finish(response: Response) -> Response:
        call = request.path.startswith(("/api/", "/calendar/"))
        for name, value in (on_calls if call else on_pages).items():
            response.headers.setdefault(name, value)
        if (token := g.get("new_cookie")) is not None:
            set_cookie(response, token)
        return packed(response)


def _page_policy(settings: Settings) -> str:
    """On plain http the upgrade would break the page instead of protecting it."""
    upgrade = "; upgrade-insecure-requests" if settings.secure else ""
    return PAGE_POLICY + upgrade


def refuse_other_sites() -> None:
    """Unsafe methods only from our own pages, or from scripts that carry no cookie.

    Browsers cannot forge `Sec-Fetch-Site` and `Origin`; a bearer token never comes by itself.
    """
    if request.method in ("GET", "HEAD", "OPTIONS"):
        return
    site, origin = request.headers.get("Sec-Fetch-Site"), request.headers.get("Origin")
    if site is not None:
        ours = site == "same-origin"
    elif origin is not None:
        ours = origin in _own_origins()
    else:
        ours = COOKIE not in request.cookies or "Authorization" in request.headers
    if not ours:
        raise CrossOrigin(where="Sec-Fetch-Site" if site is not None else "Origin")


def _own_origins() -> set[str]:
    public = urlsplit(current_services().settings.public_url)
    return {f"{public.scheme}://{public.netloc}", request.host_url.rstrip("/")}


def set_cookie(response: Response, token: str) -> None:
    """`__Host-`: only over https (or localhost), only this host, never read by script.

    An empty token takes the cookie away.
    """
    age = COOKIE_SECONDS if token else 0
    response.set_cookie(
        COOKIE, token, max_age=age, secure=True, httponly=True, samesite="Lax", path="/"
    )


def packed(response: Response) -> Response:
    """gzip a text answer of some size, when the other side takes it."""
    if response.direct_passthrough or response.is_streamed or not _packable(response):
        return response
    response.vary.add("Accept-Encoding")
    if not request.accept_encodings["gzip"] or len(response.get_data()) < WORTH_PACKING:
        return response
    response.set_data(gzip.compress(response.get_data(), compresslevel=6, mtime=0))
    response.headers["Content-Encoding"] = "gzip"
    return response


def _packable(response: Response) -> bool:
    kind = response.mimetype or ""
    return "Content-Encoding" not in response.headers and kind.startswith(PACKABLE)
