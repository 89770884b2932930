"""What comes back from the bonding of a pane: the fields of its record, how a record is read, and what its readings come to."""

__all__ = ["record_fields"]
