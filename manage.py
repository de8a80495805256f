#!/usr/bin/env python
"""Runs the project's commands: demo, score, load, draw and Django's own."""

import os
import sys

from django.core.management import execute_from_command_line

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "league.settings")
    execute_from_command_line(sys.argv)
