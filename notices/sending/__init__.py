"""Ways out for messages: the lead's mail server, or a folder; world faults end here."""
