"""The job file: its keys, their units and defaults, and the reading of it."""

from geometry.job.changes import with_changes
from geometry.job.model import Job
from geometry.job.outlines import OutlineForm, outline_of
from geometry.job.pane import Pane
from geometry.job.problem import JobError, Problem
from geometry.job.reading import job_of, read_job, read_stream

__all__ = ["Job", "JobError", "OutlineForm", "Pane", "Problem", "job_of", "outline_of", "read_job", "read_stream", "with_changes"]
