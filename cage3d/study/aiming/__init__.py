"""From the shape that is wanted to the lengths and drops that give it."""
