"""The kinds of record that a job is made of."""

from collections.abc import Iterator

from kit.job.fields import Record


def parts(record: type[Record], seen: set[type[Record]]) -> Iterator[type[Record]]:
    """Every kind of record that a job can hold."""
    if record not in seen:
        seen.add(record)
        yield record
        for field in record.model_fields.values():
            for inner in (field.annotation, *getattr(field.annotation, "__args__", ())):
                if isinstance(inner, type) and issubclass(inner, Record):
                    yield from parts(inner, seen)
