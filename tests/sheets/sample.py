"""A rich job made by hand: every mark that a step can carry, on one invented engine."""

from __future__ import annotations

from datetime import date

from docgen.club.schema.club import Club
from docgen.job import marks as m
from docgen.job.figure import Figure
from docgen.job.job import (
    Check,
    DeviationLine,
    Done,
    Instructions,
    Issue,
    Job,
    JobStage,
    JobStep,
    MaterialLine,
    Message,
    PastReading,
    SealLine,
    SpareLine,
    ToolLine,
)
from docgen.trade.quantity import parse_band, parse_quantity


def sample_club(paper: str = "A4", distance: str = "700 mm") -> Club:
    """The club that prints it."""
    return Club(
        club="Quarry Lane Kart Club",
        paper=paper,
        bench_distance=parse_quantity(distance),
        hours_a_meeting=parse_quantity("1.5 h"),
        torque_shown=("N.m", "lbf.ft"),
    )


def given(text: str) -> Figure:
    """A figure of the model."""
    return Figure(band=parse_band(text), origin="model")


BLANK = Figure(origin="blank")
SOLVENT = Message(
    word="warning",
    hazards=("solvent", "fumes"),
    hazard="Brake cleaner burns and its vapour is heavy.",
    consequence="Fire or fainting can kill.",
    avoid="Open the door. Keep flames and sparks away. Wear gloves and goggles.",
)
CURRENT = Message(
    word="danger",
    hazards=("current",),
    hazard="The starter can turn the engine.",
    consequence="It will crush or cut off fingers.",
    avoid="Keep the negative lead off the battery until the last step.",
)
PINCH = Message(
    word="caution",
    hazards=("spring",),
    hazard="The clutch springs are under load.",
    consequence="A spring that jumps off can hurt an eye.",
    avoid="Wear goggles. Hold a rag over the spring.",
)
GUM = Message(
    word="notice",
    hazard="Too much threadlocker runs into the washers.",
    consequence="The clutch drags and the drum must come off again.",
    avoid="One small drop is enough.",
)


def _step(
    number: int, key: str, text: str, *marks: m.Mark,
    why: str = "", messages: tuple[Message, ...] = (), takes: str | None = None,
) -> JobStep:  # fmt: skip
    return JobStep(number=number, key=key, text=text, why=why, marks=marks, messages=messages, takes=takes)


def sample_stages() -> tuple[JobStage, ...]:
    """The steps."""
    washer = {"kind": "washer", "outer": "21 mm", "inner": "12.2 mm", "thick": "1.5 mm", "chamfer": "0.5 mm"}
    return (
        JobStage(
            title="Make safe",
            steps=(
                _step(1, "battery-off", "Take the negative lead off the battery.", messages=(CURRENT,)),
                _step(
                    2,
                    "seal-off",
                    "Cut the seal wire on the cylinder.",
                    m.SealMark(
                        key="seal-removed-cylinder", item="cylinder", name="cylinder", number="QL-4471", when="removed"
                    ),
                ),
                _step(
                    3,
                    "lead-free",
                    "Free the ignition lead from its clip on the clutch cover.",
                    m.ToolMark(name="ignition lead clip", drive="hand"),
                    why="Pulled by the cover, the lead breaks inside where nobody sees it.",
                ),
            ),
        ),
        JobStage(
            title="Open",
            steps=(
                _step(
                    4,
                    "cover-off",
                    "Undo the cover screws and take the cover off.",
                    m.ToolMark(
                        name="clutch cover screw", count=4, drive="hex-socket 4 mm", note="left front one is longer"
                    ),
                ),
                _step(
                    5,
                    "needle-found",
                    "Count the low-speed needle in to its seat, then write the turns down.",
                    m.SettingMark(
                        key="low-needle-found",
                        setting="low-needle",
                        name="Low-speed needle",
                        when="found",
                        unit="turn",
                        start=given("1.25..1.5 turn"),
                        datum="out from lightly seated",
                    ),
                ),
                _step(
                    6,
                    "nut-off",
                    "Undo the clutch nut.",
                    m.ToolMark(
                        name="clutch nut", drive="hex 17 mm",
                        size="hex 17 mm", holding_tool="clutch holder", note="right-hand thread"
                    ),
                    why="The holder takes the load. A rope in the cylinder bends the reed stops.",
                ),
                _step(
                    7,
                    "drum-off",
                    "Take the outer thrust washer, the drum and its bearing off, and lay them down in that order.",
                    messages=(PINCH,),
                ),
            ),
        ),
        JobStage(
            title="Clean and inspect",
            steps=(
                _step(
                    8,
                    "clean-drum",
                    "Clean the drum and the shoes until a white rag stays white.",
                    m.ApplyMark(material="brake cleaner", to=("clutch drum", "clutch shoes"), cleaning=True),
                    m.RepeatMark(key="repeat-clean-drum", until="the rag stays white", at_most=3),
                    messages=(SOLVENT,),
                ),
                _step(
                    9,
                    "outer-washer-worn",
                    "Look at the outer thrust washer on both faces.",
                    m.LookMark(
                        key="outer-washer-worn", accept="Flat on both faces, no step, no blue colour.", fail="Renew it."
                    ),
                    m.RenewMark(
                        key="renew-outer-thrust-washer",
                        item="outer-thrust-washer",
                        name="outer thrust washer",
                        number="AL-1127",
                        if_needed=True,
                    ),
                ),
                _step(
                    10,
                    "measure-shoes",
                    "Measure each shoe at its thinnest place.",
                    m.ReadingMark(
                        key="measure-shoe-lining",
                        limit="shoe-lining",
                        name="Shoe lining",
                        unit="mm",
                        new=given("3.0..3.2 mm"),
                        allow=given(">= 2.0 mm"),
                        accept=">= 2.05 mm",
                        undecided="1.95..2.05 mm",
                        gauge="digital caliper, 0.01 mm",
                        kind="height",
                        where="middle of the shoe",
                        positions=("shoe 1", "shoe 2"),
                        fail="Renew both shoes.",
                    ),
                ),
                _step(
                    11,
                    "measure-clearance",
                    "Measure the clutch clearance.",
                    m.ReadingMark(
                        key="measure-clutch-clearance",
                        limit="clutch-clearance",
                        name="Clutch clearance",
                        unit="mm",
                        new=given("0.60..1.00 mm"),
                        allow=Figure(
                            band=parse_band("0.60..1.50 mm"), origin="deviation", source="drum bored 0.1 mm over"
                        ),
                        kind="diametral",
                        derived="drum bore less shoe diameter",
                        fail="Below 0.60 mm the parts are wrong.",
                    ),
                    m.HoldMark(key="hold-clearance", why="The clearance decides whether the clutch drags at idle."),
                    why="Wear widens the clearance.",
                ),
            ),
        ),
        JobStage(
            title="Close",
            steps=(
                _step(
                    12,
                    "inner-washer-on",
                    "Slide the inner thrust washer on, chamfer first, then the O-ring.",
                    m.OrientationMark(
                        key="fit-inner-thrust-washer",
                        item="inner-thrust-washer",
                        name="Inner thrust washer",
                        face="chamfered face",
                        towards="the crankcase",
                        shape=washer,
                    ),
                ),
                _step(
                    13,
                    "drum-on",
                    "Grease the bearing, then slide the bearing and the drum on.",
                    m.ApplyMark(material="bearing grease", to=("drum bearing",), amount="2 g"),
                    m.OrientationMark(
                        key="fit-drum-bearing",
                        item="drum-bearing",
                        name="Drum bearing",
                        face="marked face",
                        towards="the clutch nut",
                        shape={"kind": "bearing", "outer": "19 mm", "inner": "15 mm"},
                    ),
                ),
                _step(
                    14,
                    "locker-on",
                    "Put one small drop of threadlocker on the shaft end and spread it.",
                    m.ApplyMark(material="threadlocker, medium", to=("shaft end",), amount="0.05 ml"),
                    messages=(GUM,),
                ),
                _step(
                    15,
                    "tighten-nut",
                    "Tighten the clutch nut.",
                    m.TorqueMark(
                        key="tighten-clutch-nut",
                        item="clutch-nut",
                        name="Clutch nut",
                        value=given("34 N.m +/- 10 %"),
                        also=("25 lbf.ft",),
                        set_to="34 N.m",
                        thread="M10x1.25",
                        drive="hex 17 mm",
                        size="hex 17 mm",
                        holding_tool="clutch holder",
                        wrench="torque wrench 10..60 N.m",
                        lubrication="threadlocker",
                        locker="threadlocker, medium",
                        cure="24 h",
                        critical=True,
                        painted=True,
                    ),
                    why="Loose, it lets the drum walk. Too tight, it loads the inner washer.",
                ),
                _step(
                    16,
                    "wait-cure",
                    "Let the threadlocker cure before the engine runs.",
                    m.WaitMark(key="wait-cure", time="24 h", why="handling strength comes after 20 min"),
                ),
                _step(
                    17,
                    "earth-strap",
                    "Tighten the earth strap screw.",
                    m.TorqueMark(
                        key="tighten-earth-strap-screw",
                        item="earth-strap-screw",
                        name="Earth strap screw",
                        value=Figure(
                            band=parse_band("6.5 N.m"), origin="computed", governs="boss",
                            assumptions=("re-tapped M6x1 in aluminium",),
                        ),
                        also=("58 lbf.in",),
                        thread="M6x1",
                        drive="hex-socket 5 mm",
                        size="hex-socket 5 mm",
                        critical=True,
                    ),
                ),
                _step(
                    18,
                    "cylinder-nuts",
                    "Start all four cylinder nuts, then tighten them crosswise.",
                    m.StartMark(key="start-cylinder-nuts", name="cylinder nuts", count=4),
                    m.TorqueMark(
                        key="tighten-cylinder-nuts",
                        item="cylinder-nuts",
                        name="cylinder nuts",
                        count=4,
                        value=BLANK,
                        thread="M8x1.25",
                        drive="hex 13 mm",
                        start_all_first=True,
                        pattern="circle",
                        critical=True,
                        lubrication="oiled",
                    ),
                ),
                _step(
                    19,
                    "gear-cover",
                    "Do the gear cover screws up gently.",
                    m.TorqueMark(
                        key="tighten-gear-cover-screws",
                        item="gear-cover-screws",
                        name="Gear cover screw",
                        count=3,
                        value=Figure(words="until it just nips", origin="model"),
                        by_feel=True,
                        hand_only=True,
                        drive="hexalobular 20",
                    ),
                ),
                _step(
                    20,
                    "seal-on",
                    "Fit the new seal wire on the cylinder.",
                    m.SealMark(
                        key="seal-fitted-cylinder", item="cylinder", name="cylinder", number="QL-4471", when="fitted"
                    ),
                ),
                _step(
                    21,
                    "battery-on",
                    "Put the negative lead back on the battery. This is the last step.",
                    m.ValueMark(name="Battery at rest", value=Figure(band=parse_band("12.6 V"), origin="club")),
                ),
            ),
        ),
    )


def sample_job(**changes: object) -> Job:
    """The whole job; ``changes`` replace fields of its instructions."""
    told = Instructions(
        engine="017",
        serial="A100-20931",
        model="alder-100r",
        model_title="Alder 100R",
        manual="Alder 100R workshop manual, issue 3",
        components={"carburettor": "C-12", "clutch": "K-7"},
        procedure="clutch-service",
        title="Clutch: clean, inspect and regrease",
        code="CLU",
        revision=4,
        dated=date(2026, 1, 18),
        author="Quarry Lane workshop",
        licence="CC BY 4.0",
        purpose="A dry clutch that drags overheats the drum and eats its bearing.",
        before=(
            "Engine cold enough to hold in the bare hand.",
            "Kart on a stand that cannot roll.",
            "Fuel tap closed, tank cap tight.",
        ),
        tools=tuple(
            ToolLine(id=f"t{n}", name=name, used_for=used)
            for n, (name, used) in enumerate(
                (
                    ("17 mm socket", "clutch nut"),
                    ("Clutch holder", "clutch nut"),
                    ("4 mm hex key", "cover screws"),
                    ("5 mm hex key", "earth strap screw"),
                    ("Torque wrench 10..60 N.m", "clutch nut, cylinder nuts"),
                    ("Hexalobular 20 driver", "gear cover"),
                    ("Digital caliper 0.01 mm", "shoes, drum"),
                    ("Seal pliers", ""),
                )
            )
        ),
        materials=(
            MaterialLine(id="bc", name="Brake cleaner", waste="rags into the metal bin"),
            MaterialLine(id="bg", name="Bearing grease", amounts=("2 g",)),
            MaterialLine(id="tl", name="Threadlocker, medium", amounts=("0.05 ml",)),
        ),
        spares=(
            SpareLine(item="outer-thrust-washer", name="Outer thrust washer", number="AL-1127"),
            SpareLine(item="shaft-o-ring", name="Shaft O-ring", number="AL-1130", sure=True),
        ),
        deviations=(
            DeviationLine(
                item="earth-strap-screw",
                name="Earth strap screw",
                what="re-tapped M6x1, was M5x0.8",
                dated=date(2025, 9, 2),
                figures=("M6x1", "hex-socket 5 mm"),
                voids="the maker's torque 4.5 N.m and the 4 mm key",
            ),
            DeviationLine(
                item="clutch-drum",
                name="Clutch drum",
                what="bored 0.1 mm over",
                dated=date(2026, 2, 11),
                figures=("clearance 0.60..1.50 mm",),
            ),
        ),
        seals=(SealLine(item="cylinder", name="cylinder", number="QL-4471"),),
        stages=sample_stages(),
        closing=(
            Check(key="outer-washer-worn", text="Look at the outer thrust washer on both faces.", accept="Flat."),
        ),
        after_run=(
            Check(key="retorque", text="Clutch nut paint mark still in line.", accept="no gap in the line"),
            Check(key="leaks", text="No leak at carburettor and cylinder."),
        ),
        work_minutes=95,
        wait_minutes=1440,
    )
    issue = Issue(
        on=date(2026, 5, 9),
        keeper="Zoë Ashdown",
        hours=parse_quantity("23.4 h"),
        log_head="9f2c41d07be3",
        last_done=Done(on=date(2025, 11, 30), hours=parse_quantity("18.2 h")),
        why_due="5.2 h since the last service; due every 5 h",
        last_readings={
            "clutch-clearance": (
                PastReading(date=date(2025, 11, 30), hours="18.2 h", values=("0.92 mm",)),
                PastReading(date=date(2025, 6, 1), hours="12.9 h", values=("0.81 mm",)),
            ),
            "shoe-lining": (PastReading(date=date(2025, 11, 30), hours="18.2 h", values=("2.7 mm", "2.8 mm")),),
        },
        last_settings={"low-needle": "1.4 turn"},
        wear={"clutch-clearance": "0.02 mm/h; 1.50 mm at about 52 h"},
        open_findings=("2026-04-12: clutch grabs when hot",),
    )
    return Job(instructions=told.model_copy(update=changes), issue=issue, print=3)
