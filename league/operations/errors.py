"""What an operation refuses, in words: what is wrong and what to do next."""


class RefusedError(Exception):
    """The act was not done and nothing was changed; the message is fit to show."""
