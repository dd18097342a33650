"""What a corrected fact did to the drinks, and what pour would put each back."""
