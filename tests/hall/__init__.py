"""The hall: its certificate, its name, the page that brings the certificate to a phone."""
