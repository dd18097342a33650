"""Through the build: level, strength, sweetness and acidity from step to step."""
