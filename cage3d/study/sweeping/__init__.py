"""One figure of a design or two over a range, every variant settled."""
