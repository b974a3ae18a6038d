"""The page on which a design is fitted while she looks: a server of this machine, for this machine alone."""
