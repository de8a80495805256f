"""
A club says how long backups are kept; a match planned by mistake can go, its lines stay.

The journal's trigger let no line change what it is about. It still refuses another match; it lets
go of one that is taken out.
"""

import django.db.models.deletion
from django.db import migrations, models

WORDS = "The journal is added to and never changed."
TAKE_OFF = {
    "sqlite": "DROP TRIGGER act_is_never_moved",
    "postgresql": "DROP TRIGGER act_is_never_moved ON league_act",
}
SQLITE = (
    f"""
    CREATE TRIGGER act_is_never_moved
    BEFORE UPDATE OF id, club_id, by_id, at ON league_act
    BEGIN SELECT RAISE(ABORT, '{WORDS}'); END
    """,
    f"""
    CREATE TRIGGER act_is_about_no_other
    BEFORE UPDATE OF match_id ON league_act WHEN NEW.match_id IS NOT NULL
    BEGIN SELECT RAISE(ABORT, '{WORDS}'); END
    """,
)
POSTGRESQL = (
    """
    CREATE TRIGGER act_is_never_moved
    BEFORE UPDATE OF id, club_id, by_id, at ON league_act
    FOR EACH ROW EXECUTE FUNCTION act_refuses()
    """,
    """
    CREATE TRIGGER act_is_about_no_other
    BEFORE UPDATE OF match_id ON league_act
    FOR EACH ROW WHEN (NEW.match_id IS NOT NULL) EXECUTE FUNCTION act_refuses()
    """,
)
BEFORE = {
    "sqlite": f"""
    CREATE TRIGGER act_is_never_moved
    BEFORE UPDATE OF id, club_id, match_id, by_id, at ON league_act
    BEGIN SELECT RAISE(ABORT, '{WORDS}'); END
    """,
    "postgresql": """
    CREATE TRIGGER act_is_never_moved
    BEFORE UPDATE OF id, club_id, match_id, by_id, at ON league_act
    FOR EACH ROW EXECUTE FUNCTION act_refuses()
    """,
}


def forwards(apps, schema_editor):
    vendor = schema_editor.connection.vendor
    schema_editor.execute(TAKE_OFF[vendor])
    for statement in {"sqlite": SQLITE, "postgresql": POSTGRESQL}[vendor]:
        schema_editor.execute(statement)


def backwards(apps, schema_editor):
    vendor = schema_editor.connection.vendor
    schema_editor.execute(TAKE_OFF[vendor])
    schema_editor.execute(TAKE_OFF[vendor].replace("never_moved", "about_no_other"))
    schema_editor.execute(BEFORE[vendor])


class Migration(migrations.Migration):
    dependencies = [("league", "0013_let_programs_read_for_a_member")]

    operations = [
        migrations.AddField(
            model_name="club",
            name="keep_backups",
            field=models.PositiveSmallIntegerField(
                blank=True,
                null=True,
                help_text="Days a daily backup is kept; left empty: as long as the installation "
                "keeps it.",
            ),
        ),
        migrations.AlterField(
            model_name="act",
            name="match",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="acts",
                to="league.match",
            ),
        ),
        migrations.RunPython(forwards, backwards),
    ]
