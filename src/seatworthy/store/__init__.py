"""The DuckDB file: its tables, its history, what is written and read. Alone imports duckdb."""
