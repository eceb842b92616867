"""Simulated scans of an invented treatment head: field, sensor, files, truth."""
