"""`joblog rates`, from a file of earlier jobs to what a person reads."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from joblog.cli import commands

HEAD = "job,date,item,net,consumed,geometric,task,quantity,crew hours\n"
JOBS = "".join(
    f"job {n},2025-{n:02}-05,soffit panel,40,{44 + n % 3},1,hang soffit,180,{18 + n % 4}\n"
    for n in range(1, 11)
)


@pytest.fixture
def jobs(tmp_path: Path) -> str:
    file = tmp_path / "jobs.csv"
    file.write_text(HEAD + JOBS, "utf-8")
    return str(file)


def test_every_rate_is_printed_with_its_jobs(jobs: str) -> None:
    ran = CliRunner().invoke(commands, ["rates", "--from", jobs])
    assert ran.exit_code == 0
    assert "soffit panel    10" in ran.output
    assert "hang soffit    10" in ran.output


def test_json_holds_n_the_intervals_and_the_source(jobs: str) -> None:
    ran = CliRunner().invoke(commands, ["rates", "--from", jobs, "--json", "--half-life", "5000"])
    soffit, hang = json.loads(ran.output)["rates"]
    assert (soffit["jobs"], soffit["from"], soffit["average_between"]["level"]) == (
        10, "10 jobs", 0.8,
    )  # fmt: skip
    assert soffit["counted"] < 10
    assert hang["kind"] == "hours"
    # 180 ft took 18 to 21 hours: 8.6 to 10 ft an hour, as the page has it.
    low, high = (hang["average_between"][end] for end in ("low", "high"))
    assert 8 < low < hang["average"] < high < 11


def test_csv_is_a_table(jobs: str) -> None:
    ran = CliRunner().invoke(commands, ["rates", "--from", jobs, "--csv"])
    assert ran.output.startswith('rate,kind,jobs,average,"average, 80 %","next job, 80 %",from\n')


def test_the_back_test_tells_coverage_and_cost(jobs: str) -> None:
    ran = CliRunner().invoke(commands, ["rates", "--from", jobs, "--backtest"])
    assert ran.exit_code == 0
    assert "each of the last 9 jobs, predicted from the ones before it" in ran.output
    assert "flat 10 % of net" in ran.output


def test_a_bad_row_is_told_of_beside_the_rates(tmp_path: Path) -> None:
    file = tmp_path / "jobs.csv"
    file.write_text(HEAD + JOBS + "job 11,someday,fascia,3,4,,,,\n", "utf-8")
    ran = CliRunner().invoke(commands, ["rates", "--from", str(file)], standalone_mode=False)
    assert "soffit panel" in ran.stdout
    assert "jobs.csv, row 12: 'someday' is no date" in ran.stderr
    assert ran.return_value == 1


def test_a_half_life_of_nothing_is_refused(jobs: str) -> None:
    ran = CliRunner().invoke(commands, ["rates", "--from", jobs, "--half-life", "0"])
    assert ran.exit_code == 1
    assert "--half-life must be more than zero days" in ran.output
