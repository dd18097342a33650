"""View data without Qt: what a panel, a paper or a text shows, computed from readings and targets."""
