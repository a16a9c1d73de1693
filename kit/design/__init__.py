"""What will be built, carried and disturbed: pure functions from the job and the lists."""

from kit.design.design import Design, counter_kind, design_job

__all__ = ["Design", "counter_kind", "design_job"]
