"""`python -m league.management.demo`: make the season sheets of fixtures/demo again."""

from league.management.demo.settings import DEMO, read
from league.management.demo.sheets import write

for path in write(DEMO, read()):
    print(path)
