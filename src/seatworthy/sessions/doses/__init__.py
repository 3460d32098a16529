"""From a wanted level to what is pipetted: stocks, pipettes, vessels, shots, and how sure the level is."""
