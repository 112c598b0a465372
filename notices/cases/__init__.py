"""What happened to each unit, what is known of it, and what is due next."""
