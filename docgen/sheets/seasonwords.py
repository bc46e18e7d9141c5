"""The words of the season's wall chart."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.sheets.pagewords import PageWords


@dataclass(frozen=True)
class SeasonWords(PageWords):
    """What the chart says round the plan."""

    season_chart: str = "Season"
    season_title: str = "Which visit before which round"
    season_engine: str = "Engine"
    season_week: str = "Week"
    season_bench: str = "On the bench"
    season_note: str = (
        "Minutes are estimates, of the jobs one by one. What comes up meanwhile comes first: look at the due board."
    )
    season_late: str = "No plan keeps every limit. The first that breaks: {job}, engine {engine}, before {round}."
    season_extra: str = "Too few hours on the bench: {hours} h more are needed before {round}."
