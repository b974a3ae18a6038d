"""First designs: from a few measures and a kind of cage to commented YAML."""
