"""The built wheel, installed in a new virtual environment and run from another folder.

The environment gets the wheel alone; the libraries are those of the present one, through a path file, so that nothing
is fetched and the test takes seconds.  `.ci/run` installs it with the libraries that it asks for, and no others.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
NOTE = "The drain plug is a 17 mm.  I torqued it to 36 newton metres.\n"


def done(*words: str | Path, folder: Path, status: int = 0) -> str:
    """The standard output of a program that is run in a folder, without the settings of this one's Python."""
    own = ("PYTHON", "SAIDSPEC", "VIRTUAL")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(own)}
    command = [str(word) for word in words]
    ran = subprocess.run(command, cwd=folder, env=kept, capture_output=True, text=True, check=False)
    assert ran.returncode == status, ran.stdout + ran.stderr
    return ran.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this repository."""
    out = tmp_path_factory.mktemp("dist")
    done(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", out, folder=ROOT)
    (made,) = out.glob("saidspec-*.whl")
    return made


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of programs of a new environment that has the wheel."""
    home = tmp_path_factory.mktemp("environment")
    venv.create(home, with_pip=False)
    python = home / "bin" / "python"
    own = Path(done(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", folder=home).strip())
    done(sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-deps", "--no-index", wheel,
         folder=home)  # fmt: skip
    (own / "libraries.pth").write_text(sysconfig.get_path("purelib") + "\n")
    return home / "bin"


@pytest.fixture
def elsewhere(tmp_path: Path) -> Path:
    """A folder with a note, far from the repository."""
    (tmp_path / "note.txt").write_text(NOTE)
    return tmp_path


def test_the_wheel_holds_rules_templates_and_demo_notes(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    rules = ROOT / "patterns"
    wanted = {f"saidspec/patterns_data/{path.relative_to(rules).as_posix()}" for path in rules.glob("**/*.toml")}
    wanted |= {f"saidspec/demo_notes/{path.name}" for path in ROOT.glob("demo_notes/*.*")}
    wanted |= {path.relative_to(ROOT / "src").as_posix() for path in ROOT.glob("src/saidspec/**/*")
               if path.suffix in (".py", ".jinja", ".css", ".sql")}  # fmt: skip
    assert len(wanted) > 200
    assert wanted <= names
    assert not [name for name in names if name.startswith(("tests", "saidspec/tests")) or "__pycache__" in name]


def test_the_program_that_runs_is_the_wheels(installed: Path, elsewhere: Path) -> None:
    home = done(installed / "python", "-c", "import saidspec; print(saidspec.__file__)", folder=elsewhere)
    assert Path(home.strip()).is_relative_to(installed.parent)


def test_extract_from_another_folder(installed: Path, elsewhere: Path) -> None:
    told = json.loads(done(installed / "saidspec", "extract", "note.txt", "--format", "json", folder=elsewhere))
    facts = {fact["kind"]: (fact["component"], fact["value"], fact["unit"]) for fact in told["facts"]}
    assert facts["torque"] == ("drain plug", 36, "N*m")
    assert facts["size"] == ("drain plug", 17, "mm")


def test_demo_from_another_folder(installed: Path, elsewhere: Path) -> None:
    told = done(installed / "saidspec", "demo", "--record", elsewhere / "shown" / "record.db", folder=elsewhere)
    assert told.count(": new, ") == 6
    assert "maker's manual" in told
    assert (elsewhere / "shown" / "log.html").is_file()
    ask = ("find", "drain", "plug", "torque", "--record", "shown/record.db")
    found = done(installed / "saidspec", *ask, folder=elsewhere)
    assert "drain plug: 63 N·m" in found


def test_help_and_a_missing_file(installed: Path, elsewhere: Path) -> None:
    assert "demo" in done(installed / "saidspec", "--help", folder=elsewhere)
    done(installed / "python", "-m", "saidspec", "extract", "nowhere.txt", folder=elsewhere, status=2)
