"""The game: what was weighed goes in, places, points and reasons come out. Plain Python, no clock, no dice."""
