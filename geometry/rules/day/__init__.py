"""Rules of the bonding day and after: climate, time, cure, quantities, lifting."""

__all__ = ["climate", "cure", "lifting", "quantities", "time_plan"]
