"""
The journal is only added to: the database itself refuses to take a line out or move it.

The words of a line are left out of the trigger: a person who has asked to be erased is erased
there as well. Who, when, about which match and in which club never change.
"""

from django.db import migrations

WORDS = "The journal is added to and never changed."

SQLITE = (
    f"""
    CREATE TRIGGER act_is_never_moved
    BEFORE UPDATE OF id, club_id, match_id, by_id, at ON league_act
    BEGIN SELECT RAISE(ABORT, '{WORDS}'); END
    """,
    f"""
    CREATE TRIGGER act_is_never_taken_out
    BEFORE DELETE ON league_act
    BEGIN SELECT RAISE(ABORT, '{WORDS}'); END
    """,
)
POSTGRESQL = (
    f"""
    CREATE FUNCTION act_refuses() RETURNS trigger LANGUAGE plpgsql AS
    $$ BEGIN RAISE EXCEPTION '{WORDS}' USING ERRCODE = 'integrity_constraint_violation'; END $$
    """,
    """
    CREATE TRIGGER act_is_never_moved
    BEFORE UPDATE OF id, club_id, match_id, by_id, at ON league_act
    FOR EACH ROW EXECUTE FUNCTION act_refuses()
    """,
    """
    CREATE TRIGGER act_is_never_taken_out
    BEFORE DELETE ON league_act
    FOR EACH ROW EXECUTE FUNCTION act_refuses()
    """,
)
UNDO_SQLITE = ("DROP TRIGGER act_is_never_moved", "DROP TRIGGER act_is_never_taken_out")
UNDO_POSTGRESQL = ("DROP FUNCTION act_refuses() CASCADE",)


def forwards(apps, schema_editor):
    for statement in {"sqlite": SQLITE, "postgresql": POSTGRESQL}[schema_editor.connection.vendor]:
        schema_editor.execute(statement)


def backwards(apps, schema_editor):
    undo = {"sqlite": UNDO_SQLITE, "postgresql": UNDO_POSTGRESQL}
    for statement in undo[schema_editor.connection.vendor]:
        schema_editor.execute(statement)


class Migration(migrations.Migration):

    dependencies = [("league", "0006_invitations_and_knocks")]

    operations = [migrations.RunPython(forwards, backwards)]
