"""Pages that say one thing: an error, or that a device was let in. No script, no style, no path of the machine."""

from __future__ import annotations

from starlette.responses import HTMLResponse

from advisor.rendering.html import text


def plain_page(status: int, title: str, says: str, *, onward: str = "") -> HTMLResponse:
    """Give a page of a heading and a paragraph; `onward` is where the browser goes by itself, a path of ours."""
    refresh = f'<meta http-equiv="refresh" content="0;url={text(onward)}">' if onward else ""
    link = f'<p><a href="{text(onward)}">Go on</a></p>' if onward else ""
    return HTMLResponse(
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">{refresh}'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">'
        f"<title>{text(title)}</title></head>\n<body><main><h1>{text(title)}</h1><p>{text(says)}</p>{link}</main>"
        "</body></html>\n",
        status_code=status,
    )
