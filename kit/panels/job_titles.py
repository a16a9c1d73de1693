"""Job files by the name a person has for them: customer and job number."""

import tomllib

from kit.errors import KitError
from kit.panels.job_files import FROM_EXAMPLES, JobFiles

__all__ = ["title_jobs"]


def title_jobs(files: JobFiles) -> list[tuple[str, str]]:
    """Each job that can be opened by customer and job number, with the name of its file; the file is named where that leaves a doubt, or it can't be read.

    The files are read for that alone: nothing of them counts as opened.
    """
    kept = {work.name: f"{work.job.identity.customer}, {work.job.identity.job_number}" for work in files.keeper.unsaved_work()}
    names = files.names()
    titles = [kept.get(name) or _title(files, name) for name in names]
    return [(title if titles.count(title) == 1 else f"{title} ({name})", name) for title, name in zip(titles, names, strict=True)]


def _title(files: JobFiles, name: str) -> str:
    try:
        identity = tomllib.loads(files.locate(name).read_text(encoding="utf-8"))["identity"]
        title = f"{identity['customer']}, {identity['job_number']}"
    except (KitError, OSError, ValueError, LookupError, TypeError):
        return name
    return f"{title} (example)" if name.startswith(FROM_EXAMPLES) else title
