"""An exposure by flashes tells how many were given."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("book", "0007_light_that_changed"),
    ]

    operations = [
        migrations.AddField(
            model_name="exposure",
            name="flashes_given",
            field=models.FloatField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="historicalexposure",
            name="flashes_given",
            field=models.FloatField(blank=True, null=True),
        ),
    ]
