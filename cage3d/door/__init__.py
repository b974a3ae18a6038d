"""The tool for people who write Python: a cage as written, a cage as it hangs."""
