"""A lens is no camera: what was called a view camera is an ordinary lens."""

from django.db import migrations, models


def rename(apps, schema_editor):
    for model in ("Lens", "HistoricalLens"):
        apps.get_model("book", model).objects.filter(camera_kind="view camera").update(camera_kind="ordinary lens")
    for model in ("Exposure", "HistoricalExposure"):
        for exposure in apps.get_model("book", model).objects.filter(scene__camera_kind="view camera"):
            exposure.scene = {**exposure.scene, "camera_kind": "ordinary lens"}
            exposure.save()


class Migration(migrations.Migration):
    dependencies = [
        ("book", "0010_measured_apertures"),
    ]

    operations = [
        migrations.AlterField(
            model_name="historicallens",
            name="camera_kind",
            field=models.CharField(default="ordinary lens", max_length=40),
        ),
        migrations.AlterField(
            model_name="lens",
            name="camera_kind",
            field=models.CharField(default="ordinary lens", max_length=40),
        ),
        migrations.RunPython(rename, migrations.RunPython.noop),
    ]
