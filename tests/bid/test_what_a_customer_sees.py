"""Nothing of cost, hours, margin, waste or overhead is anywhere in what a customer is handed."""

from __future__ import annotations

import io
import json
import re
import zlib
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from html.parser import HTMLParser

import pytest
from pypdf import PdfReader

from joblog.bid.offer import offer_of
from joblog.bid.said import with_said
from joblog.bid.work_out import names_of, work_out
from joblog.form import to_json
from joblog.model import Bid, Offer
from joblog.papers.bid import offer_paper
from joblog.papers.html import as_html
from joblog.papers.pdf import as_pdf
from joblog.report.bid import offer_csv, offer_sheet
from joblog.report.table import as_csv
from tests.bid.a_basis import basis

WORDS = ("cost", "hour", "margin", "markup", "waste", "overhead", "profit", "pace", "nails")
"""Of which a customer reads nothing; the material of a line is none of his either."""


@pytest.fixture
def bid() -> Bid:
    of = basis(panel_price="31.37", hourly="43.71")
    said = [
        ("overhead", "11.7%"),
        ("margin", "18.3%"),
        ("hang soffit.hours", "13.9"),
        ("soffit panel.waste", "7.7%"),
        ("expense.dump run", "87.13"),
        ("miles", "131.5"),
        ("mile rate", "0.73"),
        ("extra.gutter guards", "450"),
        ("extra.paint", "120 taken"),
        ("tax", "6.25%"),
        ("tax on", "material"),
        ("not included", "rotten wood; permits"),
        ("valid", "30 days"),
    ]
    return work_out("Mill house", date(2026, 11, 2), of, with_said((), said, names_of(of)))


def secrets(bid: Bid) -> Iterator[str]:
    """Every number that is not his, as it may be written."""
    numbers: list[Decimal | Fraction | float | None] = [
        bid.material, bid.labor, bid.besides, bid.cost, bid.overhead, bid.all_cost, bid.margin,
        bid.rounding or None, bid.margin_share * 100, bid.markup_share and bid.markup_share * 100,
        (bid.overhead_share or 0) * 100, bid.hours, bid.mile_rate,
    ]  # fmt: skip
    for item in bid.items:
        numbers += [item.quantity, item.waste, item.net, item.price, item.cost, *item.by_part]
    for task in bid.tasks:
        numbers += [task.hours, task.hourly_cost, task.cost, task.pace, *task.by_part]
    numbers += [one.cost for one in bid.beside] + [place.cost for place in bid.places]
    yield from ("11.7", "18.3", "13.9", "7.7 %", "131.5", "0.73", "dump run")
    for number in numbers:
        if number is not None and number == number:
            for places in (1, 2, 3):
                text = f"{float(number):,.{places}f}"
                if len(text.strip("0.,")) > 2:
                    yield from (text, text.replace(",", ""))


def visible(page: str) -> str:
    """What a browser shows, and all attributes; not the style sheet."""
    kept: list[str] = []

    class Reader(HTMLParser):
        skip = False

        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            self.skip = tag == "style"
            kept.extend(value or "" for name, value in attrs if name not in ("content", "style"))

        def handle_endtag(self, tag: str) -> None:
            self.skip = False

        def handle_data(self, data: str) -> None:
            if not self.skip:
                kept.append(data)

    Reader().feed(page)
    return " ".join(kept)


def all_text(pdf: bytes) -> str:
    """The text of the pages, what the file says of itself, and every stream that can be opened."""
    reader = PdfReader(io.BytesIO(pdf))
    parts = [page.extract_text() for page in reader.pages]
    parts += [str(reader.metadata), str(reader.xmp_metadata and reader.xmp_metadata.stream)]
    parts += [str(one) for one in reader.attachments]
    for stream in re.findall(rb"stream\r?\n(.*?)endstream", pdf, re.DOTALL):
        try:
            opened = zlib.decompress(stream.strip(b"\r\n"))
        except zlib.error:
            continue
        if not opened.startswith((b"\x00\x01\x00\x00", b"OTTO", b"\x01\x00\x04")):  # no font
            parts += re.findall(r"\((.*?)\)", opened.decode("latin-1"))
    return " ".join(parts)


def in_every_form(offer: Offer) -> dict[str, str]:
    paper = offer_paper(offer)
    return {
        "text": offer_sheet(offer),
        "csv": as_csv(offer_csv(offer)),
        "json": json.dumps(to_json(offer)),
        "html": visible(as_html(paper)),
        "pdf": all_text(as_pdf(paper)),
    }


@pytest.mark.parametrize("by_place", [False, True])
def test_no_number_that_is_not_his_is_anywhere_in_it(bid: Bid, by_place: bool) -> None:
    kept = set(secrets(bid))
    assert len(kept) > 60
    for form, text in in_every_form(offer_of(bid, by_place=by_place)).items():
        found = [one for one in kept if re.search(rf"(?<![\d.,]){re.escape(one)}(?!\d)", text)]
        assert not found, form
        assert not [word for word in WORDS if word in text.lower()], form


def test_the_search_finds_such_a_number_where_there_is_one(bid: Bid) -> None:
    told = replace(offer_of(bid), left_out=(f"a slip: {bid.all_cost:,} and 13.9 hours",))
    for form, text in in_every_form(told).items():
        assert [one for one in secrets(bid) if one in text], form
        assert "hours" in text, form


@pytest.mark.parametrize("by_place", [False, True])
def test_all_that_is_his_is_in_it(bid: Bid, by_place: bool) -> None:
    his = ["north eave", "boxed eave, 41 ft", "gutter guards", "paint", "rotten wood", "6.25 %"]
    for form, text in in_every_form(offer_of(bid, by_place=by_place)).items():
        plain = text.replace(",", "")
        for one in (*his, str(bid.price), str(bid.tax), str(bid.total), "450.00"):
            assert one.replace(",", "") in plain, (form, one)


def test_the_prices_of_the_places_and_the_extras_make_the_price(bid: Bid) -> None:
    offer = offer_of(bid, by_place=True)
    assert sum(price for _, price in (*offer.places, *offer.taken)) == offer.price
    assert offer.price + offer.tax == offer.total


def test_what_comes_from_outside_is_text_in_it(bid: Bid) -> None:
    wild = replace(bid, left_out=('<script>alert(1)</script> #read("x") =SUM(A1)',))
    offer = offer_of(wild)
    assert "<script>alert" not in as_html(offer_paper(offer))
    assert "<script>alert(1)" in visible(as_html(offer_paper(offer)))
    assert as_pdf(offer_paper(offer)).startswith(b"%PDF")
