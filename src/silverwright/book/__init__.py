"""What is kept: models, migrations, queries, evidence."""
