"""Does the sink go into this cabinet?"""

from kit.checks.finding import fit_finding
from kit.design import Design
from kit.job import Job
from kit.lists import Lists
from kit.records import Finding

__all__ = ["check_cabinet"]


def check_cabinet(job: Job, design: Design, _: Lists) -> list[Finding]:
    """Body between the sides, and the apron's lower edge between false front and doors."""
    cabinet, sink = job.cabinet, job.sink
    found = [
        fit_finding(
            "cabinet/body-between-sides",
            "Body of the sink between the cabinet's sides",
            cabinet.inside_width_in,
            sink.body_width_in,
            basis=f"inside width {cabinet.inside_width_in:g} in, body {sink.body_width_in:g} in",
            source="common-practice",
            remedy="Choose a narrower sink or a wider base.",
            parts=("sink", "cabinet"),
        )
    ]
    down_in = design.levels.apron_bottom_down_in
    if down_in is not None:
        top_in = cabinet.door_top_in
        found.append(
            fit_finding(
                "cabinet/apron-above-doors",
                "Lower edge of the apron above the doors",
                down_in if top_in is not None else None,
                (top_in if top_in is not None else 0.0) - cabinet.door_reveal_in,
                most=True,
                basis=f"apron ends {down_in:g} in below the box top, doors start {top_in} in below it, reveal {cabinet.door_reveal_in:g} in",
                source="common-practice",
                remedy="A lower apron, shorter doors, or another mount.",
                parts=("apron", "doors"),
            )
        )
    return found
