"""One design for many wearers: their measures, the hoops that go round them, the drops that keep the hem."""
