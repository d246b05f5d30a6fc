"""The valuation-day intake desk: from the owner's bag to the cataloguing queue."""
