"""Records to pictures and paper: charts, field note."""
