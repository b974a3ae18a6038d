"""The way back: from figures that are wanted to the numbers that give them."""
