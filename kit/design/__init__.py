"""What will be built, carried and disturbed: pure functions from the job and the lists."""
