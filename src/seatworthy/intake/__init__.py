"""From a user's file to checked rows: forgiving about form, strict about meaning."""
