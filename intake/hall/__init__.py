"""Hall mode: an office on a laptop that phones find by its name and trust by a certificate of its own."""
