"""Reading one YAML file strictly: text stays text, positions are kept, and every problem is reported at once."""

import yaml

from docgen.club.problem import Problem
from docgen.club.yamlbytes import STAND_IN, Fault, Source, read_source
from docgen.club.yamldoc import Document
from docgen.club.yamlevents import Builder, Stop
from docgen.club.yamlsyntax import Repair, diagnose

MAX_PROBLEMS = 100
"""Most problems reported of one file."""
MAX_REPAIRS = 30
"""Most faults got past in one file, to see what else is wrong behind them."""
MAX_REPARSED = 8 << 20
"""Most characters parsed again for that."""


def read_yaml(path: str, text: str | bytes) -> tuple[Document | None, list[Problem]]:
    """Read the content of one file as strict YAML.

    Every plain scalar stays text as written (`yes`, `12:30`, `1.10`, `null`); only an empty value is None. Returns the
    document and every problem found, in order of place. The document is None when the file could not be parsed to its
    end. When there are problems, the document is only good for finding more of them: text may have been mended.

    Pure and bounded: `MAX_BYTES`, `MAX_DEPTH`, `MAX_NODES`, `MAX_TEXT`, `MAX_PROBLEMS`. Never raises for any content.
    `path` is only used in the problems.
    """
    source = read_source(text)
    faults = list(source.faults)
    built: Builder | None = None
    if source.lines:
        built, found = _parse(source)
        taken = {fault.line for fault in faults if fault.name != "not-utf-8"}
        faults += [fault for fault in found if fault.line not in taken]
    problems = sorted({_problem(path, fault, source.lines) for fault in faults})
    if len(problems) > MAX_PROBLEMS:
        message = f"the file has {len(problems)} problems; the first {MAX_PROBLEMS} are shown"
        problems = [Problem(path, 0, 0, "too-many-problems", message, "begin with these"), *problems[:MAX_PROBLEMS]]
    if built is None:
        return None, problems
    return Document(path, "\n".join(source.lines), built.data, built.values, built.keys), problems


def _parse(source: Source) -> tuple[Builder | None, list[Fault]]:
    """What the file holds (None if it could not be parsed to its end) and the faults found in it.

    Where the parser gives up on something that one line explains, that is noted, put right in a copy, and the copy
    parsed again, so that one slip does not hide the next.
    """
    lines = source.text.split("\n")
    noted: list[Fault] = []
    failed = False
    parsed = 0
    while True:
        built = Builder(lines)
        error = _run(built)
        parsed += sum(map(len, lines))
        if not isinstance(error, yaml.YAMLError):
            break
        cuts = [fault for fault in built.faults if fault.name == "text-cut"]
        if cuts:
            # A text cut short is the likeliest cause of what does not fit behind it.
            noted += cuts
            repairs = [Repair(cut.line, cut.col, STAND_IN) for cut in cuts]
        else:
            failed = True
            fault, repair = diagnose(error, built)
            explained = {one.line for one in (noted + built.faults if fault.name == "not-yaml" else noted)}
            noted += [fault] if fault.line not in explained else []
            repairs = [repair] if repair else []
            if not repair:
                # What was read behind the place that is to blame may have been misread.
                built.faults = [one for one in built.faults if one.line <= fault.line]
        if not repairs or len(noted) > MAX_REPAIRS or parsed > MAX_REPARSED:
            break
        for repair in repairs:
            lines = _mended(lines, repair)
    if not built.faults and not noted and built.data is None:
        noted.append(Fault(0, 0, "empty-file", "there is nothing in this file", "fill it in, or delete it"))
    taken = {fault.line for fault in noted}
    whole = error is None and not failed
    return built if whole else None, noted + [fault for fault in built.faults if fault.line not in taken]


def _run(built: Builder) -> yaml.YAMLError | Stop | None:
    """Feed a file to the builder; what ended it early, if anything did."""
    try:
        for event in yaml.parse("\n".join(built.lines), Loader=yaml.CSafeLoader):
            built.take(event)
    except (yaml.YAMLError, Stop) as error:
        return error
    return None


def _mended(lines: list[str], repair: Repair) -> list[str]:
    row = lines[repair.line - 1]
    at = repair.col - 1
    row = (row[:at] + repair.text + row[at + len(repair.text) :])[: max(len(row), at + len(repair.text))]
    return [*lines[: repair.line - 1], row, *lines[repair.line :]]


def _problem(path: str, fault: Fault, lines: list[str]) -> Problem:
    row = lines[fault.line - 1] if 1 <= fault.line <= len(lines) else ""
    return Problem(path, fault.line, fault.col, fault.name, fault.message, fault.hint, row)
