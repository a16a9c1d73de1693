"""How sure are we? Seeded trials of what a job may cost and when it may be done.

Risk reads cost and hours only, never the job. numpy is imported when the first trial is drawn, not before.
"""
