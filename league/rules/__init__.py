"""The game: what was weighed goes in, places, points and reasons come out. No clock, no dice."""
