"""Who may sit on a beer release panel, for which compounds, until when, and why."""
