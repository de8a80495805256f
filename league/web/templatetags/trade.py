"""The few filters that templates need."""

from django import template

register = template.Library()
