"""Will it hold and move: joint, chocks, bond and plate."""

__all__ = ["bond_checks", "chock_checks", "chock_places", "joint_checks", "plate_checks"]
