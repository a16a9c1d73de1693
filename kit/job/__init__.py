"""What was measured and chosen: validated, frozen records and the job file."""

from kit.job.file import change_job, job_document, parse_job, read_job, write_job
from kit.job.job import FilledJob, Job, fill_assumptions
from kit.job.prices import price_folder
from kit.job.schema import job_schema

__all__ = ["FilledJob", "Job", "change_job", "fill_assumptions", "job_document", "job_schema", "parse_job", "price_folder", "read_job", "write_job"]
