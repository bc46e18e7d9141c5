"""What one job needs on the bench: tools that follow from its steps, materials added up, spares."""

from collections.abc import Container, Iterable, Iterator
from decimal import Decimal

from docgen.club.schema.procedure import Procedure, Step
from docgen.club.schema.refers import references
from docgen.job import tooling
from docgen.job.figures import Figures, tightness, torque_of
from docgen.job.hazards import materials_of
from docgen.job.job import MaterialLine, SpareLine, ToolLine
from docgen.trade.quantity import Quantity


def tools_of(procedure: Procedure, steps: Iterable[Step], figures: Figures) -> tuple[ToolLine, ...]:
    """The tools to lay out, each once, with what it is for; gauges behind the tools."""
    lines: dict[tuple[str, str], list[str]] = {}
    gauges: dict[tuple[str, str], list[str]] = {}
    club = figures.club

    def lay_out(group: dict[tuple[str, str], list[str]], register: str, name: str, used_for: str) -> None:
        uses = group.setdefault((register, name), [])
        if used_for and used_for not in uses:
            uses.append(used_for)

    for step in steps:
        for name in (*step.undoes, *step.starts, *step.tightens):
            fastener, called = figures.fastener(name), figures.in_text(name.partition("/")[0])
            register, tool = tooling.drive_tool(club, fastener, figures.words)
            if tool and tool != figures.words(tooling.DRIVE_TOOLS["hand"]):
                lay_out(lines, register, tool, called)
            for extra in (*fastener.tools, *((fastener.holding_tool,) if fastener.holding_tool else ())):
                lay_out(lines, extra, club.tools[extra].name if extra in club.tools else extra, called)
        for name in step.tightens:
            torque = torque_of(tightness(figures, name))
            wrench = tooling.torque_wrench(club, torque) if torque else None
            if wrench:
                lay_out(lines, wrench[0], wrench[1].wrench.name, figures.in_text(name.partition("/")[0]))
        for tool in (*step.tools, *stated(step, club.tools)):
            lay_out(lines, tool, club.tools[tool].name if tool in club.tools else tool, "")
        needed = [(n, figures.limit(n).gauge) for n in (step.measure.of if step.measure else ())]
        needed += [(n, figures.setting(n).gauge) for n in (*step.finds, *step.sets)]
        for name, gauge in needed:
            if gauge:
                called = club.gauges[gauge].name if gauge in club.gauges else gauge
                lay_out(gauges, gauge, called, figures.in_text(name))
    for tool in procedure.tools:
        lay_out(lines, tool, club.tools[tool].name if tool in club.tools else tool, "")
    return tuple(
        ToolLine(id=register, name=name, used_for=", ".join(uses))
        for (register, name), uses in (lines | gauges).items()
    )


def stated(step: Step, register: Container[str]) -> Iterator[str]:
    """What of a register the step names."""
    return (one.name for one in references(step) if one.registers and one.name in register)


def materials_lines(steps: Iterable[Step], figures: Figures) -> tuple[MaterialLine, ...]:
    """The materials to lay out, with the amounts added up where the steps state them."""
    amounts: dict[str, list[Quantity]] = {}
    for step in steps:
        for name in dict.fromkeys((*materials_of(step, figures.model), *stated(step, figures.club.materials))):
            amounts.setdefault(name, [])
        for part in step.cleans.values():
            if part.material and part.amount:
                amounts[part.material].append(part.amount)
        for name, use in step.applies.items():
            amounts[name] += [use.amount] if use.amount else []
        for fluid in (figures.model.fluids[name] for name in step.fills if name in figures.model.fluids):
            amounts[fluid.materials[0]] += [tooling.middle(fluid.amount)] if fluid.amount else []
    lines = []
    for name, parts in amounts.items():
        material = figures.club.materials.get(name)
        lines.append(
            MaterialLine(
                id=name,
                name=material.name if material else name,
                amounts=tuple(_sums(parts)),
                classed=material.classed if material else (),
                waste=(material.waste or "") if material else "",
            )
        )
    return tuple(lines)


def _sums(amounts: list[Quantity]) -> list[Quantity]:
    totals: dict[str, Decimal] = {}
    for amount in amounts:
        totals[amount.unit] = totals.get(amount.unit, Decimal(0)) + amount.value
    return [Quantity(value, unit) for unit, value in totals.items()]


def spares_of(procedure: Procedure, steps: Iterable[Step], figures: Figures) -> tuple[SpareLine, ...]:
    """The parts that the job renews for sure, then those to have at hand in case a check fails."""
    sure: dict[str, int] = {}
    maybe: dict[str, int] = dict.fromkeys(procedure.spares, 1)
    for step in steps:
        for name in step.renews:
            base, _, member = name.partition("/")
            sure[base] = sure.get(base, 0) + (1 if member else figures.item(base).count)
        for _, fail in step.fails:
            for name in fail.renews or ():
                maybe.setdefault(name.partition("/")[0], 1)
    return tuple(_spare(figures, name, count, True) for name, count in sure.items()) + tuple(
        _spare(figures, name, count, False) for name, count in maybe.items() if name not in sure
    )


def wanted_of(procedure: Procedure, steps: Iterable[Step], figures: Figures) -> tuple[SpareLine, ...]:
    """The parts that open findings ask for, where they call for this job, or for none and this one renews the part."""
    own = {line.item for line in spares_of(procedure, steps, figures)}
    counts: dict[str, int] = {}
    for finding in figures.state.findings:
        for name in finding.spares:
            base, _, member = name.partition("/")
            if finding.calls in (procedure.procedure, *procedure.covers) or (not finding.calls and base in own):
                counts[base] = max(counts.get(base, 0), 1 if member else figures.item(base).count)
    return tuple(_spare(figures, name, count, True) for name, count in counts.items())


def _spare(figures: Figures, name: str, count: int, sure: bool) -> SpareLine:
    number = figures.item(name).number or ""
    return SpareLine(item=name, name=figures.name(name), number=number, count=count, sure=sure)
