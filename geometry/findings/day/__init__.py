"""The bonding day and after: time, climate, cure, lifting, approval, quantities."""
