"""Rules of the bonding day and after: climate, time, cure, quantities, lifting."""
