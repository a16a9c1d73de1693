"""What a person in a notebook types: an estimate as tables, a measure swept over values, a folder of jobs, files and pictures with one call each."""
