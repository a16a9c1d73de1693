"""Every figure of the kit's tables: who says so, where it acts, and what it moves in a job."""
