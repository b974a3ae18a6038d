"""What is asked of a design beyond how it hangs: the way back, what is off, ranges, other wearers."""
