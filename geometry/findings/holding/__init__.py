"""Will it hold and move: joint, chocks, bond and plate."""

__all__ = [
    "acceleration_checks",
    "bond_checks",
    "chock_checks",
    "chock_places",
    "glass_load_checks",
    "joint_checks",
    "patch_checks",
    "plate_checks",
    "racking_checks",
]
