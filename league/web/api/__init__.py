"""The published facts for other people's programs: read-only JSON, described by OpenAPI."""
