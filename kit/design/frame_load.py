"""What the frame has to carry."""

from dataclasses import dataclass

from kit.job import FilledJob
from kit.sources import value

__all__ = ["Load", "design_load"]


@dataclass(frozen=True, slots=True)
class Load:
    """The load on the frame, part by part [lb]; `design_lb` is the larger of their sum and the least load."""

    sink_lb: float
    water_lb: float
    disposer_lb: float
    person_lb: float
    least_lb: float

    @property
    def sum_lb(self) -> float:
        """Weight of all parts [lb]."""
        return self.sink_lb + self.water_lb + self.disposer_lb + self.person_lb

    @property
    def hung_lb(self) -> float:
        """What always hangs on the sink when it is full: itself, water, disposer [lb]."""
        return self.sink_lb + self.water_lb + self.disposer_lb

    @property
    def design_lb(self) -> float:
        """Weight that the frame is designed to carry [lb]."""
        return max(self.sum_lb, self.least_lb)

    @property
    def working(self) -> str:
        """The parts and the least load, in words."""
        disposer = f" + disposer {self.disposer_lb:g}" if self.disposer_lb else ""
        person = f"a person leaning on the front edge {self.person_lb:g} lb"
        return f"sink {self.sink_lb:g} + water {self.water_lb:.0f}{disposer} + {person}; least {self.least_lb:g} lb"


def design_load(job: FilledJob, least_lb: float) -> Load:
    """Empty weight, full water, disposer and a person who leans at the apron.

    Notes
    -----
    Water: 231 cu in a US gallon by definition, 8.33 lb a gallon at 62 F (sources: water). The person's share at the
    front edge is common practice, no source.
    """
    disposer_lb = job.plumbing.disposer_weight_lb if job.plumbing.disposer != "none" else 0.0
    return Load(job.sink.weight_lb, job.sink.water_gal * value("densities", "water/gallon"), disposer_lb, value("checks", "load/person"), least_lb)
