"""``zonule serve``: what it says, what it serves, how it ends."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import ProxyHandler, build_opener

import pytest

from cli.commands import PLAIN, PRACTICE, environment, run
from contracts.sources import ROOT
from plan.cases import EXAMPLES
from zonule.web.serving import free_socket

Capture = pytest.CaptureFixture[str]
ADDRESS = re.compile(r"Zonule is at (http://127\.0\.0\.1:(\d+)/) \. Stop with Ctrl\+C\.\n")


class Serving:
    """One ``zonule serve`` as a process of its own."""

    def __init__(self, *arguments: str, cwd: Path = ROOT) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "zonule", "serve", *arguments],
            cwd=cwd,
            env=environment(),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    def __enter__(self) -> Serving:
        assert self.process.stdout is not None
        said = self.process.stdout.readline()
        found = ADDRESS.fullmatch(said)
        assert found, said or self.process.communicate()
        self.address, self.port = found[1], int(found[2])
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.communicate()

    def ask(self, path: str = "") -> tuple[int, str]:
        try:
            with build_opener(ProxyHandler({})).open(f"{self.address}{path}") as answer:
                return answer.status, answer.read().decode()
        except HTTPError as refused:
            with refused:
                return refused.code, refused.read().decode()

    def end(self) -> tuple[int, str, str]:
        out, err = self.process.communicate(timeout=60)
        return self.process.returncode, out, err


def test_the_examples_are_served_where_there_are_any_until_it_is_stopped() -> None:
    with Serving("--port", "0", "--today", "2026-11-25") as serving:
        status, text = serving.ask()
        assert status == 200
        assert "6 cases</h1>" in text
        assert serving.ask("plan/hard-second-eye")[0] == 200
        serving.process.send_signal(signal.SIGINT)
        assert serving.end() == (0, "", "")


def test_the_folder_one_is_in_is_served_where_there_are_no_examples(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(Path(PLAIN).read_text("utf-8"), "utf-8")
    with Serving("--port", "0", "--practice", PRACTICE, cwd=tmp_path) as serving:
        assert "1 case</h1>" in serving.ask()[1]
    assert list(tmp_path.iterdir()) == [tmp_path / "mine.toml"]


def test_one_case_is_served_alone_and_its_address_said() -> None:
    with Serving(PLAIN, "--port", "0") as serving:
        assert serving.process.stdout is not None
        said = serving.process.stdout.readline()
        assert said == f"The plan of plain-eye: {serving.address}plan/plain-eye\n"
        assert serving.ask("plan/plain-eye")[0] == 200
        assert serving.ask("plan/hard-second-eye")[0] == 404


def test_once_ends_after_a_page_was_answered() -> None:
    with Serving("examples", "--port", "0", "--once") as serving:
        assert serving.ask("static/base.css")[0] == 200
        assert serving.process.poll() is None
        assert serving.ask("plan/plain-eye")[0] == 200
        assert serving.end() == (0, "One page was answered (status 200); Zonule ends.\n", "")


def test_a_port_that_is_taken_gives_way_to_the_next_free_one() -> None:
    with free_socket(0) as taken:
        port = taken.getsockname()[1]
        with Serving("--port", str(port)) as serving:
            assert port < serving.port < port + 50


def test_it_starts_with_a_case_that_has_faults(tmp_path: Path) -> None:
    text = Path(PLAIN).read_text("utf-8").replace("23.47", "234.7")
    (tmp_path / "slip.toml").write_text(text, "utf-8")
    with Serving(str(tmp_path), "--practice", PRACTICE, "--port", "0", "--once") as serving:
        status, told = serving.ask("plan/slip")
        assert (status, "must be 15 to 40 mm" in told) == (422, True)
        assert serving.end()[0] == 1


def test_what_is_not_there_is_told(capsys: Capture) -> None:
    told = run(capsys, "serve", "no-such-folder", "--practice", PRACTICE)
    assert (told.status, told.out) == (1, "")
    assert told.err.startswith("Folder or case no-such-folder: is not there. Name a folder")


def test_without_any_practice_file_it_says_how_to_name_one(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("ZONULE_PRACTICE", raising=False)
    (tmp_path / "mine.toml").write_text(Path(PLAIN).read_text("utf-8"), "utf-8")
    told = run(capsys, "serve", str(tmp_path))
    assert (told.status, told.out) == (1, "")
    assert "none beside mine.toml, none named" in told.err


@pytest.mark.parametrize("port", ["x", "-1", "70000", "80.5", "٣"])
def test_a_wrong_port_is_wrong_use(port: str, capsys: Capture) -> None:
    told = run(capsys, "serve", str(EXAMPLES), f"--port={port}")
    assert (told.status, told.out) == (2, "")
    assert told.err.endswith("is no port; write a number from 0 to 65535\n")


def test_help_loads_no_server() -> None:
    code = (
        "import sys; from zonule.cli import main\n"
        "try: main(['serve', '--help'])\n"
        "except SystemExit: pass\n"
        "loaded = {name.partition('.')[0] for name in sys.modules}\n"
        "assert not loaded & {'starlette', 'uvicorn', 'jinja2', 'numpy', 'rich', 'typst'}, loaded\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=False, env=dict(os.environ)
    )
    assert ran.returncode == 0, ran.stderr.decode()
