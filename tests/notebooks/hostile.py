"""A sheet and a log whose every name is markup, and what must not come of it in a page."""

import json
import re
from html.parser import HTMLParser

import mistune
from canonical import ROOT

MARKUP = (
    "<img src=nowhere onerror=evil=1>![m](/nowhere)[c](javascript:evil=1)$\\href{javascript:evil=1}{x_}$"
    "|`</td></textarea><script>evil=1</script>\"'*_"
)


def hostile_sheet(demo, folder):
    """Write a demo with markup behind its name, every id, and the names of its logs and their channels.

    demo: its name. folder: Path.
    Returns Path of the sheet.
    """
    text = (ROOT / "data" / "builds" / f"{demo}.toml").read_text(encoding="utf-8")
    for name in set(re.findall(r'^id = "([^"]+)"', text, re.M)):
        evil = json.dumps(name + MARKUP)
        text = re.sub(f'^(?!role|kind)(.*){json.dumps(name)}', lambda m, evil=evil: m[1] + evil, text, flags=re.M)
    text = re.sub(r"^name = .*$", lambda _: f"name = {json.dumps('evil ' + MARKUP)}", text, count=1, flags=re.M)
    for number, log in enumerate(sorted(set(re.findall(r'^file = "([^"]+)"', text, re.M)))):
        evil = f"evil {number} {MARKUP.replace('/', '')}.csv"
        readings = (ROOT / "data" / "logs" / log).read_text(encoding="utf-8")
        for head in ("temperature degC", "tip degC", "tip °C"):
            readings = readings.replace(head, f"tip {MARKUP.split('|')[0]} degC")
        (folder / evil).write_text(readings, encoding="utf-8")
        text = text.replace(json.dumps(log), json.dumps(evil))
    (folder / "evil.toml").write_text(text, encoding="utf-8")
    return folder / "evil.toml"


class _Tags(HTMLParser):
    def __init__(self):
        super().__init__()
        self.bad = []

    def handle_starttag(self, tag, attributes):
        told = {name: value or "" for name, value in attributes}
        links = [told.get(name, "") for name in ("src", "href", "action", "xlink:href")]
        if tag == "script" or any(name.startswith("on") for name in told):
            self.bad.append(self.get_starttag_text())
        if any("nowhere" in link or link.strip().lower().startswith("javascript") for link in links):
            self.bad.append(self.get_starttag_text())


def harm_in(kind, text):
    """What would run or be fetched if a page showed a text: list of tags and formulas.

    kind: its MIME type. text: of an output.
    """
    if kind not in ("text/html", "text/markdown", "text/latex", "image/svg+xml"):
        return []
    tags = _Tags()
    tags.feed(mistune.html(text) if kind == "text/markdown" else text)
    tags.close()
    return tags.bad + re.findall(r"(?s)(?:\$|\\\()[^$<>]{0,80}\\href.{0,60}", text)
