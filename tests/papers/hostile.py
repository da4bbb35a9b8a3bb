"""Texts that try to be more than text, and a paper that holds each of them everywhere."""

from __future__ import annotations

from io import BytesIO

from PIL import Image

from joblog.papers.blocks import (
    Box,
    Drawing,
    Facts,
    Heading,
    Label,
    Line,
    PageBreak,
    Paper,
    Picture,
    Pictures,
    Table,
    Text,
    Warning,
)

HOSTILE = (
    "<script>alert(1)</script>",
    "</style></title></svg><img src=x onerror=alert(1)>",
    '" onmouseover="alert(1)',
    "{{ 7 * 7 }} {% for x in y %}",
    "*bold* _it_ `code` [a](http://a.invalid) # heading",
    '#import "a.typ" #read("/etc/passwd") $x^2$ @label <label> \\ // no /* comment */',
    "=1+1 +1 -1 @SUM(1)",
    ") Tj ET << /S /JavaScript /JS (app.alert(1)) >> (",
    "javascript:alert(1) data:text/html,x",
    "&lt;b&gt; &amp; &#60;",
)


def picture(size: tuple[int, int] = (40, 30)) -> bytes:
    out = BytesIO()
    Image.new("RGB", size, "grey").save(out, "JPEG")
    return out.getvalue()


def paper_of(text: str) -> Paper:
    """The text stands in every place that a paper has."""
    return Paper(
        text,
        about=((text, text),),
        blocks=(
            Heading(text),
            Heading(text, 2),
            Text(text),
            Text(text, small=True),
            Warning(text),
            Facts(((text, text),)),
            Table((text, text), ((text, text), (text, text)), text, frozenset((1,)), total=True),
            Table(("a",) * 11, (("b",) * 10 + (text,),), widths=(1.0,) * 11),
            Pictures((Picture(picture(), text, text), Picture(picture((30, 40)), text))),
            Drawing(
                300, 60, (Line(0, 0, 9, 9), Box(0, 0, 9, 9, 0.5), Label(0, 50, text)), text, text
            ),
            PageBreak(),
            Heading(text),
        ),
        footer=text,
    )
