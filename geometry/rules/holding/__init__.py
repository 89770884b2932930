"""Rules of holding and moving: weight, chocks, bond, bending, heat, joint."""
