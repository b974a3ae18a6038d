"""From a hung cage as it was measured back to what was cut or sewn otherwise than written, and what to mend."""
