"""How long it takes, who does it, and when: hours, order, calendar."""
