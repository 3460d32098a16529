"""One latent threshold per panellist and compound: what the answers so far say about it."""
