"""Tables and options with one known slip each, and what the command line says to them.

    python -m tests.bench.tables.bad > now.txt
    PYTHONPATH=OTHER_CHECKOUT:OTHER_CHECKOUT/tui python BAD > before.txt

Runs the program that PYTHONPATH names, each in a folder of its own, and prints of each table its
exit status and what a person reads.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Bad:
    what: str
    table: bytes
    command: str
    """TABLE stands for the file."""
    job: bool = False
    ending: str = ".csv"
    shows: str = ""
    """Of what it prints only lines with one of these, parted by a bar; all where it is empty."""


RUNS = "work,place,length,depth\nboxed eave,north eave,{length},{depth}\n"
GUTTER = b"work,place,length,drop\ngutter run,north eave,41,9 ft\n"
EAVE = RUNS.format(length=41, depth=12).encode()


def cases() -> Iterator[Bad]:
    pieces, plan, take = "cuts --from TABLE", "plan TABLE", "takeoff TABLE"
    yield Bad("8 pieces in a column quantity", b"length,quantity\n60,4\n30,4\n", pieces)
    yield Bad(
        "a plan with a column price",
        b"line,name,quantity,unit,price\nitem,fascia,7,stick,14.90\n",
        plan,
        job=True,
    )
    for text in (
        "41½",
        "41 ½",
        "41⅐",
        "41\u2009½",
        "41.5",
        "41-1/2",
        "41′ 6″",
        "41’ 6”",
        "41 9/8",
        "41 1/0",
        "41,5",
        "1.000,5",
        "4١",
        "４１",
        "41 cm",
        "-41",
        "41e0",
        "41000",
    ):
        table = RUNS.format(length=f'"{text}"', depth=12).encode()
        yield Bad(f"length {text} of an eave", table, take, shows="along =|edge =|table|Error")
    for text in ("11⅞", "11 9/8", "1", "12,5", "900", "12 ft"):
        table = RUNS.format(length=41, depth=f'"{text}"').encode()
        yield Bad(f"depth {text} of an eave", table, take, shows="piece =|table|Error")
    for text in ("12,50", "$1,250", "1.250,00", "12.5O", "1250000"):
        table = f'line,name,quantity,unit,cost\nitem,fascia,7,stick,"{text}"\n'.encode()
        yield Bad(f"cost {text} in a plan", table, f"{plan} --csv", job=True)
    for text in ("9" * 26, "7,5", "7½", "1/2/3", "0.5.5"):
        table = f'line,name,quantity,unit\nitem,fascia,"{text}",stick\n'.encode()
        yield Bad(f"quantity {text} in a plan", table, f"{plan} --csv", job=True)
    for text in ("12,50", "9/8", "1,5"):
        table = f'line,name,unit,length,cost\nitem,zorp,stick,"{text}",3\n'.encode()
        yield Bad(f"length {text} in a catalog", table, "catalog TABLE", job=True)
    for text in ("41,5", "147 9/8", "1,200"):
        yield Bad(f"piece of {text}", f'length,pieces\n"{text}",2\n'.encode(), pieces)
    earlier = 'job,date,item,work,gone\nMill,2025-05-01,fascia,"{}","{}"\n'
    for work, gone in (("12,5", "13,5"), ("12½", "13½"), ("12 9/8", "14")):
        yield Bad(
            f"earlier job with work {work} and {gone} gone",
            earlier.format(work, gone).encode(),
            "rates --from TABLE",
        )
    yield Bad("semicolons", EAVE.replace(b",", b";"), take, shows="along =|Error|row|column|;")
    yield Bad(
        "semicolons and decimal commas",
        b"work;place;length;depth\nboxed eave;n;41,5;12,25\n",
        take,
        shows="along =|piece =|Error|row|column|comma",
    )
    yield Bad("tabs", EAVE.replace(b",", b"\t"), take, shows="along =|Error|row|column|tab")
    for name in ("utf-16", "utf-8-sig", "cp1252"):
        table = RUNS.format(length="41½", depth=12).encode(name)
        yield Bad(f"{name} with 41½", table, take, shows="along =|Error|row|column|table|text")
    yield Bad(
        "a bad row behind a blank line",
        EAVE + b"\n\nboxed eave,x,nothing,12\n",
        take,
        shows="row|Error",
    )
    yield Bad(
        "a bad row behind a line end in quotes",
        b'work,place,length,depth\nboxed eave,"north\neave",41,12\nboxed eave,x,none,12\n',
        take,
        shows="row|Error",
    )
    yield Bad(
        "a cell more in a plan",
        b"line,name,quantity,unit\nitem,fascia,7,stick,14.90\n",
        plan,
        job=True,
    )
    yield Bad(
        "a cell more in a catalog",
        b"line,name,unit,length\nitem,zorp,stick,12,9\n",
        "catalog TABLE",
        job=True,
    )
    yield Bad(
        "a cell more in runs", EAVE.replace(b",12\n", b",12,3\n"), take, shows="row|Error|along ="
    )
    yield Bad("two columns of one name", b"length,pieces,pieces\n60,2,9\n", pieces)
    yield Bad("a column without a name", b"length,,label\n60,8,x\n", pieces)
    many = b"work,place,length,depth\n" + b"boxed eave,x,none,12\n" * 5000
    yield Bad("5,000 bad rows", many, take, shows="row|Error")
    large = b"line,name,quantity,unit\n" + b"".join(
        f"item,zorp {n},{n + 1},stick\n".encode() for n in range(20_000)
    )
    yield Bad("a plan of 20,000 rows", large, plan, job=True)
    yield Bad(
        "a workbook", _workbook(), take, ending=".xlsx", shows="along =|piece =|Error|row|text"
    )
    for asked in ('--on-hand "fasica=4"', '--allowance "fasica=10%"', '--on-hand "wall channel=2"'):
        yield Bad(
            f"order {asked}", EAVE, f"order TABLE {asked}", shows="fascia|channel|fasica|Error"
        )
    yield Bad("cuts --item fasica", b"length,item\n60,fascia\n", "cuts --from TABLE --item fasica")
    yield Bad(
        'bid --set "fasica.price=3"',
        EAVE,
        'bid TABLE --set "fasica.price=3"',
        job=True,
        shows="fasica|Error|fascia",
    )
    corner = "work,place,length,depth,hips\n"
    yield Bad(
        "one run of 140 ft with 4 hips",
        (corner + "boxed eave,all,140,12,4\n").encode(),
        take,
        shows="edge =|row|Error|hips",
    )
    yield Bad(
        "a porch of 8 by 6",
        b"work,place,length,width\nporch ceiling,porch,8,6\n",
        "takeoff TABLE --pieces",
    )
    yield Bad("ends of a gutter", GUTTER, "order TABLE --allowance 10%", shows="end cap|Error")


def _workbook() -> bytes:
    """As a spreadsheet program saves it: 41.1 as a number, which is 41.100000000000001 inside."""
    cells = [["work", "place", "length", "depth"], ["boxed eave", "north", 41.1, 11.875]]
    rows = "".join(
        "<row>" + "".join(
            f"<c><v>{cell!r}</v></c>" if isinstance(cell, float)
            else f'<c t="inlineStr"><is><t>{cell}</t></is></c>'
            for cell in row
        ) + "</row>"
        for row in cells
    )  # fmt: skip
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    package = "http://schemas.openxmlformats.org/package/2006"
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    files = {
        "[Content_Types].xml": f'<Types xmlns="{package}/content-types">'
        '<Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{kind}.sheet.main+xml"/>'
        f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{kind}.worksheet+xml"/>'
        "</Types>",
        "_rels/.rels": f'<Relationships xmlns="{package}/relationships"><Relationship Id="rId1" '
        f'Type="{office}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{main}" xmlns:r="{office}"><sheets>'
        '<sheet name="Runs" sheetId="1" r:id="rId1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{package}/relationships">'
        f'<Relationship Id="rId1" Type="{office}/worksheet" Target="worksheets/sheet1.xml"/>'
        "</Relationships>",
        "xl/worksheets/sheet1.xml": f'<worksheet xmlns="{main}"><sheetData>{rows}</sheetData>'
        "</worksheet>",
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, text in files.items():
            archive.writestr(name, f'<?xml version="1.0" encoding="UTF-8"?>{text}')
    return out.getvalue()


def told(bad: Bad) -> str:
    """The exit status, and what a person reads."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, f"table{bad.ending}")
        file.write_bytes(bad.table)
        if bad.job:
            _run("new Trial --zone UTC", folder)
        started = time.monotonic()
        status, text = _run(bad.command.replace("TABLE", file.name), folder)
        spent = time.monotonic() - started
    lines = [line.rstrip() for line in text.splitlines() if line.strip()]
    shown = [line for line in lines if any(word in line for word in bad.shows.split("|"))]
    few = shown[:4] + ([f"... {len(shown) - 4:,} lines more"] if len(shown) > 4 else [])
    return f"exit {status}, {spent:.1f} s, {len(lines):,} lines\n" + "\n".join(
        f"    {x[:220]}" for x in few
    )


def _run(command: str, folder: str) -> tuple[int, str]:
    home = {**os.environ, "HOME": folder, "COLUMNS": "200"}
    done = subprocess.run(
        f'"{sys.executable}" -m joblog {command}', shell=True, cwd=folder, env=home, timeout=200,
        capture_output=True, text=True, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    return done.returncode, done.stderr + done.stdout


if __name__ == "__main__":
    for each in cases():
        print(f"{each.what}\n  {told(each)}", flush=True)
