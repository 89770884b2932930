"""The bonding day and after: time, climate, cure, lifting, approval, quantities."""

__all__ = ["approval_checks", "climate_checks", "cure_checks", "lifting_checks", "work_checks"]
