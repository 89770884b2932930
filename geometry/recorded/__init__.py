"""What comes back from the bonding of a pane: the fields of its record, how a record is read, and what its readings come to."""

__all__ = [
    "bonding_record",
    "interval_findings",
    "outcomes",
    "record_fields",
    "record_findings",
    "record_reading",
    "record_values",
]
