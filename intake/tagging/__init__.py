"""Tags: numbered codes with a QR, each tied to one item or piece and never used twice."""
