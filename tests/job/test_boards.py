"""Boards of a cabinet: one table for their names."""

from typing import get_args

from kit.job.boards import BOARDS, CabinetBoard
from kit.sources import table


def test_each_board_that_a_job_may_name_has_its_name_and_weight():
    """Particleboard and fiberboard are the two that the wood standard leaves out."""
    assert set(BOARDS) == set(get_args(CabinetBoard)) <= set(table("densities"))
    assert [name for name, board in BOARDS.items() if not board.in_wood_standard] == ["particleboard", "mdf"]
