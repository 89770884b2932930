"""Will it hold and move: joint, chocks, bond and plate."""
