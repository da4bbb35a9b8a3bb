"""A paper as HTML: only our own tags, nothing from outside, everything there as it was written."""

from __future__ import annotations

import base64
import re
from hashlib import sha256
from html.parser import HTMLParser

import pytest
from hostile import HOSTILE, paper_of, picture
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.papers.blocks import Paper, Picture, Pictures, Table, Text
from joblog.papers.html import as_html

TAGS = frozenset(
    "html head meta title style body main header footer h1 h2 h3 p br strong dl div dt dd table "
    "caption colgroup col thead tbody tr th td figure figcaption img svg line rect text".split()
)
ATTRIBUTES = frozenset(
    "lang charset http-equiv content name class scope width src alt xmlns viewbox role aria-label "
    "x1 y1 x2 y2 stroke stroke-width stroke-dasharray x y height fill font-size text-anchor".split()
)
EMPTY = frozenset("meta br col img line rect".split())


class Page(HTMLParser):
    """Every tag that opens, and every text outside of the style, as a browser takes them."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[str] = []
        self.open: list[str] = []
        self.crossed: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.crossed.append(tag)

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] != "style":
            self.texts.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).split())


@pytest.mark.parametrize("text", HOSTILE)
def test_what_tries_to_be_markup_is_text(text: str) -> None:
    page = Page(as_html(paper_of(text)))
    assert {tag for tag, _ in page.tags} <= TAGS
    assert {name for _, names in page.tags for name in names} <= ATTRIBUTES
    assert (page.open, page.crossed) == ([], [])
    same = len(Page(as_html(paper_of("plain words"))).tags)
    assert len(page.tags) == same
    assert page.text.count(" ".join(text.split())) >= 15


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=60))
def test_no_text_whatever_makes_a_tag(text: str) -> None:
    page = Page(as_html(Paper("title", (("a", text),), (Text("x" + text), Table((text,), ())))))
    without_lines = [tag for tag, _ in page.tags if tag != "br"]
    plain = Page(as_html(Paper("title", (("a", "b"),), (Text("x"), Table(("c",), ())))))
    assert without_lines == [tag for tag, _ in plain.tags if tag != "br"]
    assert (page.open, page.crossed) == ([], [])


def test_nothing_comes_from_outside_and_nothing_may() -> None:
    html = as_html(paper_of("words"))
    page = Page(html)
    sources = [names["src"] for tag, names in page.tags if tag == "img"]
    assert all(source and source.startswith("data:image/jpeg;base64,") for source in sources)
    assert not [names for _, names in page.tags if "href" in names]
    assert "url(" not in html and "@import" not in html
    [policy] = [
        names["content"]
        for tag, names in page.tags
        if tag == "meta" and names.get("http-equiv") == "Content-Security-Policy"
    ]
    assert policy is not None
    style = re.findall(r"<style>(.*?)</style>", html, re.S)
    digest = base64.b64encode(sha256(style[0].encode()).digest()).decode()
    assert policy == (
        f"default-src 'none'; img-src data:; style-src 'sha256-{digest}'; base-uri 'none'; "
        "form-action 'none'"
    )


def test_a_picture_is_there_byte_for_byte_and_says_what_it_shows() -> None:
    content = picture()
    html = as_html(Paper("a", blocks=(Pictures((Picture(content, "the wire", "1. wire"),)),)))
    [image] = [names for tag, names in Page(html).tags if tag == "img"]
    assert image["src"] == f"data:image/jpeg;base64,{base64.b64encode(content).decode()}"
    assert image["alt"] == "the wire"


def test_the_page_names_its_language_and_the_heads_of_its_tables() -> None:
    page = Page(as_html(paper_of("words")))
    assert page.tags[0] == ("html", {"lang": "en"})
    scopes = [names.get("scope") for tag, names in page.tags if tag == "th"]
    assert set(scopes) == {"col", "row"}


def test_signs_that_steer_are_not_there_and_lines_stay_lines() -> None:
    html = as_html(Paper("a\u202eb", blocks=(Text("one\r\ntwo\u2028three\x00\x1b[31m\ud800"),)))
    assert "one<br>two<br>three" in html
    assert "\N{REPLACEMENT CHARACTER}" in html
    assert not re.search(
        r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]", html
    )
    html.encode()


def test_the_same_paper_is_the_same_page() -> None:
    assert as_html(paper_of("words")) == as_html(paper_of("words"))
