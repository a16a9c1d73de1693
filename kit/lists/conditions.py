"""The conditions of a job by which the lists choose: which factors, order rules, site risks and sentences count for it.

The names stand here, because the lists may use no other; what each means for a job is worked out in `kit/labor/conditions.py`.
"""

__all__ = ["CONDITIONS"]

CONDITIONS: tuple[str, ...] = (
    "always",
    "occupied",
    "upper-floor",
    "stairs",
    "tight-access",
    "main-valve-open",
    "old-stops",
    "wet-floor",
    "dry-floor",
    "sound-sides",
    "swollen-sides",
    "old-counter-off",
    "counter-stays",
    "dusty-counter",
    "glued-counter",
    "screwed-counter",
    "glued-splash",
    "drain-not-photographed",
    "stub-not-measured",
    "vent-not-seen",
    "new-sink",
    "customer-goods",
    "trimmed-doors",
    "new-doors",
    "own-counter",
    "fabricated-counter",
    "laid-counter",
    "sink-first",
    "template-first",
    "counter-first",
    "clipped-rim",
    "plain-swap",
    "wood-top",
    "lead-safe",
    "suspect-floor",
    "suspect-glue",
    "suspect-glue-yours",
    "permit",
    "plumber",
    "electrician",
)
