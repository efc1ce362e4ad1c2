"""
The wheel: built with the locked backend, installed beside the lock into an empty environment, and used there.

Its server, with the boatyard in its book, must answer the first page, a stylesheet, a chart and a field note, and its command line a question.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlencode
from zipfile import ZipFile

from tools.bootstrap import LOCKS, ROOT, uv_works
from tools.start import PATIENCE_S, POLL_S, answered, free_port

# One file of each kind that a wheel without it would only miss when somebody needs it.
INSIDE = (
    "silverwright/py.typed",
    "silverwright/facts/sources.toml",
    "silverwright/facts/reciprocity.csv",
    "silverwright/book/migrations/0001_start.py",
    "silverwright/web/templates/base.html",
    "silverwright/web/static/house.css",
    "silverwright/report/fonts/Archivo-Regular.ttf",
    "silverwright/workshop/example.toml",
)
EXPOSURE = {"reading_ev": 10, "focal_mm": 210, "extension_mm": 315, "aperture_f": "f/22", "paper_ei": 1.5}


def build(into: Path) -> Path:
    """The wheel, with what belongs in it."""
    subprocess.run([sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", into], cwd=ROOT, check=True)
    (wheel,) = into.glob("*.whl")
    names = set(ZipFile(wheel).namelist())
    if missing := [name for name in INSIDE if name not in names]:
        raise SystemExit(f"The wheel lacks {', '.join(missing)}.")
    if strays := [name for name in names if not name.startswith(("silverwright/", "silverwright-"))]:
        raise SystemExit(f"The wheel holds {', '.join(strays)}.")
    return wheel


def install(wheel: Path, into: Path) -> Path:
    """An empty environment with the lock and the wheel; its folder of programs."""
    if uv_works():
        subprocess.run(["uv", "venv", "--quiet", "--python", sys.executable, into], check=True)
        pip = ["uv", "pip", "install", "--quiet", "--compile-bytecode", "--python", str(into / "bin" / "python")]
    else:
        subprocess.run([sys.executable, "-m", "venv", into], check=True)
        pip = [str(into / "bin" / "python"), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*pip, "--require-hashes", "-r", ROOT / LOCKS["run"]], check=True)
    subprocess.run([*pip, "--no-deps", wheel], check=True)
    return into / "bin"


class Visitor:
    """Somebody who opens pages."""

    def __init__(self, port: int) -> None:
        self.port = port

    def get(self, path: str, kind: str) -> bytes:
        """A page of that kind, or the end."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        connection.request("GET", path)
        answer = connection.getresponse()
        body = answer.read()
        if answer.status != 200 or not (answer.getheader("Content-Type") or "").startswith(kind):  # noqa: PLR2004 (the standard's "here it is")
            raise SystemExit(f"{path} answered {answer.status} {answer.getheader('Content-Type')}, not {kind}.")
        print(f"  {path.split('?', maxsplit=1)[0]}: {len(body)} bytes of {kind}")
        return body

    def wait(self) -> None:
        """Until the server answers."""
        end = time.monotonic() + PATIENCE_S
        while not answered(self.port):
            if time.monotonic() > end:
                raise SystemExit("The server did not answer.")
            time.sleep(POLL_S)


def visit(visitor: Visitor) -> None:
    """First page, stylesheet, chart, field note."""
    visitor.wait()
    page = visitor.get("/", "text/html").decode()
    sheet = re.search(r'<link[^>]*href="([^"]+\.css)"', page)
    if sheet is None:
        raise SystemExit("The first page names no stylesheet.")
    visitor.get(sheet[1], "text/css")
    shown = visitor.get(f"/camera?{urlencode(EXPOSURE)}", "text/html").decode()
    if "<svg" not in shown or "1:37" not in shown:
        raise SystemExit("The Camera page shows no bars of the ledger, or not 1:37.")
    if 'aria-label="Curve of step sheet' not in visitor.get("/findings", "text/html").decode():
        raise SystemExit("The Findings page shows no curve.")
    if not visitor.get(f"/camera/fieldnote.pdf?{urlencode(EXPOSURE)}", "application/pdf").startswith(b"%PDF-"):
        raise SystemExit("The field note is no PDF.")


def ask(programs: Path, home: Path) -> None:
    """One question on its command line."""
    command: list[str | Path] = [programs / "silverwright", "ask", "exposure.bellows", "--focal-mm", "210", "--extension-mm", "315", "--json"]
    told = subprocess.run(command, cwd=home, capture_output=True, text=True, check=True).stdout
    factor = json.loads(told)["factor"]["value"]
    if factor != 2.25:  # noqa: PLR2004 (one and a half squared)
        raise SystemExit(f"The bellows factor is {factor}, not 2.25.")
    print(f"  ask exposure.bellows: {factor}")


def main() -> None:
    """Build, install, use."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        wheel = build(folder / "dist")
        programs = install(wheel, folder / "environment")
        ask(programs, folder)
        port = free_port()
        environment = os.environ | {"PORT": str(port), "SILVERWRIGHT_HOME": str(folder / "home"), "SILVERWRIGHT_EXAMPLE": "1"}
        environment.pop("PYTHONPATH", None)
        server = subprocess.Popen([programs / "silverwright", "serve"], cwd=folder, env=environment)
        try:
            visit(Visitor(port))
        finally:
            server.terminate()
            server.wait()
        if server.returncode:
            raise SystemExit(f"The server ended with {server.returncode}.")
        (ROOT / "dist").mkdir(exist_ok=True)
        shutil.copy(wheel, ROOT / "dist")
        print(f"dist/{wheel.name}")


if __name__ == "__main__":
    main()
