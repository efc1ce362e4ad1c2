"""Scans on the command line: where each stands, its densities, and a whole folder handed in at once."""

import json as json_text
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from silverwright.cli.told import EXIT_CODES, pairs, telling
from silverwright.errors import ScanRefused

if TYPE_CHECKING:
    from collections.abc import Mapping

    from silverwright.book.models import Calibration
    from silverwright.book.scans import ScanKnown, ScanLine, StepKnown

SCANS: Final = frozenset({".tif", ".tiff", ".png", ".jpg", ".jpeg"})
SAYS: Final = {
    "waiting": "waits to be read",
    "running": "is being read",
    "failed": "could not be read",
    "stopped": "was stopped",
    "refused": "cannot be used",
    "untagged": "has no profile: say what its numbers mean",
    "unsure": "waits for its grid: none was found for sure",
    "looked": "is read; mark the places whose density is wanted",
    "measured": "is measured",
}
NOT_USED: Final = frozenset({"refused", "failed"})
USED: Final = 0  # arithmetic: the exit code of what went well
JSON_OPTION: Final = click.Option(["--json"], is_flag=True, help="Everything as JSON, with every figure.")


def where_it_stands(found: "ScanKnown") -> str:
    """`scan-003, sheet 26-018: is measured, 12 densities.` and what is in the way."""
    of = f"sheet {found.scan.sheet}" if found.scan.sheet else "a step tablet"
    many = f", {len(found.densities.densities)} densities" if found.densities else ""
    failed = found.job.said if found.job and found.state == "failed" else ""
    why = " ".join(filter(None, (found.scan.said, found.why_not, failed, _place_it(found) if found.state == "unsure" else "")))
    return f"{found.scan} of {of} {SAYS[found.state]}{many}.{f' {why}' if why else ''}"


def _place_it(found: "ScanKnown") -> str:
    """How the grid is placed from here, beginning with the best guess."""
    grid = found.scan.grid or {"corners": [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]], "rows": "ROWS", "columns": "COLUMNS"}
    corners = " ".join(f"{100 * part:.1f}" for corner in grid["corners"] for part in corner)
    return f"silverwright grid --scan {found.scan} --corners-percent '{corners}' --rows {grid['rows']} --columns {grid['columns']}"


def _line(one: "ScanLine") -> str:
    """`scan-003 of sheet 26-018 is measured, 12 patches.`"""
    of = f"sheet {one.scan.sheet}" if one.scan.sheet else "a step tablet"
    return f"{one.scan} of {of} {SAYS[one.state]}{f', {one.patches} patches' if one.patches else ''}.{f' {one.scan.said}' if one.scan.said else ''}"


def list_scans(*, json: bool) -> None:
    """Every scan, the newest first."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.documents import document
        from silverwright.book.scans import scans

        found = scans()
    if json:
        click.echo(json_text.dumps(document(found), indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(_line(one) for one in found) or "No scan is in the book yet.")


def tell_densities(*, scan: str, json: bool) -> None:
    """The densities of one scan; what waits for it is done first."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.documents import document
        from silverwright.book.scans import scan_known
        from silverwright.cli.told import tell
        from silverwright.workshop.worker import finish

        finish(scan)
        found = scan_known(scan)
    click.echo(json_text.dumps(document(found), indent=2, ensure_ascii=False) if json else where_it_stands(found))
    if found.state in NOT_USED:
        raise click.exceptions.Exit(EXIT_CODES[ScanRefused])
    if json:
        return
    if (answer := found.densities) is not None:
        rows = zip(answer.positions, answer.densities, answer.density_sds, strict=True)
        what = "place" if found.scan.places else "patch"
        click.echo(pairs([(f"{what} {place:g}", f"{density:.3f} ± {sd:.3f}") for place, density, sd in rows]))
        click.echo("\n" + tell(answer, without=("positions", "densities", "density_sds")))


def tell_calibration(*, scanner: str, json: bool) -> None:
    """How a scanner tells density: every step of its tablet with its miss, and what is odd or left out."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        from silverwright.book.documents import document
        from silverwright.book.scans import calibration_known

        found = calibration_known(scanner)
    click.echo(json_text.dumps(document(found), indent=2, ensure_ascii=False) if json else _calibration(found))


def _calibration(found: "Calibration") -> str:
    """`step 7  0.950  missed by +0.071  look at it`"""
    from silverwright.book.scans import steps_known
    from silverwright.cli.told import remarks

    head = f"“{found.scanner}” is calibrated; a step that is left out in turn is missed by at most {found.largest_miss:.3f}."
    return "\n".join([head, pairs([(f"step {one.number}", _step(one)) for one in steps_known(found)]), *remarks(found.answer.answer["notes"])])


def _step(one: "StepKnown") -> str:
    """Its density, its miss, and what is to be said of it."""
    missed = "" if one.miss_density is None else f"missed by {one.miss_density:+.3f}".replace("-", "\N{MINUS SIGN}")
    says = "" if one.standing == "counts" else f"left out: {one.reason}" if one.reason else one.standing
    return f"{one.density:.3f}  {missed:<16}  {says}".rstrip()


def hand_in_folder(*, folder: str, scanner: str | None, shows: str, columns: str | None, rows: str | None) -> None:
    """Every scan of a folder; what belongs to no sheet is named and left alone. When none of them is of use, it ends as a single one would."""
    from silverwright.book.opening import open_book

    with telling():
        open_book()
        files = [file for file in sorted(Path(folder).expanduser().iterdir()) if file.suffix.lower() in SCANS]
        if not files:
            click.echo(f"{folder}: no TIFF, PNG or JPEG file is in it.")
        how = {"scanner": scanner, "shows": shows, "columns": columns, "rows": rows}
        ends = {_hand_in(file, how) for file in files}
    if ends and USED not in ends:
        raise click.exceptions.Exit(max(ends))


def _hand_in(file: Path, how: "Mapping[str, str | None]") -> int:
    """One file of a folder, told in a line; how it would end by itself."""
    from silverwright.book.scans import scan_known
    from silverwright.cli.fields import handed_in
    from silverwright.errors import BadQuestion
    from silverwright.workshop.deeds import do
    from silverwright.workshop.folder import sheet_of
    from silverwright.workshop.worker import finish

    if (sheet := sheet_of(file.name)) is None:
        click.echo(f"{file.name}: begins with no number of a sheet in the book, and was left alone.")
        return EXIT_CODES[BadQuestion]
    try:
        kept = handed_in(str(file))
        key = f"folder {kept} {sheet} {how['scanner']} {how['shows']} {how['rows']} {how['columns']}"
        done = do("scan", {**how, "sheet": sheet, "handed_in_as": file.name, "file": kept}, key=key)
    except BadQuestion as bad:
        click.echo(f"{file.name}: {' '.join(fault.problem for fault in bad.faults)}")
        return EXIT_CODES[BadQuestion]
    finish(done.name)
    found = scan_known(done.name)
    click.echo(f"{file.name}: {where_it_stands(found)}")
    return EXIT_CODES[ScanRefused] if found.state in NOT_USED else USED


def command(name: str) -> click.Command:
    """`silverwright scans`, `silverwright densities`, `silverwright calibration` and `silverwright folder`."""
    if name == "scans":
        example = "\b\nExample:\n  silverwright scans"
        return click.Command(name, params=[JSON_OPTION], callback=list_scans, help="List the scans, and where each stands.", epilog=example)
    if name == "densities":
        return click.Command(
            name,
            params=[click.Argument(["scan"], metavar="SCAN"), JSON_OPTION],
            callback=tell_densities,
            help="The densities of one scan, by its scanner's newest calibration.",
            epilog="\b\nExample:\n  silverwright densities scan-003",
        )
    if name == "calibration":
        return click.Command(
            name,
            params=[click.Argument(["scanner"], metavar="SCANNER"), JSON_OPTION],
            callback=tell_calibration,
            help="How a scanner tells density: the steps of its tablet, which of them to look at, and which are left out.",
            epilog="\b\nExample:\n  silverwright calibration 'flatbed in the office'",
        )
    return click.Command(
        name,
        params=[
            click.Argument(["folder"]),
            click.Option(["--scanner"], metavar="[scanner]", help="The scanner that made them."),
            click.Option(["--shows"], type=click.Choice(["step sheet", "picture"]), default="picture", help="What they show."),
            click.Option(["--rows"], metavar="[number]", help="Rows of patches on a step sheet."),
            click.Option(["--columns"], metavar="[number]", help="Patches in a row."),
        ],
        callback=hand_in_folder,
        help="Hand in every scan of a folder; a file that begins with a sheet's number, 26-018.tif, shows that sheet. Again, nothing doubles.",
        epilog="\b\nExample:\n  silverwright folder ~/scans --scanner 'flatbed in the office' --shows 'step sheet' --columns 12 --rows 1",
    )
