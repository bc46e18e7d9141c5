"""The state machine on a small engine: a cover over nut, washer and drum; a carburettor that opens on the bench."""

from __future__ import annotations

from docgen.club.bench.graph import Graph
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Step
from docgen.club.yamldoc import Document
from docgen.job.expand import PlacedStep
from docgen.job.simulate import Run, simulate

MODEL = Model.model_validate(
    {
        "model": "small",
        "title": "Small",
        "manual": "Small sheet",
        "equipment": ["dry-clutch"],
        "parts": {
            "cover": {"held_by": ["cover-screws"]},
            "washer": {"held_by": ["nut"]},
            "drum": {"held_by": ["nut"], "behind": ["washer"]},
            "bearing": {"behind": ["drum"]},
            "carburettor": {"held_by": ["clamp"]},
            "gasket": {"single_use": "true", "behind": ["carburettor"]},
            "lid": {"part_of": "carburettor", "bench": "true", "held_by": ["lid-screws"]},
            "strainer": {"part_of": "carburettor", "bench": "true", "behind": ["lid"]},
        },
        "fasteners": {
            "cover-screws": {"count": "2", "start_all_first": "true"},
            "nut": {"behind": ["cover"]},
            "clamp": {"releases": "loose"},
            "lid-screws": {"count": "2", "part_of": "carburettor", "bench": "true"},
        },
    }
)
GRAPH = Graph(MODEL)
NOWHERE = Document("", "", None, {}, {})


def run(*steps: dict[str, object], graph: Graph = GRAPH) -> Run:
    placed = [
        PlacedStep("Work", Step.model_validate({"do": "Work.", **step}), NOWHERE, ("steps", i))
        for i, step in enumerate(steps)
    ]
    return simulate(placed, graph, MODEL.limits)


def faults(*steps: dict[str, object]) -> list[tuple[str, int, tuple[str, ...], tuple[str, ...]]]:
    return [(f.kind, f.step, GRAPH.named(f.members), GRAPH.named(f.others)) for f in run(*steps).faults]


OPEN = [{"undoes": "cover-screws"}, {"removes": "cover"}, {"undoes": "nut"}, {"removes": ["washer", "drum", "bearing"]}]
CLOSE = [
    {"fits": ["bearing", "drum", "washer"]},
    {"tightens": "nut"},
    {"fits": "cover"},
    {"starts": "cover-screws"},
    {"tightens": "cover-screws"},
]
CARB_OFF = [{"undoes": "clamp"}, {"removes": "carburettor"}, {"removes": "gasket"}]
CARB_OPEN = [{"undoes": "lid-screws"}, {"removes": ["lid", "strainer"]}]
CARB_SHUT = [{"fits": ["strainer", "lid"]}, {"tightens": "lid-screws"}]
CARB_ON = [{"renews": "gasket"}, {"fits": "carburettor"}, {"tightens": "clamp"}]


def test_the_graph_knows_members_covers_holders_and_riders() -> None:
    assert list(GRAPH.nodes) == [
        "cover", "washer", "drum", "bearing", "carburettor", "gasket", "lid", "strainer",
        "cover-screws/1", "cover-screws/2", "nut", "clamp", "lid-screws/1", "lid-screws/2",
    ]  # fmt: skip
    assert GRAPH.members("cover-screws") == ("cover-screws/1", "cover-screws/2")
    assert GRAPH.members("cover-screws/2") == ("cover-screws/2",)
    assert GRAPH.members("cover-screws/3") == GRAPH.members("nothing") == ()
    assert GRAPH.covers["bearing"] == ("washer", "drum")
    assert GRAPH.covered["washer"] == ("drum", "bearing")
    assert GRAPH.held_by["cover"] == ("cover-screws/1", "cover-screws/2")
    assert GRAPH.holds["nut"] == ("washer", "drum")
    assert GRAPH.carriers["lid-screws/1"] == ("carburettor",)
    assert GRAPH.carried["carburettor"] == ("lid", "strainer", "lid-screws/1", "lid-screws/2")
    assert GRAPH.named(["cover-screws/1", "cover-screws/2", "lid-screws/1"]) == ("cover-screws", "lid-screws/1")


def test_a_part_left_out_is_in_nobodys_way() -> None:
    graph = Graph(MODEL, ["washer"])
    assert graph.members("washer") == ()
    assert graph.covers["bearing"] == ("drum",)
    assert run(*OPEN, *CLOSE, graph=graph).faults == ()


def test_work_in_order_is_clean() -> None:
    assert faults(*OPEN, *CLOSE) == []
    assert faults(*CARB_OFF, *CARB_OPEN, *CARB_SHUT, *CARB_ON) == []
    assert faults(*OPEN, *CARB_OFF, *CLOSE, *CARB_OPEN, *CARB_SHUT, *CARB_ON) == []


def test_each_dropped_step_is_one_fault() -> None:
    whole = [*OPEN, *CLOSE]
    found = {i: faults(*whole[:i], *whole[i + 1 :]) for i in range(len(whole))}
    assert found == {
        0: [("held", 0, ("cover",), ("cover-screws",))],
        1: [("covered", 1, ("nut",), ("cover",))],
        2: [("held", 2, ("washer",), ("nut",))],
        3: [("already-on", 3, ("bearing", "drum", "washer"), ())],
        4: [("nothing-to-hold", 4, ("nut",), ("washer", "drum", "bearing"))],
        5: [("closed-too-soon", 5, ("cover",), ("nut",))],
        6: [("nothing-to-hold", 6, ("cover-screws/1",), ("cover",))],
        7: [("not-all-started", 7, ("cover-screws",), ())],
        8: [("left-undone", 7, ("cover-screws",), ())],
    }


def test_lists_are_in_physical_order() -> None:
    assert faults(*OPEN[:3], {"removes": ["drum", "washer", "bearing"]}, *CLOSE) == [
        ("covered", 3, ("drum",), ("washer",)),
    ]
    assert faults(*OPEN, {"fits": ["washer", "drum", "bearing"]}, *CLOSE[1:]) == [
        ("closed-too-soon", 4, ("washer",), ("drum", "bearing")),
    ]


def test_an_order_that_is_turned_round_is_one_fault() -> None:
    assert faults(*OPEN, CLOSE[0], CLOSE[2], CLOSE[1], *CLOSE[3:]) == [("closed-too-soon", 5, ("cover",), ("nut",))]
    assert faults(OPEN[1], OPEN[0], *OPEN[2:], *CLOSE) == [("held", 0, ("cover",), ("cover-screws",))]


def test_what_is_left_is_found_where_it_came_off() -> None:
    assert faults(*OPEN[:2]) == [("left-off", 1, ("cover",), ()), ("left-undone", 0, ("cover-screws",), ())]


def test_doing_it_twice() -> None:
    assert faults(*OPEN, OPEN[2], *CLOSE) == [("already-off", 4, ("nut",), ())]
    assert faults(*OPEN, *CLOSE[:2], CLOSE[1], *CLOSE[2:]) == [("already-tight", 6, ("nut",), ())]
    assert faults(*OPEN, *CLOSE[:2], {"tightens": "nut", "again": "true"}, *CLOSE[2:]) == []
    again = {"tightens": "nut", "again": "true"}
    assert faults(*OPEN, CLOSE[0], again, *CLOSE[2:]) == [("not-yet-tight", 5, ("nut",), ())]


def test_a_clamp_that_only_loosens_releases_what_it_holds() -> None:
    assert run({"undoes": "clamp"}).before[1]["clamp"] == "loose"
    assert run({"undoes": "clamp"}, {"undoes": "clamp"}).before[2]["clamp"] == "off"


def test_what_is_inside_is_reached_on_the_bench_only() -> None:
    assert faults(*CARB_OPEN, *CARB_SHUT) == [("bench-only", 0, ("lid-screws/1",), ("carburettor",))]
    assert faults(*CARB_OFF, *CARB_OPEN, *CARB_ON) == [
        ("incomplete", 6, ("carburettor",), ("lid", "strainer", "lid-screws")),
    ]


def test_single_use_parts_are_renewed() -> None:
    assert faults(*CARB_OFF, {"fits": "gasket"}, *CARB_ON[1:]) == [("used-again", 3, ("gasket",), ())]
    twice = [*CARB_OFF, *CARB_ON, *CARB_OFF, {"fits": "gasket"}, *CARB_ON[1:]]
    assert faults(*twice) == [("used-again", 9, ("gasket",), ())]
    assert faults({"renews": "gasket"}) == [("already-on", 0, ("gasket",), ())]


def test_a_failing_check_renews_what_can_be_got_at() -> None:
    look = {"look": {"id": "see", "accept": "Whole", "fail": {"renews": "bearing"}}}
    assert faults(*OPEN, look, *CLOSE) == []
    assert faults(look, *OPEN, *CLOSE) == []
    assert faults(*OPEN, *CLOSE, look) == [("renewal-out-of-reach", 9, ("bearing",), ("washer", "drum"))]


def test_the_engine_does_not_run_in_pieces() -> None:
    assert faults(*OPEN, *CLOSE, {"runs": "true"}) == []
    assert faults(*OPEN, *CLOSE[:4], {"runs": "true"}, CLOSE[4]) == [("run-unfinished", 8, (), ("cover-screws",))]
    assert faults(*OPEN, CLOSE[0], {"loads": "nut"}, *CLOSE[1:]) == [("run-unfinished", 5, (), ("nut",))]


def test_a_new_one_is_taken_once() -> None:
    new = {"renews": "nut"}
    assert faults(*OPEN[:3], new, *CLOSE[1:]) == []
    assert faults(*OPEN[:3], new, new, *CLOSE[1:]) == [("already-new", 4, ("nut",), ())]
    loosened = [{"undoes": "clamp"}, {"renews": "clamp"}, {"tightens": "clamp"}]
    assert faults(*loosened) == [("already-on", 1, ("clamp",), ())]


def test_a_count_beyond_what_can_be_named_makes_no_endless_graph() -> None:
    many = MODEL.model_copy(update={"fasteners": {"nuts": MODEL.fasteners["nut"].model_copy(update={"count": 999999})}})
    assert len(Graph(many.model_copy(update={"parts": {}})).nodes) == 99


def test_what_an_engine_was_left_without_still_stands_between() -> None:
    graph = GRAPH.without(["drum"])
    assert graph.covers["bearing"] == ("washer",)
    assert Graph(MODEL, ["drum"]).covers == graph.covers
    assert graph.holds["nut"] == ("washer",)
    assert GRAPH.covers["bearing"] == ("washer", "drum")


# --- what is put into openings ----------------------------------------------------------------------------------------


def packed(*steps: dict[str, object]) -> list[tuple[str, int, tuple[str, ...], tuple[str, ...]]]:
    return [fault for fault in faults(*steps) if fault[0].startswith("packed")]


CLOTH, OUT = {"packs": {"washer": "cloth"}}, {"clears": "washer"}
WASHER_OFF = [*OPEN[:3], {"removes": "washer"}]


def test_what_is_packed_is_cleared_before_anything_that_it_leads_to_is_turned() -> None:
    turned = {"turns": "bearing"}
    assert packed(*WASHER_OFF, CLOTH, turned, OUT, *CLOSE) == [("packed-turned", 5, ("bearing",), ("washer",))]
    assert packed(*WASHER_OFF, CLOTH, OUT, turned, *CLOSE) == []
    # Told once; and what does not lie behind the opening does not meet it.
    assert packed(*WASHER_OFF, CLOTH, turned, turned, *CLOSE) == [("packed-turned", 5, ("bearing",), ("washer",))]
    assert packed(*WASHER_OFF, CLOTH, {"turns": "carburettor"}, OUT, *CLOSE) == []


def test_a_cloth_goes_to_the_bench_with_the_part_that_it_is_in() -> None:
    """The drum is next behind the washer: once it is off, nothing is in the way of the bearing."""
    drum_off = {"removes": "drum"}
    assert packed(*WASHER_OFF, CLOTH, drum_off, {"turns": "bearing"}, {"fits": "drum"}, OUT, *CLOSE[1:]) == []


def test_in_one_step_turning_comes_before_clearing() -> None:
    both = {"turns": "bearing", "clears": "washer"}
    assert packed(*WASHER_OFF, CLOTH, both, *CLOSE) == [("packed-turned", 5, ("bearing",), ("washer",))]


def test_an_opening_is_not_closed_over_what_lies_in_it() -> None:
    assert packed(*WASHER_OFF, CLOTH, {"fits": "washer"}, *CLOSE[1:]) == [
        ("packed-closed", 5, ("washer",), ("washer",))
    ]
    hole = {"packs": {"nut": "cloth"}}
    assert packed(*OPEN[:3], hole, *CLOSE[1:]) == [("packed-closed", 4, ("nut",), ("nut",))]
    assert packed(*OPEN[:3], hole, {"clears": "nut"}, *CLOSE[1:]) == []


def test_nothing_is_left_inside_and_nothing_runs_with_it() -> None:
    cap = {"packs": {"cover": "cap"}}
    assert packed(cap) == [("packed-left", 0, ("cover",), ("cover",))]
    assert packed(cap, {"runs": True}) == [("packed-turned", 1, (), ("cover",))]
    assert packed(cap, {"clears": "cover"}, {"runs": True}) == []
    assert packed({"clears": "cover"}) == [("packed-nothing", 0, ("cover",), ())]
    assert packed(cap, {"clears": "cover"}, {"clears": "cover"}) == []
    assert packed({"packs": {"drum": "cap"}}, {"clears": "drum"}) == [("packed-shut", 0, ("drum",), ("washer",))]
