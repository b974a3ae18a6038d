"""For every key of a design one figure worked out by hand, against the plain cage of `hand.cage`."""
