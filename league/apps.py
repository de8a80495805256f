"""The app: the club's leagues, and the project itself."""

from django.apps import AppConfig


class LeagueConfig(AppConfig):
    """Registers the start-up checks."""

    name = "league"
    verbose_name = "League"

    def ready(self) -> None:
        """Load the checks, which register themselves."""
        from league import checks  # noqa: F401  checks may only be registered once apps are ready
