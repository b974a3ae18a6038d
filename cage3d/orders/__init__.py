"""One design for many wearers, from the table of their measures to folders, one order and one quote."""
