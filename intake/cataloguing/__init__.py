"""The desk's side: the queue, its search, and settling what two people said."""
