"""The job file: what a user writes, checked at the door."""
