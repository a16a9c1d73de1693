"""Time of the calculations that the checks of one job need; run by hand: `python tests/bench/wood_and_drain.py`."""

import statistics
import time

from kit.checks.beams import span_midpoint
from kit.checks.lifting import Hands, screen_lift
from kit.checks.wood_columns import column_capacity
from kit.checks.wood_members import Service, load_duration, member_elasticity, member_use, support_limit
from kit.checks.wood_screws import find_screw, lateral_value, material_gravity, screw_reach
from kit.checks.wood_values import dressed_section, lowest_values
from kit.design.cut_lengths import cut_between_centers, find_takeout
from kit.design.drain_levels import DrainMeasures, code_settings, drain_levels, drain_remedies
from kit.design.wood_movement import equilibrium_moisture, top_movement, wall_gap

RUNS = 3000


def work_once(step: int) -> None:
    """Three members, four posts, two screw joints, a lift, a wood top, a drain; each run with its own loads, as in a drag."""
    load = 300.0 + step / RUNS
    service = Service(load_duration("ten-year"))
    for nominal, span in (("2x4", 30.0), ("2x4", 20.0), ("2x6", 30.0)):
        section = dressed_section(nominal)
        values = lowest_values(section)
        effects = span_midpoint(load, span, member_elasticity(values, service) * section.inertia_in4)
        member_use(values, section, effects, service, bearing_length_in=1.5, deflection_limit_in=support_limit(span))
    post = dressed_section("2x4")
    for length in (18.0, 18.5, 19.0, 19.5):
        column_capacity(lowest_values(post), post, length + step / RUNS, service)
    for size, main in (("8", "plywood"), ("10", "particleboard")):
        reach = screw_reach(2.5, 0.75, 1.5 + step / RUNS)
        lateral_value(find_screw(size), side_gravity=0.42, side_in=0.75, main_gravity=material_gravity(main), penetration_in=reach.penetration_in)
    assert screen_lift(load, Hands(16, 10), Hands(16, 36)).governing.weight_lb > 0
    top_movement(25.5, "hard-maple", equilibrium_moisture(25.0 + step / RUNS), equilibrium_moisture(60.0))
    wall_gap(25.5, "hard-maple", 8.0, 11.0)
    measures = DrainMeasures("under", 36, 1.5, 9.0 + step / RUNS, 0.5, 9.5, 1.61, 1.5, 18, 24, 18, 5, 4, 0.06, 0.25)
    drain_remedies(measures, drain_levels(measures, code_settings("irc")), spare_tail_in=2.0)
    ell = find_takeout({"pressure/90-ell/1.5": 1.0}, "pressure", "90-ell", "1.5")  # as measured on an invented part
    cut_between_centers(20.0, ell, ell)


def main() -> None:
    """Print median and 95th percentile of one job's calculations, after warm-up."""
    times = []
    for step in range(RUNS):
        start = time.perf_counter()
        work_once(step)
        times.append(1e3 * (time.perf_counter() - start))
    warm = sorted(times[100:])
    print(f"wood, lifting and drain of one job: median {statistics.median(warm):.3f} ms, 95th percentile {warm[int(0.95 * len(warm))]:.3f} ms")


if __name__ == "__main__":
    main()
