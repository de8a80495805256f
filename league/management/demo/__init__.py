"""The made-up club: a seeded generator of season sheets, and what fills a database with them."""
