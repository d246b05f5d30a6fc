"""What the project promises about itself: import order, outside values, documented errors."""
