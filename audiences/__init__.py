"""Who is owed a notice; knows nothing of notices."""
