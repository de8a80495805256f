"""A club's records in plain, documented files: in and out. Knows the rules, and nothing above."""
