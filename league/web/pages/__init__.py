"""What pages are made of: from a result or a table to what its template prints."""
