"""Numbers in, finished Altair charts out; a chart asks nothing and judges nothing."""
